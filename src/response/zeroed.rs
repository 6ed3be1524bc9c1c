//! The record with its zero taken off: what every measure starts from.

use std::borrow::Cow;

use super::gaps::gaps;
use super::{Measured, Unmeasured};
use crate::trace::{self, Trace};

/// Samples (tᵢ, Fᵢ) with F = f − z, and the intervals between them in which nothing was measured.
///
/// # Quantities
/// `times` (s, strictly increasing from 0) and `forces` (N, zeroed, positive when the leaf pushes), of one length n ≥ 1.
#[derive(Clone, Debug)]
pub struct Zeroed<'a> {
    pub(super) times: Cow<'a, [f64]>,
    pub(super) forces: Vec<f64>,
    pub(super) gaps: Vec<usize>,
    /// Smallest and greatest force.
    range: (f64, f64),
}

impl<'a> Zeroed<'a> {
    /// The raw forces of a record, nothing taken off yet.
    ///
    /// # Errors
    /// [`Unmeasured`] where sums of the record's numbers leave the range of floating-point numbers.
    pub fn raw(trace: &'a Trace) -> Measured<Self> {
        let times = match trace.times().to_slice() {
            Some(slice) => Cow::Borrowed(slice),
            None => Cow::Owned(trace.times().to_vec()),
        };
        let forces = trace.forces().to_vec();
        let (least, most) = trace.range();
        let greatest = most.max(-least);
        let last = times[times.len() - 1];
        if !(greatest * greatest * last.max(1.0)).is_finite() {
            return Err(Unmeasured(format!(
                "forces of {greatest:e} N over {last:e} s are beyond what can be calculated with"
            )));
        }
        let gaps = gaps(trace, &times);
        Ok(Self {
            times,
            forces,
            gaps,
            range: (least, most),
        })
    }

    /// The record with `zero` newtons taken off every force.
    #[must_use]
    pub fn less(mut self, zero: f64) -> Self {
        for force in &mut self.forces {
            *force -= zero;
        }
        // Rounding keeps the order of the differences: the ends stay the ends.
        self.range = (self.range.0 - zero, self.range.1 - zero);
        self
    }

    /// Smallest and greatest zeroed force in newtons.
    #[must_use]
    pub const fn range(&self) -> (f64, f64) {
        self.range
    }

    /// Instants in seconds from the first sample.
    #[must_use]
    pub fn times(&self) -> &[f64] {
        &self.times
    }

    /// Zeroed forces in newtons.
    #[must_use]
    pub fn forces(&self) -> &[f64] {
        &self.forces
    }

    /// The intervals i → i + 1 in which samples are missing, as the sorted indices i.
    #[must_use]
    pub fn gaps(&self) -> &[usize] {
        &self.gaps
    }

    /// Instant of the last sample.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.times[self.times.len() - 1]
    }

    /// Index of the first sample at or after an instant; n if there is none.
    #[must_use]
    pub fn index_at(&self, instant: f64) -> usize {
        self.times.partition_point(|t| *t < instant)
    }

    /// Index of the first greatest force of `from..to`; `None` where that is empty.
    pub(super) fn greatest(&self, from: usize, to: usize) -> Option<usize> {
        let forces = self.forces.get(from..to)?;
        let (_, most) = trace::extremes(forces);
        trace::first(forces, |force| force == most).map(|i| from + i)
    }
}
