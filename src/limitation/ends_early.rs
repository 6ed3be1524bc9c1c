//! The record ends before the prescribed time, or while the leaf still presses.

use super::{GROWING, INSTANTS, Kind, Limitation};
use crate::measure::{Measure, Response, Zeroed};

/// The record does not reach the prescribed time after contact, or ends above the level of a time that it measures.
///
/// The peak is bounded too: it is the greatest force to the end of the prescribed record, and a later hump may be higher.
#[must_use]
pub fn ends_early(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let contact = response.contact.as_ref().ok()?.get();
    let method = &response.method;
    let covered = record.end() - contact;
    if record.end() < contact + method.record.get() {
        return Some(Limitation {
            kind: Kind::EndsEarly,
            text: format!(
                "The record ends {covered:.3} s after contact, and {} s are asked for: what the leaf did later was not seen. Let the \
                 logger run longer and repeat the hit.",
                method.record.get()
            ),
            bounds: GROWING.into_iter().chain(INSTANTS).collect(),
            voids: Vec::new(),
        });
    }
    let last = record.forces().last().copied().unwrap_or(0.0);
    let mut bounds = Vec::new();
    if last > method.residual_level.get() {
        bounds.push(Measure::TimeAboveResidual);
    }
    if last > method.static_level.get() {
        bounds.extend([Measure::TimeAboveStatic, Measure::DynamicPeriod]);
    }
    (!bounds.is_empty()).then(|| Limitation {
        kind: Kind::EndsEarly,
        text: format!(
            "The record ends while the leaf still presses with {last:.1} N, {covered:.3} s after contact: how long it went on was not \
             seen. Let the logger run until the leaf lets go."
        ),
        bounds,
        voids: Vec::new(),
    })
}
