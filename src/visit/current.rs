//! Whether what was found still holds for the gate as it is today.

use super::hits;
use crate::gate::{EventOrder, EventSection, GateFile};
use crate::limits::{Profile, VisitKind};
use crate::verdict::NotCurrent;

/// Why the findings of the visit are not current: a calibration that does not cover it, a change after it.
pub(super) fn not_current(gate: &GateFile, profile: &Profile) -> Vec<NotCurrent> {
    let uncovered = hits::uncovered(gate, profile);
    let calibration = uncovered.map(|(tested_on, uncovered)| NotCurrent::Calibration {
        tested_on,
        uncovered,
    });
    let changes = gate.events.iter().filter_map(|event| change(event, gate));
    calibration.into_iter().chain(changes).collect()
}

/// A change of the gate after the hits, or on their day without a word whether before or after them.
fn change(event: &EventSection, gate: &GateFile) -> Option<NotCurrent> {
    let visit = gate.visit.as_ref()?;
    if !event.kind.changes_the_gate() || event.date < visit.date {
        return None;
    }
    if event.date > visit.date || event.order == Some(EventOrder::AfterTheTest) {
        return Some(NotCurrent::ChangedAfter {
            event: event.kind,
            changed_on: event.date,
            words: event.words.clone(),
            tested_on: visit.date,
        });
    }
    // A visit because of a change is made after the change.
    let before =
        event.order == Some(EventOrder::BeforeTheTest) || visit.kind == VisitKind::AfterChange;
    (!before).then(|| NotCurrent::OrderNotStated {
        event: event.kind,
        changed_on: event.date,
        words: event.words.clone(),
    })
}
