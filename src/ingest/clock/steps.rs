//! The steps of a clock: smallest, usual, greatest, and those that are none.

use crate::trace;

/// A step that is longer than this many usual steps is a gap.
pub(in crate::ingest) const GAP: f64 = 3.5;

/// The steps of a clock.
#[derive(Clone, Copy, Debug)]
pub(in crate::ingest) struct Steps {
    pub(in crate::ingest) smallest: f64,
    pub(in crate::ingest) greatest: f64,
    /// Steps of nothing.
    pub(in crate::ingest) repeats: usize,
    /// Steps back.
    pub(in crate::ingest) back: usize,
}

impl Steps {
    /// Looks at every step; counts those that are none only where there are some.
    pub(in crate::ingest) fn of(times: &[f64]) -> Self {
        let (smallest, greatest) = trace::steps(times);
        let count = |wanted: fn(f64) -> bool| {
            let steps = times.windows(2).map(|pair| pair[1] - pair[0]);
            steps.filter(|step| wanted(*step)).count()
        };
        let (mut repeats, mut back) = (0, 0);
        if smallest <= 0.0 {
            repeats = count(|step| step == 0.0);
            back = count(|step| step < 0.0);
        }
        Self {
            smallest,
            greatest,
            repeats,
            back,
        }
    }

    /// The mean of the steps where none is twice another: a clock in whole milliseconds has steps of 12 ms and 13 ms at 80 Hz. Else the
    /// median of those forward.
    pub(in crate::ingest) fn usual(&self, times: &[f64]) -> Option<f64> {
        if self.smallest > 0.0 && self.greatest <= 2.0 * self.smallest {
            return Some((times[times.len() - 1] - times[0]) / (times.len() - 1) as f64);
        }
        let mut forward: Vec<f64> = times
            .windows(2)
            .map(|pair| pair[1] - pair[0])
            .filter(|step| *step > 0.0)
            .collect();
        if forward.is_empty() {
            return None;
        }
        let middle = forward.len() / 2;
        Some(*forward.select_nth_unstable_by(middle, f64::total_cmp).1)
    }
}
