//! What the owner reads: a first page in plain words, the handover with room for signatures, and a page of its own for a gate
//! that must not be used.

use std::borrow::Cow;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::State;
use super::page::Subject;
use super::place::{places, printed_or_none, state};
use super::sentence::{self, capital};
use super::sheet::{self, RecordDigest};
use super::style::PAGE;
use super::terminal::place_text;
use crate::gate::Shown;
use crate::readiness::CheckState;
use crate::verdict::{Finding, Verdict};
use crate::visit::Assessment;
use crate::words::Words;

/// What makes a gate due for a test before its day; common practice, no source, but for the change, which German rules name.
const BROUGHT_FORWARD: [&str; 6] = [
    "handover-due-change",
    "handover-due-addition",
    "handover-due-knock",
    "handover-due-accident",
    "handover-due-running",
    "handover-due-protection",
];

/// A box, ticked or empty.
fn ticked(words: &Words, is_there: Ticked) -> Markup {
    let (sign, label) = match is_there {
        Ticked::Done => ("☑", "handover-ticked"),
        Ticked::Open => ("☐", "handover-open"),
    };
    html! { span.tick role="img" aria-label=(words.say(label)) { (sign) } }
}

#[derive(Clone, Copy)]
enum Ticked {
    Done,
    Open,
}

/// The first page: for the owner, in plain words.
pub(super) fn owner(subject: &Subject<'_>) -> Markup {
    let (words, assessment) = (subject.words, subject.assessment);
    let handover = assessment.gate.handover.as_ref();
    let due = handover.and_then(|handover| handover.next_due);
    let due = due.map_or_else(
        || words.say("handover-next-visit-unknown").into_owned(),
        |due| {
            let due = [("day", sentence::day(words, due).into())];
            words.with("handover-next-visit", &due)
        },
    );
    html! {
        p { (plain(words, assessment)) }
        @if let Some(what) = do_not_use(words, assessment) { p.caution { (what) } }
        (ready(words, assessment))
        p { (words.say("handover-what-a-test-shows")) }
        p { (due) " " (words.say("handover-due-at-once")) }
        ul { @for event in BROUGHT_FORWARD { li { (words.say(event)) } } }
        p { (words.say("handover-caught")) }
    }
}

fn plain(words: &Words, assessment: &Assessment) -> String {
    let places = places(assessment);
    let count = |wanted: State| {
        let standing = places.iter().filter(|place| place.state() == wanted);
        standing.count().into()
    };
    let found = match assessment.overall().verdict {
        Verdict::Over => "handover-over",
        Verdict::Within => "handover-within",
        Verdict::Undecided => "handover-undecided",
    };
    let visit = assessment.gate.visit.as_ref();
    let day = visit.map_or_else(
        || "none".to_owned(),
        |visit| sentence::day(words, visit.date),
    );
    let fields = [
        ("day", day.into()),
        ("places", places.len().into()),
        ("over", count(State::Over)),
        ("undecided", count(State::Undecided)),
        ("untested", count(State::NotTested)),
    ];
    let told = [
        "handover-tested",
        found,
        "handover-left-open",
        "handover-untested",
    ];
    let mut told = told.map(|id| words.with(id, &fields)).to_vec();
    told.retain(|sentence| !sentence.is_empty());
    told.join(" ")
}

/// That a gate must not be used, and why; `None` where nothing says so.
fn do_not_use<'w>(words: &'w Words, assessment: &Assessment) -> Option<Cow<'w, str>> {
    let over = assessment.overall().verdict == Verdict::Over;
    let failed = assessment.readiness.overall() == CheckState::NotInOrder;
    let id = match (over, failed) {
        (true, true) => "handover-do-not-use-over-and-failed",
        (true, false) => "handover-do-not-use-over",
        (false, true) => "handover-do-not-use-failed",
        (false, false) => return None,
    };
    Some(words.say(id))
}

fn ready(words: &Words, assessment: &Assessment) -> Markup {
    let failed: Vec<_> = assessment.readiness.of(CheckState::NotInOrder).collect();
    let open = assessment.readiness.of(CheckState::NotChecked).count();
    let counts = [
        ("open", open.into()),
        ("checks", assessment.readiness.checks.len().into()),
    ];
    html! {
        @if !failed.is_empty() {
            p { (words.say("handover-not-in-order")) }
            ul { @for checked in failed { li { (words.fact(&checked.check)) " – " (words.fact(checked)) } } }
        }
        @if open > 0 { p { (words.with("handover-checks-open", &counts)) } }
    }
}

/// Room for a date or a signature.
const DOTS: &str = "………………";

/// The handover: what was shown and left, with room to tick and sign.
pub(super) fn section(subject: &Subject<'_>) -> Markup {
    let (words, gate) = (subject.words, &subject.assessment.gate);
    let none = crate::gate::HandoverSection::default();
    let handover = gate.handover.as_ref().unwrap_or(&none);
    let day = |id: &str, day: Option<jiff::civil::Date>| {
        let day = day.map_or_else(|| DOTS.to_owned(), |day| sentence::day(words, day));
        words.with(id, &[("day", day.into())])
    };
    let signing = [
        ("handover-by", &handover.handed_over_by),
        ("handover-received", &handover.received_by),
    ];
    html! {
        @if gate.handover.is_none() { p { (words.say("handover-not-stated")) } }
        h3 { (words.say("handover-shown")) }
        ul.ticks { @for what in Shown::ALL { li {
            (ticked(words, if handover.shown.contains(&what) { Ticked::Done } else { Ticked::Open })) " " (words.fact(&what))
        } } }
        h3 { (words.say("handover-documents")) }
        @if handover.documents.is_empty() { p { (words.say("handover-none-stated")) } }
        ul.ticks { @for what in &handover.documents { li { (ticked(words, Ticked::Done)) " " (what) } } }
        h3 { (words.say("handover-maintenance")) }
        p { @match &handover.maintenance { Some(stated) => (stated), None => (words.say("handover-maintenance-usual")), } }
        p { (day("handover-due", handover.next_due)) }
        table.signatures {
            thead { tr { @for column in ["handover-who", "handover-name", "handover-date", "handover-signature"] { th scope="col" { (words.say(column)) } } } }
            tbody { @for (role, name) in signing {
                tr { th scope="row" { (words.say(role)) } td { (name.as_deref().unwrap_or("")) } td { (day("handover-date-is", handover.date)) } td { (words.say("handover-signature-here")) } }
            } }
        }
    }
}

