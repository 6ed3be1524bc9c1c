//! The rows of a log → columns of numbers, with everything that could not be used and where it stood.

use super::cells::{Line, Lines};
use super::columns::Plan;
use super::dialect::Dialect;
use super::fast::Fast;
use super::notices::Notices;
use super::slow::Slow;
use super::sniff::LONGEST_LINE;
use super::stamp::{Dated, Stamp};
use super::{Question, ReadError};

/// A row without a usable force or instant.
#[derive(Clone, Debug)]
pub(super) struct LostRow {
    /// Samples before it.
    pub(super) samples_before: usize,
    pub(super) line: u64,
    pub(super) text: String,
    /// Why.
    pub(super) why: Why,
}

/// Why a row was lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Why {
    /// Its force was empty, not finite or not a number.
    Force,
    /// Its force is there, its instant is not.
    Instant,
}

/// The numbers of a log, in the order of its rows.
#[derive(Debug, Default)]
pub(super) struct Table {
    /// Instants as the clock column gives them, in its unit; stamps in seconds from the first one.
    pub(super) times: Vec<f64>,
    /// Forces in newtons where the unit is known.
    pub(super) forces: Vec<f64>,
    /// The other channels; NaN where nothing was logged.
    pub(super) extras: Vec<Vec<f64>>,
    pub(super) lost: Vec<LostRow>,
    /// Samples before each head, or line that names a run, between rows.
    pub(super) heads_again: Vec<usize>,
    /// Samples before each blank line between rows.
    blank_lines: Vec<usize>,
    /// Samples before each change of the number of the run.
    pub(super) run_changes: Vec<usize>,
    /// Rows with more numbers than columns.
    pub(super) wide_rows: usize,
    /// Rows parted by blanks with fewer cells than columns: which cell is missing cannot be seen.
    pub(super) short_rows: usize,
    /// Other heads that stand between rows: nothing after them is read.
    pub(super) other_heads: Option<(u64, String)>,
    pub(super) notices: Notices,
    pub(super) questions: Vec<Question>,
    /// Whether the stamps have dates.
    pub(super) dated: Option<Dated>,
    pub(super) pending_extras: Vec<f64>,
    /// Rows of any kind so far, where the order of the rows is the clock.
    rows: u64,
    first_stamp: Option<Stamp>,
    /// Samples at which the line is not the one after that of the sample before, with the line.
    jumps: Vec<(usize, u64)>,
    next_line: u64,
}

impl Table {
    /// No rows yet, with what was noticed before them.
    pub(super) fn with_notices(notices: Notices) -> Self {
        Self {
            notices,
            ..Self::default()
        }
    }

    /// Adds a sample.
    #[inline(always)]
    pub(super) fn push(&mut self, time: f64, force: f64, line: u64) {
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
    pub(super) fn push_rows(&mut self, times: &[f64], forces: &[f64], line: u64) {
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
    pub(super) fn lose(&mut self, line: u64, text: String, why: Why) {
        self.lost.push(LostRow {
            samples_before: self.times.len(),
            line,
            text,
            why,
        });
    }

    /// Notes a blank line.
    pub(super) fn blank_line(&mut self) {
        if self.blank_lines.last() != Some(&self.times.len()) {
            self.blank_lines.push(self.times.len());
        }
    }

    /// Samples before each place where another run may begin; blank lines are none where they stand between most rows.
    pub(super) fn breaks(&self) -> Vec<usize> {
        let mut breaks = self.heads_again.clone();
        if self.blank_lines.len() * 2 < self.forces.len() {
            breaks.extend(&self.blank_lines);
        }
        breaks.retain(|at| (1..self.forces.len()).contains(at));
        breaks
    }

    /// The place of a row in the order of the rows, from 0.
    pub(super) fn next_row(&mut self) -> f64 {
        self.rows += 1;
        (self.rows - 1) as f64
    }

    /// Seconds from the first stamp. Where the dates may be read in two ways, the nearer of the two: the days of a log follow each
    /// other.
    pub(super) fn since_first(&mut self, stamp: Stamp) -> f64 {
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
    pub(super) fn line(&self, sample: usize) -> u64 {
        let after = self.jumps.partition_point(|(at, _)| *at <= sample);
        match after.checked_sub(1).map(|jump| self.jumps[jump]) {
            Some((at, line)) => line + (sample - at) as u64,
            None => 1 + sample as u64,
        }
    }
}

/// Reads every row: plain ones on the fast path, all others one by one.
pub(super) fn read(
    text: &[u8],
    dialect: &Dialect,
    plan: &Plan,
    notices: Notices,
) -> Result<Table, ReadError> {
    let rest = text.len() - dialect.first_byte;
    let expected = rest / (4 * dialect.width).max(6) + 1;
    let mut table = Table {
        times: Vec::with_capacity(expected.min(1 << 20)),
        forces: Vec::with_capacity(expected.min(1 << 20)),
        extras: vec![Vec::new(); plan.extras.len()],
        pending_extras: vec![f64::NAN; plan.extras.len()],
        notices,
        ..Table::default()
    };
    let fast = Fast::new(dialect, plan);
    let mut slow = Slow::new(text, dialect, plan);
    let (mut at, mut number) = (dialect.first_byte, dialect.first_line);
    while at < text.len() {
        if let Some(fast) = &fast {
            let samples = table.times.len();
            (at, number) = fast.rows(text, at, number, &mut table);
            if table.times.len() > samples {
                slow.data_goes_on(&mut table);
            }
        }
        let mut lines = Lines::new(text, at, number);
        let Some(line) = lines.next() else { break };
        check_length(&line)?;
        let more = slow.line(line, &mut table);
        if table.other_heads.is_some() {
            break;
        }
        for _ in 0..more {
            lines.next();
        }
        at = lines.offset().min(text.len());
        number += 1 + more as u64;
    }
    slow.end(&mut table);
    Ok(table)
}

fn check_length(line: &Line<'_>) -> Result<(), ReadError> {
    if line.text.len() > LONGEST_LINE {
        return Err(ReadError::LineTooLong {
            line: line.number,
            bytes: line.text.len(),
            most: LONGEST_LINE,
        });
    }
    Ok(())
}
