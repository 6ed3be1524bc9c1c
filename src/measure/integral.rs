//! The integral of the force over time, by trapezoids.

use super::zeroed::Zeroed;

/// ∫F dt (N·s) from one instant to another, by trapezoids between the samples and straight lines at both ends:
/// Σ (Fᵢ + Fᵢ₊₁)/2 · (tᵢ₊₁ − tᵢ). Intervals in which samples are missing add nothing.
///
/// # Quantities
/// `from` ≤ `to`, in seconds from the first sample, both within the record.
///
/// # Example
/// ```
/// use relent::measure::{integral, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// assert_eq!(integral::force_time(&Zeroed::raw(&trace)?, 0.5, 1.5), 75.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn force_time(record: &Zeroed<'_>, from: f64, to: f64) -> f64 {
    let (times, forces) = (record.times(), record.forces());
    let start = times.partition_point(|t| *t <= from).saturating_sub(1);
    let end = record.index_at(to).min(times.len() - 1);
    let piece = |i: usize| {
        let (left, right) = (times[i].max(from), times[i + 1].min(to));
        let slope = (forces[i + 1] - forces[i]) / (times[i + 1] - times[i]);
        let at = |t: f64| forces[i] + slope * (t - times[i]);
        (at(left) + at(right)) / 2.0 * (right - left).max(0.0)
    };
    let seen = |i: &usize| record.gaps().binary_search(i).is_err();
    let mut sum = 0.0;
    if record.gaps().is_empty() {
        let inner = start + 1..end.max(start + 1);
        let (t, f) = (&times[inner.clone()], &forces[inner.clone()]);
        for i in 1..inner.len() {
            sum += (f[i - 1] + f[i]) / 2.0 * (t[i] - t[i - 1]);
        }
        let ends = (start..end).take(1).chain((inner.start..end).last());
        sum += ends.map(piece).sum::<f64>();
    } else {
        sum += (start..end).filter(seen).map(piece).sum::<f64>();
    }
    sum
}
