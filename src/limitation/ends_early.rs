//! The record ends before the prescribed time, or while the leaf still presses.

use super::Limitation;
use crate::measure::{Level, Response, Zeroed};

/// The record does not reach the prescribed time after contact, or ends above the level of a time that it measures.
///
/// The peak is bounded too: it is the greatest force to the end of the prescribed record, and a later hump may be higher.
#[must_use]
pub fn ends_early(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let contact = response.contact.ok()?.get();
    let method = &response.method;
    let last = record.forces().last().copied().unwrap_or(0.0);
    let still_above = |level: &Level| last > level.of(method).get();
    let seen = |still_above: Vec<Level>| Limitation::EndsEarly {
        ends_s: record.end() - contact,
        needs_s: method.record.get(),
        presses_n: last,
        still_above,
    };
    if record.end() < contact + method.record.get() {
        return Some(seen(Vec::new()));
    }
    let levels: Vec<Level> = [Level::Residual, Level::Static]
        .into_iter()
        .filter(still_above)
        .collect();
    (!levels.is_empty()).then(|| seen(levels))
}
