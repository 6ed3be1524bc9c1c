//! The gauge's capacity: below the limit, or reached.

use super::{Kind, Limitation, TOP};
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
    (capacity <= limit).then(|| Limitation {
        kind: Kind::CapacityBelowLimit,
        text: format!(
            "The gauge shows no more than {capacity}, and the limit is {limit}: a higher force would not have been seen. Repeat the hit \
             with a gauge of greater capacity."
        ),
        bounds: vec![measure],
        voids: Vec::new(),
    })
}

/// The raw peak reaches the gauge's capacity: the top may be cut off even if it does not look flat.
#[must_use]
pub fn at_capacity(response: &Response, capacity: Newton) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let raw = peak.force + response.zero.subtracted;
    (raw >= capacity).then(|| Limitation {
        kind: Kind::FlatTop,
        text: format!(
            "The hit reaches {:.1} N, the capacity of the gauge ({capacity}): the true peak may be higher. Repeat the hit with a gauge \
             of greater capacity.",
            raw.get()
        ),
        bounds: TOP.to_vec(),
        voids: Vec::new(),
    })
}
