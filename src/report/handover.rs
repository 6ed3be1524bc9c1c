//! What the owner reads: a first page in plain words, the handover with room for signatures, and a page of its own for a gate
//! that must not stay as it is.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::State;
use super::page::Subject;
use super::place::{gap_and_height, places, printed, state};
use super::sentence::{self, capital};
use super::sheet::{self, RecordDigest};
use super::style::PAGE;
use crate::gate::Shown;
use crate::readiness::CheckState;
use crate::verdict::{Finding, Verdict};
use crate::visit::Assessment;
use crate::words::{Language, Words};

/// What makes a gate due for a test before its day; common practice, no source, but for the change, which German rules name.
const BROUGHT_FORWARD: [&str; 6] = [
    "a repair, a new part, new firmware or a changed setting of the drive",
    "something added to the leaf: infill, sign, lock",
    "a knock by a vehicle, a storm, or ground that has moved",
    "an accident, or somebody hit or caught, even without harm",
    "a leaf that runs harder, louder or slower than before, or turns back without reason",
    "a light beam, an edge or the manual release that does not act as shown",
];

/// A box, ticked or empty.
fn ticked(is_there: Ticked) -> Markup {
    let (sign, words) = match is_there {
        Ticked::Done => ("☑", "done"),
        Ticked::Open => ("☐", "open"),
    };
    html! { span.tick role="img" aria-label=(words) { (sign) } }
}

#[derive(Clone, Copy)]
enum Ticked {
    Done,
    Open,
}

/// The first page: for the owner, in plain words.
pub(super) fn owner(subject: &Subject<'_>) -> Markup {
    let assessment = subject.assessment;
    let handover = assessment.gate.handover.as_ref();
    let due = handover.and_then(|handover| handover.next_due);
    html! {
        p { (plain(assessment)) }
        @if let Some(what) = must_not_stay(assessment) { p.caution { (what) } }
        (ready(assessment))
        p { "A force test says how hard the leaf pushes at the places listed, on that day. It does not say that nothing can happen: some places of a gate cannot be measured, and are listed at the end." }
        p { @match due {
            Some(day) => { "The next visit is due on " strong { (sentence::day(Words::of(Language::English), day)) } ". It is due at once after:" },
            None => "No day for the next visit is written down. A visit is due at once after:",
        } }
        ul { @for event in BROUGHT_FORWARD { li { (event) } } }
        p { "If somebody is caught: power off, release the drive by hand, move the leaf away. Do not try again with the power on." }
    }
}

fn plain(assessment: &Assessment) -> String {
    let when = assessment
        .gate
        .visit
        .as_ref()
        .map_or_else(String::new, |visit| {
            format!(
                " on {}",
                sentence::day(Words::of(Language::English), visit.date)
            )
        });
    let places = places(assessment);
    let count = |wanted: State| {
        places
            .iter()
            .filter(|place| place.state() == wanted)
            .count()
    };
    let all = places.len();
    let (over, undecided, untested) = (
        count(State::Over),
        count(State::Undecided),
        count(State::NotTested),
    );
    let found = match assessment.overall().verdict {
        Verdict::Over => {
            format!("At {over} of {all} places it pushed harder or longer than the limit.")
        }
        Verdict::Within => {
            format!("At all {all} places the push stayed within the limits that were judged.")
        }
        Verdict::Undecided => {
            "It could not be shown everywhere that the push stays within the limits.".to_owned()
        }
    };
    let were = |count: usize| match count {
        1 => "1 wanted place was not tested".to_owned(),
        _ => format!("{count} wanted places were not tested"),
    };
    let untested_words = were(untested);
    let open = match (undecided, untested) {
        (0, 0) => String::new(),
        (_, 0) => format!(" At {undecided} the readings leave it open."),
        (0, _) => format!(" {untested_words}."),
        (_, _) => format!(" At {undecided} the readings leave it open, and {untested_words}."),
    };
    format!(
        "We held a force gauge into the way of the gate{when} and let the leaf run against it. {found}{open}"
    )
}

