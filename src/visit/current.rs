//! Whether what was found still holds for the gate as it is today.

use super::hits;
use crate::gate::{EventOrder, EventSection, GateFile};
use crate::limits::{Profile, VisitKind};

/// Why the findings of the visit are not current: a calibration that does not cover it, a change after it.
pub(super) fn not_current(gate: &GateFile, profile: &Profile) -> Vec<String> {
    let calibration = hits::calibration(gate, profile).map(|evidence| evidence.text);
    let changes = gate.events.iter().filter_map(|event| change(event, gate));
    calibration.into_iter().chain(changes).collect()
}

/// A change of the gate after the hits, or on their day without a word whether before or after them.
fn change(event: &EventSection, gate: &GateFile) -> Option<String> {
    let visit = gate.visit.as_ref()?;
    if !event.kind.changes_the_gate() || event.date < visit.date {
        return None;
    }
    let (what, on) = (event.kind, event.date);
    let words = event
        .words
        .as_ref()
        .map_or_else(String::new, |words| format!(" ({words})"));
    if event.date > visit.date || event.order == Some(EventOrder::AfterTheTest) {
        return Some(format!(
            "{what} on {on}{words}, after the test on {}: what was found is not known to hold for the gate as it is now. Test it again.",
            visit.date
        ));
    }
    // A visit because of a change is made after the change.
    let before =
        event.order == Some(EventOrder::BeforeTheTest) || visit.kind == VisitKind::AfterChange;
    (!before).then(|| {
        format!(
            "{what}{words} on {on}, the day of the test, and the gate file does not say whether before or after it. Add order = \
             \"before-the-test\" or \"after-the-test\" to the event."
        )
    })
}
