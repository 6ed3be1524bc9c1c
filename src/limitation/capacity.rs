//! The gauge's capacity: below the limit, or reached.

use super::Limitation;
use crate::measure::{Measure, Response};
use crate::quantity::Newton;

/// The gauge cannot show more than `capacity`, and that is not above the limit: it can never show that the limit was exceeded,
/// so it cannot show that it was kept.
#[must_use]
pub fn capacity_below_limit(
    capacity: Newton,
    measure: Measure,
    limit: Newton,
) -> Option<Limitation> {
    (capacity <= limit).then_some(Limitation::CapacityBelowLimit {
        measure,
        capacity_n: capacity.get(),
        limit_n: limit.get(),
    })
}

/// The raw peak reaches the gauge's capacity: the top may be cut off even if it does not look flat.
#[must_use]
pub fn at_capacity(response: &Response, capacity: Newton) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let raw = peak.force + response.zero.subtracted;
    (raw >= capacity).then(|| Limitation::AtCapacity {
        force_n: raw.get(),
        capacity_n: capacity.get(),
    })
}
