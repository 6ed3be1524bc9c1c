//! What was found, in a sentence.

use jiff::civil::Date;

use super::State;
use super::place::Place;
use crate::verdict::Verdict;
use crate::visit::Assessment;

/// The sentence in three parts: what was judged, the outcome (to be set apart), how many points stand how.
pub(super) struct Sentence {
    pub(super) subject: String,
    pub(super) outcome: String,
    pub(super) counts: String,
}

impl Sentence {
    pub(super) fn of(assessment: &Assessment, places: &[Place<'_>]) -> Self {
        let when = assessment.gate.visit.as_ref().map_or_else(
            || "on a day that the gate file does not name".to_owned(),
            |visit| format!("on {}", day(visit.date)),
        );
        let outcome = match assessment.overall().verdict {
            Verdict::Over => "over the limit",
            Verdict::Undecided => "undecided",
            Verdict::Within => "within the limits that were judged",
        };
        Self {
            subject: format!(
                "{}, tested {when} and judged against {}:",
                assessment.gate.gate.name, assessment.profile.title
            ),
            outcome: outcome.to_owned(),
            counts: counts(places.iter().map(Place::state)),
        }
    }

    /// The whole sentence.
    pub(super) fn text(&self) -> String {
        format!("{} {}. {}", self.subject, self.outcome, self.counts)
    }
}

/// How many of some points stand how.
pub(super) fn counts(states: impl Iterator<Item = State>) -> String {
    let states: Vec<State> = states.collect();
    if states.is_empty() {
        return "No test point.".to_owned();
    }
    let all = states.len();
    let order = [
        State::Over,
        State::Undecided,
        State::NotTested,
        State::Within,
    ];
    let parts = order.map(|state| (state, states.iter().filter(|one| **one == state).count()));
    let parts: Vec<String> = parts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(state, count)| format!("{count} {}", state.words()))
        .collect();
    format!("Of {}: {}.", counted(all, "test point"), parts.join(", "))
}

/// A count with its noun.
pub(super) fn counted(count: usize, what: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {what}{plural}")
}

/// A text with its first letter as a capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A day as a reader writes it.
pub(super) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}
