//! The page: one file that needs nothing beside it, neither network nor script.

use maud::{DOCTYPE, Markup, html};

use super::place::{Place, places};
use super::section;
use super::sentence::Sentence;
use super::sheet::{self, RecordDigest};
use super::style::{DRAWINGS, PAGE};
use super::{DrawingError, State};
use super::{handover, readiness};
use crate::visit::Assessment;

/// What every section is made from.
pub(super) struct Subject<'a> {
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
    assessment: &Assessment,
    record: &RecordDigest,
    budgets: Budgets,
) -> Result<Vec<u8>, DrawingError> {
    let subject = Subject {
        assessment,
        places: places(assessment),
        budgets,
    };
    let sections = [
        ("owner", "For the owner", handover::owner(&subject)),
        (
            "elevation",
            "Where the gate was tested",
            section::elevation::section(&subject),
        ),
        ("next", "What to do next", section::next::section(&subject)),
        ("findings", "Findings", section::findings::section(&subject)),
        (
            "hits",
            "The hits, point by point",
            section::hits::section(&subject)?,
        ),
        (
            "evidence",
            "Limitation and uncertainty",
            section::limitations::section(&subject),
        ),
        (
            "limits",
            "Limits and where each is known from",
            section::limits::section(&subject),
        ),
        (
            "gate",
            "Gate, drive, gauge and visit",
            section::gate::section(&subject),
        ),
        (
            "readiness",
            "Before the gate was driven",
            readiness::section(&subject),
        ),
        ("handover", "Handover", handover::section(&subject)),
        (
            "hazards",
            "Hazards without a reading, cautions and files",
            section::hazards::section(&subject),
        ),
    ];
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            (head(&subject, record))
            body {
                (opening(&subject, &sections))
                main {
                    @for (id, title, content) in &sections {
                        section id=(id) aria-labelledby={ (id) "-title" } {
                            h2 id={ (id) "-title" } { (title) }
                            (content)
                        }
                    }
                }
                (record.closing())
            }
        }
    };
    Ok(page.into_string().into_bytes())
}

fn head(subject: &Subject<'_>, record: &RecordDigest) -> Markup {
    let title = format!("{} · force test", subject.assessment.gate.gate.name);
    sheet::head(&title, &[PAGE, DRAWINGS, handover::NOTE, &record.foot()])
}

fn opening(subject: &Subject<'_>, sections: &[(&str, &str, Markup)]) -> Markup {
    let sentence = Sentence::of(subject.assessment, &subject.places);
    html! {
        header {
            h1 { "Force test of " (subject.assessment.gate.gate.name) }
            p.sentence { (sentence.subject) " " strong { (sentence.outcome) } ". " (sentence.counts) }
            (section::hazards::standing(subject))
            nav aria-label="Contents" {
                ol { @for (id, title, _) in sections { li { a href={ "#" (id) } { (title) } } } }
            }
        }
    }
}

/// A state in words with its mark before it.
pub(super) fn state_words(state: State, share: Option<f64>) -> Markup {
    html! {
        span class={ "state " (state.class()) } {
            svg viewBox="0 0 14 14" width="12" height="12" aria-hidden="true" { (super::mark::mark(state, share, (7.0, 7.0), 5.5)) }
            (state.words())
        }
    }
}

/// A part of the page that scrolls sideways on a narrow screen and can be reached by the keyboard there.
pub(super) fn scrolling(label: &str, content: &Markup) -> Markup {
    html! { div.scroll tabindex="0" role="region" aria-label=(label) { (content) } }
}
