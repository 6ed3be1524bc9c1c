//! The checks before the gate is driven: for the terminal, as JSON, and as a section of the report.

use std::fmt::Write;

use maud::{Markup, html};
use serde::Serialize;

use super::page::{Subject, scrolling};
use super::sentence::capital;
use crate::limits::SourceKind;
use crate::readiness::{Answer, CheckState, Checked, Permitted, Readiness};
use crate::words::Words;

/// The order in which the states are told: what must be done first.
const ORDER: [CheckState; 4] = [
    CheckState::NotInOrder,
    CheckState::NotChecked,
    CheckState::NotApplicable,
    CheckState::InOrder,
];

/// The checks as lines for a terminal.
#[must_use]
pub fn readiness_terminal(words: &Words, gate: &str, readiness: &Readiness) -> String {
    let fields = [
        ("gate", gate.into()),
        ("overall", overall(words, readiness).into()),
        ("counts", counts(words, readiness).into()),
    ];
    let mut text = words.with("readiness-of-gate", &fields) + "\n";
    for state in ORDER {
        let checks: Vec<&Checked> = readiness.of(state).collect();
        if checks.is_empty() {
            continue;
        }
        let _ = writeln!(text, "\n{}", capital(&words.fact(&state)));
        for checked in checks {
            let check = &checked.check;
            let (question, answer) = (words.fact(check), words.fact(checked));
            let _ = writeln!(text, "  {}: {question}\n      {answer}", check.name);
            if matches!(state, CheckState::NotInOrder | CheckState::NotChecked) {
                let why = words.part(check, "why").unwrap_or_default();
                let _ = writeln!(text, "      {why} [{}]", words.fact(&check.reference()));
            }
        }
    }
    let _ = writeln!(text, "\n{}", words.say("readiness-note"));
    text
}

/// The outcome in words.
pub(super) fn overall(words: &Words, readiness: &Readiness) -> String {
    let id = match readiness.overall() {
        CheckState::InOrder | CheckState::NotApplicable => "readiness-all-in-order",
        CheckState::NotInOrder => "readiness-not-in-order",
        CheckState::NotChecked => "readiness-not-checked",
    };
    words.say(id).into_owned()
}

/// How many checks stand how.
fn counts(words: &Words, readiness: &Readiness) -> String {
    let counts = ORDER
        .map(|state| (readiness.of(state).count(), words.fact(&state)))
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, state)| {
            let fields = [("count", count.into()), ("state", state.into())];
            words.with("readiness-count", &fields)
        });
    let counts: Vec<String> = counts.collect();
    let fields = [
        ("checks", readiness.checks.len().into()),
        ("counts", words.list(&counts).into()),
    ];
    words.with("readiness-counts", &fields)
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// The checks as one object.
pub struct Document<'a> {
    schema: &'static str,
    gate: &'a str,
    overall: CheckState,
    checks: Vec<Line<'a>>,
}

/// A check in the machine-readable record.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Line<'a> {
    name: &'a str,
    question: String,
    state: CheckState,
    answer: &'a Answer,
    permitted: &'a Permitted,
    text: String,
    reference: &'a str,
    source: SourceKind,
}

/// The checks as lines of a machine-readable record.
pub(super) fn lines<'a>(words: &Words, readiness: &'a Readiness) -> Vec<Line<'a>> {
    let line = |checked: &'a Checked| Line {
        name: &checked.check.name,
        question: words.fact(&checked.check),
        state: checked.state(),
        answer: &checked.answer,
        permitted: &checked.permitted,
        text: words.fact(checked),
        reference: &checked.check.reference,
        source: checked.check.source,
    };
    readiness.checks.iter().map(line).collect()
}

/// The checks as one JSON object, `relent.readiness/1`.
///
/// # Errors
/// Those of the JSON writer; none is known.
pub fn readiness_json(
    words: &Words,
    gate: &str,
    readiness: &Readiness,
) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&Document {
        schema: "relent.readiness/1",
        gate,
        overall: readiness.overall(),
        checks: lines(words, readiness),
    })
}

/// The section of the report.
pub(super) fn section(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    let readiness = &subject.assessment.readiness;
    let answered = subject.assessment.gate.readiness.is_some()
        || readiness.of(CheckState::NotInOrder).next().is_some();
    html! {
        p { (words.say("readiness-before")) " " strong { (overall(words, readiness)) } ". " (counts(words, readiness)) " " (words.say("readiness-never-good")) }
        @if !readiness.errors.is_empty() {
            p { (words.say("readiness-errors")) }
            ul { @for error in &readiness.errors { li { (words.fact(error)) "." } } }
        }
        @if answered {
            @for state in ORDER { (group(words, readiness, state)) }
        } @else {
            p { (words.say("readiness-no-section")) }
            ul.two { @for checked in readiness.of(CheckState::NotChecked) { li { (words.fact(&checked.check)) } } }
        }
    }
}

fn group(words: &Words, readiness: &Readiness, state: CheckState) -> Markup {
    let checks: Vec<&Checked> = readiness.of(state).collect();
    let heads = [
        "readiness-column-check",
        "readiness-column-answer",
        "readiness-column-source",
    ];
    let why = |checked: &Checked| {
        let why = words.part(&checked.check, "why");
        why.filter(|why| state == CheckState::NotInOrder && !why.is_empty())
    };
    let table = html! {
        table {
            thead { tr { @for head in heads { th scope="col" { (words.say(head)) } } } }
            tbody {
                @for checked in &checks {
                    tr {
                        td { (words.fact(&checked.check))
                            @if let Some(why) = why(checked) { br; span.soft { (capital(&why)) "." } } }
                        td { (words.fact(*checked)) }
                        td.soft { (words.fact(&checked.check.reference())) }
                    }
                }
            }
        }
    };
    let name = words.fact(&state);
    html! {
        @if !checks.is_empty() {
            h3 { (capital(&name)) ": " (checks.len()) }
            (scrolling(&name, &table))
        }
    }
}