/// The words for a gate that must not stay as it is; `None` where nothing says so.
fn must_not_stay(assessment: &Assessment) -> Option<&'static str> {
    let over = assessment.overall().verdict == Verdict::Over;
    let failed = assessment.readiness.overall() == CheckState::NotInOrder;
    match (over, failed) {
        (true, true) => Some(
            "This gate must not stay as it is: the leaf pushes over the limit, and something else is not in order. Take it out of use, or keep everybody away from it while it moves, until both are put right and tested again.",
        ),
        (true, false) => Some(
            "This gate must not stay as it is: the leaf pushes over the limit. Take it out of use, or keep everybody away from it while it moves, until this is put right and tested again.",
        ),
        (false, true) => Some(
            "This gate must not stay as it is: something on it is not in order. Take it out of use until it is put right and looked at again.",
        ),
        (false, false) => None,
    }
}

fn ready(assessment: &Assessment) -> Markup {
    let words = Words::of(Language::English);
    let failed: Vec<_> = assessment.readiness.of(CheckState::NotInOrder).collect();
    let open = assessment.readiness.of(CheckState::NotChecked).count();
    html! {
        @if !failed.is_empty() {
            p { "Not in order on the gate itself:" }
            ul { @for checked in failed { li { (words.fact(&checked.check)) " – " (words.fact(checked)) } } }
        }
        @if open > 0 {
            p {
                (open) " of " (assessment.readiness.checks.len()) " checks of the gate itself "
                @if open == 1 { "has no answer; nobody can say that it is in order." }
                @else { "have no answer; nobody can say that they are in order." }
            }
        }
    }
}

/// The handover: what was shown and left, with room to tick and sign.
pub(super) fn section(subject: &Subject<'_>) -> Markup {
    let words = Words::of(Language::English);
    let gate = &subject.assessment.gate;
    let none = crate::gate::HandoverSection::default();
    let handover = gate.handover.as_ref().unwrap_or(&none);
    let day = |day: Option<jiff::civil::Date>| {
        day.map_or_else(|| "………………".to_owned(), |day| sentence::day(words, day))
    };
    html! {
        @if gate.handover.is_none() { p { "The gate file has no [handover]: nothing of it counts as done. The list can be filled in by hand." } }
        h3 { "Shown to the owner, who then did it" }
        ul.ticks { @for what in Shown::ALL { li {
            (ticked(if handover.shown.contains(&what) { Ticked::Done } else { Ticked::Open })) " " (words.fact(&what))
        } } }
        h3 { "Documents left" }
        @if handover.documents.is_empty() { p { "None is written down." } }
        ul.ticks { @for what in &handover.documents { li { (ticked(Ticked::Done)) " " (what) } } }
        h3 { "Maintenance" }
        p { @match &handover.maintenance { Some(words) => (words), None => "None is written down. Common intervals: every six months in commercial use, yearly in light use (United Kingdom, second-hand); at least every six months with a log (France, read); a test before first use, after a major change and yearly (Germany, second-hand).", } }
        p { "Next visit due: " strong { (day(handover.next_due)) } ", and at once after any event of the first page." }
        table.signatures {
            thead { tr { th scope="col" { "who" } th scope="col" { "name" } th scope="col" { "date" } th scope="col" { "signature" } } }
            tbody {
                tr { th scope="row" { "Handed over by" } td { (handover.handed_over_by.as_deref().unwrap_or("")) } td { "date: " (day(handover.date)) } td { "signature: ………………………" } }
                tr { th scope="row" { "Received by" } td { (handover.received_by.as_deref().unwrap_or("")) } td { "date: " (day(handover.date)) } td { "signature: ………………………" } }
            }
        }
    }
}

