//! A contact long after the hit: a knock, a hand, or a leaf that comes back.

use super::Limitation;
use super::lone_sample::without;
use crate::measure::{GaugeFacts, Response, Zeroed};
use crate::trace::Trace;

/// Time between the end of one contact and the start of the next from which they are not one hit (s): a leaf that bounces is back
/// sooner. This project's own rule.
const APART_S: f64 = 0.5;

/// The gauge is touched again long after the leaf let go of it: what the record shows from there may be none of the hit. Every measure that
/// is another without it is anything between the two values.
#[must_use]
pub fn later_contact(
    trace: &Trace,
    record: &Zeroed<'_>,
    response: &Response,
    gauge: &GaugeFacts,
) -> Option<Limitation> {
    let mut pairs = response.touches.windows(2);
    let (apart_s, from) = pairs.find_map(|pair| {
        let apart = (pair[1].from - pair[0].to?).get();
        (apart >= APART_S).then_some((apart, pair[1].from.get()))
    })?;
    let start = record.index_at(from).saturating_sub(1);
    let mut forces = trace.forces().to_vec();
    let quiet = response.zero.subtracted.get();
    forces[start..].fill(quiet);
    let (other, without) = without(trace, response, gauge, forces)?;
    let later = &record.forces()[start..];
    (!without.is_empty()).then(|| Limitation::LaterContact {
        apart_s,
        peak_n: later.iter().copied().fold(0.0, f64::max),
        peak_without_n: other.peak.ok().map(|peak| peak.force.get()),
        without,
    })
}
