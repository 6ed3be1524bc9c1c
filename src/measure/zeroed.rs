//! The record with its zero taken off: what every measure starts from.

use std::borrow::Cow;

use ndarray::ArrayView1;

use super::gaps::gaps;
use super::{Measured, Unmeasured};
use crate::trace::{Outlined, Span, Trace};

/// Samples (tᵢ, Fᵢ) with F = f − z, and the intervals between them in which nothing was measured.
///
/// # Quantities
/// `times` (s, strictly increasing from 0) and `forces` (N, zeroed, positive when the leaf pushes), of one length n ≥ 1.
#[derive(Clone, Debug)]
pub struct Zeroed<'a> {
    times: Cow<'a, [f64]>,
    forces: Cow<'a, [f64]>,
    gaps: Vec<usize>,
    /// The outline of the forces.
    spans: Cow<'a, [Span]>,
    whole: Span,
}

impl<'a> Zeroed<'a> {
    /// The raw forces of a record, nothing taken off yet.
    ///
    /// # Errors
    /// [`Unmeasured`] where sums of the record's numbers leave the range of floating-point numbers.
    pub fn raw(trace: &'a Trace) -> Measured<Self> {
        let (times, forces) = (slice(trace.times()), slice(trace.forces()));
        let whole = trace.outline().whole();
        let greatest = whole.most.max(-whole.least);
        let last = times[times.len() - 1];
        if !(greatest * greatest * last.max(1.0)).is_finite() {
            return Err(Unmeasured::BeyondCalculation {
                greatest_n: greatest,
                lasts_s: last,
            });
        }
        let gaps = gaps(trace, &times);
        Ok(Self {
            times,
            forces,
            gaps,
            spans: Cow::Borrowed(trace.outline().spans()),
            whole,
        })
    }

    /// The record with `zero` newtons taken off every force.
    #[must_use]
    pub fn less(self, zero: f64) -> Self {
        Self {
            times: self.times,
            forces: self.forces.iter().map(|force| force - zero).collect(),
            gaps: self.gaps,
            // Rounding keeps the order of the differences: the smallest and the greatest of a span stay what they are.
            spans: self.spans.iter().map(|span| span.less(zero)).collect(),
            whole: self.whole.less(zero),
        }
    }

    /// The record with every force multiplied by a factor above 0.
    #[must_use]
    pub(super) fn scaled(&self, factor: f64) -> Self {
        let scaled = |span: &Span| Span {
            least: factor * span.least,
            most: factor * span.most,
        };
        Self {
            times: self.times.clone(),
            forces: self.forces.iter().map(|force| factor * force).collect(),
            gaps: self.gaps.clone(),
            spans: self.spans.iter().map(scaled).collect(),
            whole: scaled(&self.whole),
        }
    }

    /// Smallest and greatest zeroed force in newtons.
    #[must_use]
    pub const fn range(&self) -> (f64, f64) {
        (self.whole.least, self.whole.most)
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

    /// The forces with their spans, to search in.
    pub(super) fn outlined(&self) -> Outlined<'_> {
        Outlined::new(&self.forces, &self.spans)
    }

    /// Index of the first greatest force of `from..to`; `None` where that is empty.
    pub(super) fn greatest(&self, from: usize, to: usize) -> Option<usize> {
        self.outlined().greatest(from..to)
    }
}

/// The numbers of a channel, copied only where they do not lie in one piece.
fn slice(channel: ArrayView1<'_, f64>) -> Cow<'_, [f64]> {
    match channel.to_slice() {
        Some(slice) => Cow::Borrowed(slice),
        None => Cow::Owned(channel.to_vec()),
    }
}
