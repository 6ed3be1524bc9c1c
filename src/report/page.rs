//! The page: one file that needs nothing beside it, neither network nor script.

use std::borrow::Cow;

use maud::{DOCTYPE, Markup, html};

use super::place::{Place, places};
use super::section;
use super::sentence::{Sentence, capital};
use super::sheet::{self, RecordDigest};
use super::style::{DRAWINGS, PAGE};
use super::{DrawingError, State};
use super::{handover, readiness};
use crate::visit::Assessment;
use crate::words::Words;

/// What every section is made from.
pub(super) struct Subject<'a> {
    pub(super) words: &'a Words,
    pub(super) assessment: &'a Assessment,
    pub(super) places: Vec<Place<'a>>,
    pub(super) budgets: Budgets,
}

/// Which uncertainty budgets the page prints line by line; the machine-readable record holds all of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Budgets {
    /// Of each measure that of the value nearest to its limit.
    #[default]
    Nearest,
    /// Those of every finding that decides.
    Every,
}

/// The report as a page of HTML. The digest of its record stands at the end of the page and at the foot of every printed sheet.
///
/// # Errors
/// [`DrawingError`] if a drawing cannot be made.
pub fn html(
    words: &Words,
    assessment: &Assessment,
    record: &RecordDigest,
    budgets: Budgets,
) -> Result<Vec<u8>, DrawingError> {
    let subject = &Subject {
        words,
        assessment,
        places: places(assessment),
        budgets,
    };
    let sections = [
        (
            "owner",
            words.say("report-section-owner"),
            handover::owner(subject),
        ),
        (
            "elevation",
            words.say("report-section-points"),
            section::elevation::section(subject),
        ),
        (
            "next",
            words.say("report-section-next"),
            section::next::section(subject),
        ),
        (
            "findings",
            words.say("report-section-findings"),
            section::findings::section(subject),
        ),
        (
            "hits",
            words.say("report-section-hits"),
            section::hits::section(subject)?,
        ),
        (
            "limitations",
            words.say("report-section-limitations"),
            section::limitations::section(subject),
        ),
        (
            "limits",
            words.say("report-section-limits"),
            section::limits::section(subject),
        ),
        (
            "gate",
            words.say("report-section-gate"),
            section::gate::section(subject),
        ),
        (
            "readiness",
            words.say("report-section-readiness"),
            readiness::section(subject),
        ),
        (
            "handover",
            words.say("report-section-handover"),
            handover::section(subject),
        ),
        (
            "hazards",
            words.say("report-section-hazards"),
            section::hazards::section(subject),
        ),
    ];
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            (head(subject, record))
            body {
                (opening(subject, &sections))
                main {
                    @for (id, title, content) in &sections {
                        section id=(id) aria-labelledby={ (id) "-title" } {
                            h2 id={ (id) "-title" } { (title) }
                            (content)
                        }
                    }
                }
                (record.closing(words))
            }
        }
    };
    Ok(page.into_string().into_bytes())
}

fn head(subject: &Subject<'_>, record: &RecordDigest) -> Markup {
    let name = &subject.assessment.gate.gate.name;
    let title = subject
        .words
        .with("report-title", &[("gate", name.as_str().into())]);
    sheet::head(&title, &[PAGE, DRAWINGS, handover::NOTE, &record.foot()])
}

fn opening(subject: &Subject<'_>, sections: &[(&str, Cow<'_, str>, Markup)]) -> Markup {
    let words = subject.words;
    let sentence = Sentence::of(words, subject.assessment, &subject.places);
    let gate = [("gate", subject.assessment.gate.gate.name.as_str().into())];
    html! {
        header {
            h1 { (words.with("report-heading", &gate)) }
            p.sentence { (sentence.subject) " " strong { (sentence.outcome) } ". " (sentence.counts) }
            (told(subject))
            (section::hazards::standing(subject))
            nav aria-label=(words.say("report-contents")) {
                ol { @for (id, title, _) in sections { li { a href={ "#" (id) } { (title) } } } }
            }
        }
    }
}

/// Why the whole is open, and what must be told whatever the verdict.
fn told(subject: &Subject<'_>) -> Markup {
    let (words, assessment) = (subject.words, subject.assessment);
    let open = words.facts(&assessment.overall().reasons);
    let told: Vec<String> = open
        .into_iter()
        .chain(words.facts(&assessment.told()))
        .collect();
    html! {
        @if !told.is_empty() { ul { @for one in &told { li { (capital(one)) "." } } } }
    }
}

/// A state in words with its mark before it.
pub(super) fn state_words(words: &Words, state: State, share: Option<f64>) -> Markup {
    html! {
        span class={ "state " (state.class()) } {
            svg viewBox="0 0 14 14" width="12" height="12" aria-hidden="true" { (super::mark::mark(state, share, (7.0, 7.0), 5.5)) }
            (words.fact(&state))
        }
    }
}

/// A part of the page that scrolls sideways on a narrow screen and can be reached by the keyboard there.
pub(super) fn scrolling(label: &str, content: &Markup) -> Markup {
    html! { div.scroll tabindex="0" role="region" aria-label=(label) { (content) } }
}
