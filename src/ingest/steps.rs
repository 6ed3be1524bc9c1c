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
    /// Looks at every step once, four side by side.
    pub(super) fn of(times: &[f64]) -> Self {
        let steps = times.len().saturating_sub(1);
        let (befores, afters) = (&times[..steps], &times[times.len() - steps..]);
        let (mut smallest, mut greatest) = ([f64::INFINITY; 4], [f64::NEG_INFINITY; 4]);
        let (mut repeats, mut back) = (0, 0);
        let ((before_fours, before_rest), (after_fours, after_rest)) =
            (befores.as_chunks::<4>(), afters.as_chunks::<4>());
        for (before, after) in before_fours.iter().zip(after_fours) {
            for lane in 0..4 {
                let step = after[lane] - before[lane];
                smallest[lane] = if step < smallest[lane] {
                    step
                } else {
                    smallest[lane]
                };
                greatest[lane] = if step > greatest[lane] {
                    step
                } else {
                    greatest[lane]
                };
                repeats += usize::from(step == 0.0);
                back += usize::from(step < 0.0);
            }
        }
        for (before, after) in before_rest.iter().zip(after_rest) {
            let step = after - before;
            smallest[0] = smallest[0].min(step);
            greatest[0] = greatest[0].max(step);
            repeats += usize::from(step == 0.0);
            back += usize::from(step < 0.0);
        }
        Self {
            smallest: smallest.into_iter().fold(f64::INFINITY, f64::min),
            greatest: greatest.into_iter().fold(f64::NEG_INFINITY, f64::max),
            repeats,
            back,
        }
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
