//! The steps of a clock: smallest, usual, greatest, and those that are none.

/// The steps of a clock.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steps {
    pub(super) smallest: f64,
    pub(super) greatest: f64,
    /// Steps of nothing.
    pub(super) repeats: usize,
    /// Steps back.
    pub(super) back: usize,
}

impl Steps {
    /// Looks at every step once.
    pub(super) fn of(times: &[f64]) -> Self {
        let mut steps = Self {
            smallest: f64::INFINITY,
            greatest: f64::NEG_INFINITY,
            repeats: 0,
            back: 0,
        };
        for (before, after) in times.iter().zip(&times[1.min(times.len())..]) {
            let step = after - before;
            steps.smallest = steps.smallest.min(step);
            steps.greatest = steps.greatest.max(step);
            steps.repeats += usize::from(step == 0.0);
            steps.back += usize::from(step < 0.0);
        }
        steps
    }

    /// The median of the steps forward. Where all steps are equal but for the rounding of their decimals, their mean, which
    /// differs from it by less than that.
    pub(super) fn usual(&self, times: &[f64]) -> Option<f64> {
        if self.smallest > 0.0 && self.greatest - self.smallest <= 1e-6 * self.greatest {
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
