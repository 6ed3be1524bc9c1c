//! What was changed on a gate between its visits.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::Remark;
use crate::compare::{Difference, changed};
use crate::fact::Fact;
use crate::gate::{EventKind, EventOrder, EventSection, GateFile};

/// Something that makes the gate after it another than before it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Change {
    /// Its day, where an event of a gate file gives it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub date: Option<Date>,
    /// What.
    #[serde(flatten)]
    pub cause: Cause,
    /// Place of the visit that came after it, among the visits from 0; their number where none came yet.
    pub before_visit: usize,
}

impl Fact for Change {
    const FAMILY: &'static str = "change";
}

/// How a change is known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Cause {
    /// An event of a gate file, with the words of whoever wrote it.
    Event {
        event: EventKind,
        words: Option<String>,
    },
    /// Two gate files that say different things.
    Differs { difference: Difference },
}

/// The changes between visits in the order of their days, and what is not known of them.
pub(super) fn between(gates: &[(Date, &GateFile)]) -> (Vec<Change>, Vec<Remark>) {
    let mut changes = events(gates);
    let mut remarks = Vec::new();
    for (place, pair) in gates.windows(2).enumerate() {
        for difference in changed(pair[0].1, pair[1].1) {
            if difference.values.are_known() {
                changes.push(Change {
                    date: None,
                    cause: Cause::Differs { difference },
                    before_visit: place + 1,
                });
            } else {
                remarks.push(Remark::NotKnownWhetherChanged {
                    from: pair[0].0,
                    to: pair[1].0,
                    difference,
                });
            }
        }
    }
    changes.sort_by_key(|change| (change.before_visit, change.date));
    (changes, remarks)
}

/// The events of all gate files that changed the gate, each once. Where the day of an event is the day of a visit and nobody
/// says whether before or after it, it stands on both sides of that visit.
fn events(gates: &[(Date, &GateFile)]) -> Vec<Change> {
    let mut known: Vec<&EventSection> = Vec::new();
    for event in gates.iter().flat_map(|(_, gate)| &gate.events) {
        let same = |other: &&&EventSection| {
            (other.date, other.kind, &other.words) == (event.date, event.kind, &event.words)
        };
        match known.iter().position(|other| same(&other)) {
            None if event.kind.changes_the_gate() => known.push(event),
            // One file may say more of the same event than another.
            Some(place) if known[place].order.is_none() => known[place] = event,
            None | Some(_) => {}
        }
    }
    let mut changes = Vec::new();
    for event in known {
        let cause = Cause::Event {
            event: event.kind,
            words: event.words.clone(),
        };
        let mut at = |before_visit| {
            changes.push(Change {
                date: Some(event.date),
                cause: cause.clone(),
                before_visit,
            });
        };
        let earlier = gates.iter().filter(|(day, _)| *day < event.date).count();
        let by_then = gates.iter().filter(|(day, _)| *day <= event.date).count();
        match event.order {
            _ if earlier == by_then => at(earlier),
            Some(EventOrder::BeforeTheTest) => at(earlier),
            Some(EventOrder::AfterTheTest) => at(by_then),
            None => {
                at(earlier);
                at(by_then);
            }
        }
    }
    changes
}