/// What was done at once and who was told, where the gate file says nothing: to tick by hand.
const DONE: [&str; 4] = [
    "note-done-power",
    "note-done-leaf",
    "note-done-sign",
    "note-done-entrance",
];
const TOLD: [&str; 4] = [
    "note-told-owner",
    "note-told-users",
    "note-told-maintenance",
    "note-told-authority",
];

/// The page of its own for a gate that must not be used, with the digest of its record at the foot; `None` where nothing says so.
#[must_use]
pub fn unsafe_note(
    words: &Words,
    assessment: &Assessment,
    record: &RecordDigest,
) -> Option<Vec<u8>> {
    let what = do_not_use(words, assessment)?;
    let gate = &assessment.gate;
    let handover = gate.handover.as_ref();
    let visit = gate.visit.as_ref();
    let title = [("gate", gate.gate.name.as_str().into())];
    let signing = [
        ("note-told-by", visit.and_then(|it| it.tested_by.as_deref())),
        (
            "handover-received",
            handover.and_then(|it| it.received_by.as_deref()),
        ),
    ];
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            head {
                (sheet::closed_to_the_net())
                title { (words.with("note-tab", &title)) }
                style { (PreEscaped(PAGE)) (PreEscaped(NOTE)) (PreEscaped(OWN_PAGE)) (PreEscaped(record.foot_of_one())) }
            }
            body {
                header {
                    h1 { (gate.gate.name) @if let Some(place) = &gate.gate.place { ", " (place) }
                        @if let Some(visit) = visit { " · " (sentence::day(words, visit.date)) } }
                    p.sentence { (what) }
                }
                main {
                    section { h2 { (words.say("note-found")) } (measured(words, assessment)) }
                    section { h2 { (words.say("note-done")) } (written(words, handover.map(|it| it.done_at_once.as_slice()), &DONE)) }
                    section { h2 { (words.say("note-told")) } (written(words, handover.map(|it| it.told.as_slice()), &TOLD)) }
                    p { (words.say("note-back-in-use")) }
                    table.signatures {
                        thead { tr { @for column in ["handover-who", "handover-name", "note-signature"] { th scope="col" { (words.say(column)) } } } }
                        tbody { @for (role, name) in signing {
                            tr { th scope="row" { (words.say(role)) } td { (name.unwrap_or("")) } td { (words.say("note-signature-here")) } }
                        } }
                    }
                }
            }
        }
    };
    Some(page.into_string().into_bytes())
}

/// How many findings fit on the page; the others are counted.
const ON_THE_PAGE: usize = 9;

fn measured(words: &Words, assessment: &Assessment) -> Markup {
    let over: Vec<&Finding> = assessment
        .findings
        .iter()
        .filter(|finding| finding.counts() && state(finding) == State::Over)
        .collect();
    let failed: Vec<_> = assessment.readiness.of(CheckState::NotInOrder).collect();
    let more = |all: usize| all.saturating_sub(ON_THE_PAGE);
    let left = |id, all| words.with(id, &[("more", more(all).into())]);
    html! {
        ul {
            @for finding in over.iter().take(ON_THE_PAGE) { li { (over_limit(words, assessment, finding)) } }
            @if more(over.len()) > 0 { li { (left("note-more-over", over.len())) } }
            @for checked in failed.iter().take(ON_THE_PAGE) { li { (words.fact(&checked.check)) " – " (words.fact(*checked)) } }
            @if more(failed.len()) > 0 { li { (left("note-more-failed", failed.len())) } }
        }
    }
}

fn over_limit(words: &Words, assessment: &Assessment, finding: &Finding) -> String {
    let motion = assessment.gate.gate.motion;
    let place = finding.test_point.as_ref();
    let place = place.map(|point| place_text(words, point, motion));
    let fields = [
        ("place", place.unwrap_or_else(|| "none".to_owned()).into()),
        ("measure", words.fact(&finding.limit.measure).into()),
        ("value", printed_or_none(words, finding).into()),
        ("limit", finding.limit.value.into()),
        ("unit", finding.limit.unit().into()),
        ("source", words.fact(&finding.limit.source).into()),
    ];
    capital(&words.with("note-over", &fields))
}

/// What the gate file says, else what can be ticked by hand.
fn written(words: &Words, said: Option<&[String]>, else_ticked: &[&str]) -> Markup {
    let said = said.unwrap_or_default();
    html! {
        @if said.is_empty() {
            p.soft { (words.say("note-tick")) }
            ul.ticks { @for what in else_ticked { li { (ticked(words, Ticked::Open)) " " (words.say(what)) } } li { (ticked(words, Ticked::Open)) " " (DOTS) (DOTS) } }
        } @else {
            ul.ticks { @for what in said { li { (ticked(words, Ticked::Done)) " " (what) } } }
        }
    }
}

/// What these pages add to the style of the report.
pub(super) const NOTE: &str = include_str!("handover.css");

/// What the page of its own adds to that.
const OWN_PAGE: &str = include_str!("note.css");
