//! The checks before the gate is driven: for the terminal, as JSON, and as a section of the report.

use std::fmt::Write;

use maud::{Markup, html};
use serde::Serialize;

use super::page::{Subject, scrolling};
use super::sentence::capital;
use crate::limits::KnownFrom;
use crate::readiness::{Answer, CheckState, Checked, Readiness};

/// The order in which the states are told: what must be done first.
const ORDER: [CheckState; 4] = [
    CheckState::NotInOrder,
    CheckState::NotChecked,
    CheckState::NotApplicable,
    CheckState::InOrder,
];

/// What stands before any list of checks.
const NEVER_GOOD: &str = "A check without an answer is not checked, and never counts as good.";

/// Source and mark of a check.
fn known(checked: &Checked) -> String {
    let check = &checked.check;
    match check.known_from {
        KnownFrom::Chosen => check.source.clone(),
        mark => format!("{}, {mark}", check.source),
    }
}

/// The checks as lines for a terminal.
#[must_use]
pub fn readiness_terminal(gate: &str, readiness: &Readiness) -> String {
    let mut text = format!(
        "{gate}, before it is driven: {}. {}\n",
        overall(readiness),
        readiness.sentence()
    );
    for state in ORDER {
        let checks: Vec<&Checked> = readiness.of(state).collect();
        if checks.is_empty() {
            continue;
        }
        let _ = writeln!(text, "\n{}", capital(state.words()));
        for checked in checks {
            let check = &checked.check;
            let _ = writeln!(
                text,
                "  {}: {}\n      {}",
                check.name,
                check.question,
                checked.words()
            );
            if matches!(state, CheckState::NotInOrder | CheckState::NotChecked) {
                let why = check.why.as_deref().unwrap_or("");
                let _ = writeln!(text, "      {why} [{}]", known(checked));
            }
        }
    }
    let _ = writeln!(
        text,
        "\n{NEVER_GOOD} Answers go into the gate file under [readiness.answers].\nLocal codes and licensed practice come first; electrical checks are for a qualified person."
    );
    text
}

/// The outcome in words.
pub(super) fn overall(readiness: &Readiness) -> &'static str {
    match readiness.overall() {
        CheckState::InOrder | CheckState::NotApplicable => "every check answered and in order",
        CheckState::NotInOrder => "not in order",
        CheckState::NotChecked => "not all was checked",
    }
}

#[derive(Serialize)]
struct Document<'a> {
    schema: &'static str,
    gate: &'a str,
    overall: CheckState,
    checks: Vec<Line<'a>>,
}

/// A check in the machine-readable record.
#[derive(Serialize)]
pub(super) struct Line<'a> {
    name: &'a str,
    question: &'a str,
    state: CheckState,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
    answer: String,
    source: &'a str,
    known_from: KnownFrom,
}

/// The checks as lines of a machine-readable record.
pub(super) fn lines(readiness: &Readiness) -> Vec<Line<'_>> {
    readiness.checks.iter().map(line).collect()
}

fn line(checked: &Checked) -> Line<'_> {
    let Checked { check, answer, .. } = checked;
    let (value, unit) = match answer {
        Answer::Value(value, unit) => (Some(*value), Some(unit.symbol())),
        _ => (None, None),
    };
    Line {
        name: &check.name,
        question: &check.question,
        state: checked.state(),
        value,
        unit,
        answer: checked.words(),
        source: &check.source,
        known_from: check.known_from,
    }
}

/// The checks as one JSON object, `relent.readiness/1`.
///
/// # Errors
/// Those of the JSON writer; none is known.
pub fn readiness_json(gate: &str, readiness: &Readiness) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&Document {
        schema: "relent.readiness/1",
        gate,
        overall: readiness.overall(),
        checks: lines(readiness),
    })
}

/// The section of the report.
pub(super) fn section(subject: &Subject<'_>) -> Markup {
    let readiness = &subject.assessment.readiness;
    let answered = subject.assessment.gate.readiness.is_some()
        || readiness.of(CheckState::NotInOrder).next().is_some();
    html! {
        p { "Before it was driven: " strong { (overall(readiness)) } ". " (readiness.sentence()) " " (NEVER_GOOD) }
        @if !readiness.errors.is_empty() {
            p { "Answers that could not be taken:" }
            ul { @for error in &readiness.errors { li { (error) "." } } }
        }
        @if answered {
            @for state in ORDER { (group(readiness, state)) }
        } @else {
            p { "The gate file has no [readiness]. What was not checked:" }
            ul.two { @for checked in readiness.of(CheckState::NotChecked) { li { (checked.check.question) } } }
        }
    }
}

fn group(readiness: &Readiness, state: CheckState) -> Markup {
    let checks: Vec<&Checked> = readiness.of(state).collect();
    let table = html! {
        table {
            thead { tr { th scope="col" { "check" } th scope="col" { "answer" } th scope="col" { "where it is known from" } } }
            tbody {
                @for checked in &checks {
                    tr {
                        td { (checked.check.question)
                            @if state == CheckState::NotInOrder && let Some(why) = &checked.check.why { br; span.soft { (capital(why)) "." } } }
                        td { (checked.words()) }
                        td.soft { (known(checked)) }
                    }
                }
            }
        }
    };
    html! {
        @if !checks.is_empty() {
            h3 { (capital(state.words())) ": " (checks.len()) }
            (scrolling(state.words(), &table))
        }
    }
}
