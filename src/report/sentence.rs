//! What was found, in a sentence.

use jiff::civil::Date;

use super::State;
use super::place::Place;
use crate::limits;
use crate::verdict::Verdict;
use crate::visit::Assessment;
use crate::words::Words;

/// The sentence in three parts: what was assessed, the outcome (to be set apart), how many points stand how.
pub(super) struct Sentence {
    pub(super) subject: String,
    pub(super) outcome: String,
    pub(super) counts: String,
}

impl Sentence {
    pub(super) fn of(words: &Words, assessment: &Assessment, places: &[Place<'_>]) -> Self {
        let gate = assessment.gate.gate.name.as_str().into();
        let limits = against(words, assessment);
        let profile = limits.as_str().into();
        let subject = match &assessment.gate.visit {
            None => words.with(
                "report-subject-undated",
                &[("gate", gate), ("profile", profile)],
            ),
            Some(visit) => words.with(
                "report-subject",
                &[
                    ("gate", gate),
                    ("profile", profile),
                    ("date", day(words, visit.date).into()),
                ],
            ),
        };
        let outcome = match assessment.overall().verdict {
            Verdict::Over => words.say("report-outcome-over"),
            Verdict::Undecided => words.say("report-outcome-undecided"),
            Verdict::Within => words.say("report-outcome-within"),
        };
        Self {
            subject,
            outcome: outcome.into_owned(),
            counts: counts(words, places.iter().map(Place::state)),
        }
    }

    /// The whole sentence.
    pub(super) fn text(&self) -> String {
        format!("{} {}. {}", self.subject, self.outcome, self.counts)
    }
}

/// Against what and where it was assessed: whose limits they are, and who chose the points where the profile prescribes none.
fn against(words: &Words, assessment: &Assessment) -> String {
    let profile = &assessment.profile;
    let limits = match profile.own_limits() {
        None => profile.title.clone(),
        Some((base, changes)) => {
            let title = base.and_then(|base| Some(limits::profile(&base).ok()?.title));
            let fields = [
                ("name", profile.name.as_str().into()),
                ("base", title.as_deref().unwrap_or("none").into()),
                ("changes", changes.len().into()),
                ("values", words.list(&words.facts(&changes)).into()),
            ];
            words.with("report-own-limits", &fields)
        }
    };
    let chosen = assessment
        .plan()
        .filter(|plan| plan.points.iter().all(|it| it.by_tester));
    chosen.map_or_else(
        || limits.clone(),
        |plan| {
            let points = plan.points.len().into();
            let limits = limits.as_str().into();
            words.with(
                "report-chosen-points",
                &[("limits", limits), ("points", points)],
            )
        },
    )
}

/// How many of some points stand how.
pub(super) fn counts(words: &Words, states: impl Iterator<Item = State>) -> String {
    let states: Vec<State> = states.collect();
    let counted = State::TOLD.map(|state| {
        let count = states.iter().filter(|one| **one == state).count();
        let told = || {
            let state = words.fact(&state).into();
            words.with("report-count", &[("count", count.into()), ("state", state)])
        };
        (count > 0).then(told)
    });
    let counted: Vec<String> = counted.into_iter().flatten().collect();
    words.with(
        "report-counts",
        &[
            ("points", states.len().into()),
            ("states", words.list(&counted).into()),
        ],
    )
}

/// A text with its first letter as a capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A day as a reader writes it.
pub(super) fn day(words: &Words, date: Date) -> String {
    words.with(
        "date",
        &[
            ("day", date.day().into()),
            ("month", date.month().into()),
            // A year is written without a mark between its digits.
            ("year", date.year().to_string().into()),
        ],
    )
}
