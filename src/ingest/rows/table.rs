//! The numbers of a log in columns, with everything that could not be used and where it stood.

use crate::ingest::Question;
use crate::ingest::notices::Notices;
use crate::ingest::tokens::stamp::{Dated, Stamp};

/// A row without a usable force or instant.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct LostRow {
    /// Samples before it.
    pub(in crate::ingest) samples_before: usize,
    pub(in crate::ingest) line: u64,
    pub(in crate::ingest) text: String,
    /// Why.
    pub(in crate::ingest) why: Why,
}

/// Why a row was lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Why {
    /// Its force was empty, not finite or not a number.
    Force,
    /// Its force is there, its instant is not.
    Instant,
}

/// The numbers of a log, in the order of its rows.
#[derive(Debug, Default)]
pub(in crate::ingest) struct Table {
    /// Instants as the clock column gives them, in its unit; stamps in seconds from the first one.
    pub(in crate::ingest) times: Vec<f64>,
    /// Forces in newtons where the unit is known.
    pub(in crate::ingest) forces: Vec<f64>,
    /// The other channels; NaN where nothing was logged.
    pub(in crate::ingest) extras: Vec<Vec<f64>>,
    /// The digits after the seconds in the unit of their own column, where the clock is parted in two.
    pub(in crate::ingest) fractions: Vec<f64>,
    pub(in crate::ingest) lost: Vec<LostRow>,
    /// Samples before each head, or line that names a run, between rows.
    pub(in crate::ingest) heads_again: Vec<usize>,
    /// Samples before each line that names a run by another number than the one before.
    pub(in crate::ingest) named_runs: Vec<usize>,
    /// Samples before each blank line between rows.
    blank_lines: Vec<usize>,
    /// Samples before each change of the number of the run.
    pub(in crate::ingest) run_changes: Vec<usize>,
    /// Rows with more numbers than columns.
    pub(in crate::ingest) wide_rows: usize,
    /// Rows parted by blanks with fewer cells than columns: which cell is missing cannot be seen.
    pub(in crate::ingest) short_rows: usize,
    /// Other heads that stand between rows: nothing after them is read.
    pub(in crate::ingest) other_heads: Option<(u64, String)>,
    pub(in crate::ingest) notices: Notices,
    pub(in crate::ingest) questions: Vec<Question>,
    /// Whether the stamps have dates.
    pub(in crate::ingest) dated: Option<Dated>,
    pub(in crate::ingest) pending_extras: Vec<f64>,
    /// Rows of any kind so far, where the order of the rows is the clock.
    rows: u64,
    first_stamp: Option<Stamp>,
    /// Samples at which the line is not the one after that of the sample before, with the line.
    jumps: Vec<(usize, u64)>,
    /// Number of samples, where they stand in the other order than their lines.
    turned: Option<usize>,
    next_line: u64,
}

impl Table {
    /// No rows yet, with room for as many as are expected and with what was noticed before them.
    pub(in crate::ingest) fn with_room(rows: usize, extras: usize, notices: Notices) -> Self {
        Self {
            times: Vec::with_capacity(rows),
            forces: Vec::with_capacity(rows),
            extras: vec![Vec::new(); extras],
            pending_extras: vec![f64::NAN; extras],
            notices,
            ..Self::default()
        }
    }

    /// No rows yet, with what was noticed before them.
    pub(in crate::ingest) fn with_notices(notices: Notices) -> Self {
        Self {
            notices,
            ..Self::default()
        }
    }

    /// Adds a sample.
    #[inline(always)]
    pub(in crate::ingest) fn push(&mut self, time: f64, force: f64, line: u64) {
        if line != self.next_line {
            self.jumps.push((self.times.len(), line));
        }
        self.next_line = line + 1;
        self.times.push(time);
        self.forces.push(force);
        if !self.extras.is_empty() {
            self.push_extras();
        }
    }

    /// Adds samples of instant and force alone that stand on lines one after the other.
    pub(in crate::ingest) fn push_rows(&mut self, times: &[f64], forces: &[f64], line: u64) {
        if times.is_empty() {
            return;
        }
        if line != self.next_line {
            self.jumps.push((self.times.len(), line));
        }
        self.next_line = line + times.len() as u64;
        self.times.extend_from_slice(times);
        self.forces.extend_from_slice(forces);
    }

    fn push_extras(&mut self) {
        for (channel, value) in self.extras.iter_mut().zip(&self.pending_extras) {
            channel.push(*value);
        }
    }

    /// Adds a row that gave no sample.
    pub(in crate::ingest) fn lose(&mut self, line: u64, text: String, why: Why) {
        self.lost.push(LostRow {
            samples_before: self.times.len(),
            line,
            text,
            why,
        });
    }

    /// Notes a blank line.
    pub(in crate::ingest) fn blank_line(&mut self) {
        if self.blank_lines.last() != Some(&self.times.len()) {
            self.blank_lines.push(self.times.len());
        }
    }

    /// Samples before each blank line, unless they stand between most rows.
    pub(in crate::ingest) fn blank_lines(&self) -> &[usize] {
        let often = self.blank_lines.len() * 2 >= self.forces.len();
        if often { &[] } else { &self.blank_lines }
    }

    /// Turns the rows round: the log has its newest row first.
    pub(in crate::ingest) fn turn(&mut self) {
        let samples = self.forces.len();
        self.forces.reverse();
        for channel in self.extras.iter_mut().chain([&mut self.fractions]) {
            channel.reverse();
        }
        for places in [
            &mut self.heads_again,
            &mut self.named_runs,
            &mut self.blank_lines,
            &mut self.run_changes,
        ] {
            for place in places.iter_mut() {
                *place = samples.saturating_sub(*place);
            }
            places.reverse();
        }
        for row in &mut self.lost {
            row.samples_before = samples.saturating_sub(row.samples_before);
        }
        self.lost.reverse();
        self.turned = Some(samples);
    }

    /// The place of a row in the order of the rows, from 0.
    pub(in crate::ingest) fn next_row(&mut self) -> f64 {
        self.rows += 1;
        (self.rows - 1) as f64
    }

    /// Seconds from the first stamp. Where the dates may be read in two ways, the nearer of the two: the days of a log follow each
    /// other.
    pub(in crate::ingest) fn since_first(&mut self, stamp: Stamp) -> f64 {
        self.dated.get_or_insert(stamp.dated);
        let first = *self.first_stamp.get_or_insert(stamp);
        let since = stamp.nanos.wrapping_sub(first.nanos);
        let other = stamp.other.wrapping_sub(first.other);
        let nearer = if other.unsigned_abs() < since.unsigned_abs() {
            other
        } else {
            since
        };
        nearer as f64 / 1e9
    }

    /// Line of a sample.
    pub(in crate::ingest) fn line(&self, sample: usize) -> u64 {
        let sample = match self.turned {
            Some(samples) => samples.saturating_sub(sample + 1),
            None => sample,
        };
        let after = self.jumps.partition_point(|(at, _)| *at <= sample);
        match after.checked_sub(1).map(|jump| self.jumps[jump]) {
            Some((at, line)) => line + (sample - at) as u64,
            None => 1 + sample as u64,
        }
    }
}