/// The page of its own for a gate that must not stay as it is, with the digest of its record at the foot; `None` where nothing
/// says so.
#[must_use]
pub fn unsafe_note(assessment: &Assessment, record: &RecordDigest) -> Option<Vec<u8>> {
    let what = must_not_stay(assessment)?;
    let gate = &assessment.gate;
    let handover = gate.handover.as_ref();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                (sheet::closed_to_the_net())
                title { (gate.gate.name) " · must not stay as it is" }
                style { (PreEscaped(PAGE)) (PreEscaped(NOTE)) (PreEscaped(OWN_PAGE)) (PreEscaped(record.foot_of_one())) }
            }
            body {
                header {
                    h1 { (gate.gate.name) @if let Some(place) = &gate.gate.place { ", " (place) }
                        @if let Some(visit) = &gate.visit { " · " (sentence::day(Words::of(Language::English), visit.date)) } }
                    p.sentence { (what) }
                }
                main {
                    section { h2 { "What was measured and seen" } (measured(assessment)) }
                    section { h2 { "What was done at once" } (written(handover.map(|it| it.done_at_once.as_slice()), &[
                        "power isolated and locked off", "leaf released, secured by hand and left closed or open", "sign hung at both sides", "entrance shut off for people on foot",
                    ])) }
                    section { h2 { "Who must be told, and was told" } (written(handover.map(|it| it.told.as_slice()), &[
                        "the owner, in person and with this page", "whoever uses or manages the gate", "whoever maintains or installed it", "the authority, where local law asks for it",
                    ])) }
                    p { "It may be used again when the cause is put right, every point is tested anew, and somebody entitled to it says so in writing. Local law says who must be told and when; it comes before this page." }
                    table.signatures { thead { tr { th scope="col" { "who" } th scope="col" { "name" } th scope="col" { "signature and date" } } } tbody {
                        tr { th scope="row" { "Told by" } td { (gate.visit.as_ref().and_then(|visit| visit.tested_by.as_deref()).unwrap_or("")) } td { "signature, date: ………………………" } }
                        tr { th scope="row" { "Received by" } td { (handover.and_then(|it| it.received_by.as_deref()).unwrap_or("")) } td { "signature, date: ………………………" } }
                    } }
                }
            }
        }
    };
    Some(page.into_string().into_bytes())
}

/// How many findings fit on the page; the others are counted.
const ON_THE_PAGE: usize = 9;

fn measured(assessment: &Assessment) -> Markup {
    let motion = assessment.gate.gate.motion;
    let over: Vec<&Finding> = assessment
        .findings
        .iter()
        .filter(|finding| finding.decides() && state(finding) == State::Over)
        .collect();
    let words = Words::of(Language::English);
    let failed: Vec<_> = assessment.readiness.of(CheckState::NotInOrder).collect();
    let (of, most) = (over.len(), ON_THE_PAGE);
    html! {
        ul {
            @for finding in over.iter().take(most) {
                li {
                    @if let Some(point) = &finding.test_point { (capital(&point.direction.to_string())) ", " (gap_and_height(Words::of(Language::English), point, motion)) ": " }
                    (finding.limit.measure) " " strong { (printed(finding).unwrap_or_else(|| "no value".to_owned())) }
                    ", limit " (finding.limit.value) " " (finding.limit.unit()) span.soft { " (" (finding.limit.known_from) ")" }
                }
            }
            @if of > most { li { "and " (of - most) " more values over their limit, in the report" } }
            @for checked in failed.iter().take(most) { li { (words.fact(&checked.check)) " – " (words.fact(*checked)) } }
            @if failed.len() > most { li { "and " (failed.len() - most) " more checks not in order, in the report" } }
        }
    }
}

/// What the gate file says, else what can be ticked by hand.
fn written(said: Option<&[String]>, else_ticked: &[&str]) -> Markup {
    let said = said.unwrap_or_default();
    html! {
        @if said.is_empty() {
            p.soft { "Nothing is written down. Tick what was done:" }
            ul.ticks { @for what in else_ticked { li { (ticked(Ticked::Open)) " " (what) } } li { (ticked(Ticked::Open)) " ……………………………………" } }
        } @else {
            ul.ticks { @for what in said { li { (ticked(Ticked::Done)) " " (what) } } }
        }
    }
}

/// What these pages add to the style of the report.
pub(super) const NOTE: &str = "
ul.ticks { list-style: none; padding-left: 1.6em; }
ul.ticks > li { text-indent: -1.6em; }
.tick { display: inline-block; width: 1.4em; text-indent: 0; }
ul.two { columns: 18rem; column-gap: 2rem; font-size: 9.5pt; }
table.signatures td, table.signatures th { padding-top: 1.4rem; }
@media print { #elevation, #handover { break-before: page; } }
";

/// What the page of its own adds to that.
const OWN_PAGE: &str = "
main > section { margin-top: 1.4rem; }
@page { margin: 16mm 15mm; }
";
