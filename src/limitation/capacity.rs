//! The gauge's capacity: below the limit, or reached.

use serde::{Deserialize, Serialize};

use super::Limitation;
use crate::measure::{Measure, Response};
use crate::quantity::Newton;
use crate::trace::Trace;

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

/// What sets the greatest force that a record can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SetBy {
    /// The gauge.
    Gauge,
    /// The range of the logger, as the log says.
    Range,
}

/// The raw peak reaches, up to a step of the log and three times its noise, the gauge's capacity or the logger's range: the top may be cut
/// off even if it does not look flat.
#[must_use]
pub fn at_capacity(
    trace: &Trace,
    response: &Response,
    capacity: Newton,
    set_by: SetBy,
) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let raw = peak.force + response.zero.subtracted;
    let step = trace.resolution().unwrap_or_default();
    let noise = 3.0 * response.zero.noise.map_or(0.0, Newton::get);
    (raw + step + Newton(noise) >= capacity).then(|| Limitation::AtCapacity {
        force_n: raw.get(),
        capacity_n: capacity.get(),
        set_by,
    })
}
