//! The overview of an archive: how its gates stand, which visits are overdue, which gauges have expired, what keeps coming back.

use jiff::civil::Date;
use maud::{DOCTYPE, Markup, html};

use super::State;
use super::bar::bar;
use super::cautions::cautions;
use super::page::{scrolling, state_words};
use super::sentence::{capital, day};
use super::sheet;
use super::style::{DRAWINGS, PAGE};
use crate::archive::{GateRow, GateState, Gauge, Offence, Summary, Totals};
use crate::words::Words;

/// Rows of one state, or of one list, that the page holds; the tables hold all.
const MOST: usize = 500;

/// Room for the name of a gate.
const OWN: &str = "tbody th[scope=\"row\"] { min-width: 13rem; }";

/// The overview as a page of HTML. `tree`: the folder that was looked through, as it was given; `profile`: the limit profile
/// that replaced those of the gate files.
#[must_use]
pub fn overview(words: &Words, summary: &Summary, tree: &str, profile: Option<&str>) -> Vec<u8> {
    let latest = summary.latest();
    let sections = [
        ("gates", "archive-gates", gates(words, &latest)),
        (
            "offences",
            "archive-offences",
            offences(words, &summary.offences()),
        ),
        (
            "unresolved",
            "archive-unresolved",
            unresolved(words, &summary.unresolved()),
        ),
        (
            "overdue",
            "archive-overdue",
            overdue(words, &summary.overdue(), &latest),
        ),
        ("gauges", "archive-gauges", gauges(words, summary)),
        ("visits", "archive-visits", earlier(words, summary, &latest)),
        ("about", "archive-about", about(words, profile)),
    ];
    let title = [("tree", tree.into())];
    let version = [("version", env!("CARGO_PKG_VERSION").into())];
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            (sheet::head(&words.with("archive-tab", &title), &[PAGE, DRAWINGS, OWN, sheet::numbered()]))
            body {
                header {
                    h1 { (words.with("archive-title", &title)) }
                    p.sentence { (sentence(words, summary, &latest)) }
                    p.caution { (words.say("archive-standing")) }
                    nav aria-label=(words.say("report-contents")) { ol { @for (id, title, _) in &sections { li { a href={ "#" (id) } { (words.say(title)) } } } } }
                }
                main {
                    @for (id, title, content) in &sections {
                        section id=(id) aria-labelledby={ (id) "-title" } { h2 id={ (id) "-title" } { (words.say(title)) } (content) }
                    }
                }
                footer { p { (words.with("report-made-by", &version)) " " (words.say("archive-digest")) } }
            }
        }
    };
    page.into_string().into_bytes()
}

fn sentence(words: &Words, summary: &Summary, latest: &[&GateRow]) -> String {
    let count = |count: usize| [("count", count.into())];
    let states = Totals::of(latest.iter().map(|row| row.state));
    let fields = [
        ("gates", words.with("gates", &count(latest.len())).into()),
        (
            "folders",
            words.with("folders", &count(summary.gates.len())).into(),
        ),
        ("day", day(words, summary.today).into()),
        ("states", states.text(words).into()),
    ];
    words.with("archive-sentence", &fields)
}

fn gates(words: &Words, latest: &[&GateRow]) -> Markup {
    let heading = |state: GateState, count: usize| {
        let state = capital(&words.fact(&state)).into();
        words.with(
            "archive-state",
            &[("state", state), ("count", count.into())],
        )
    };
    html! {
        @for state in GateState::ALL {
            @let rows = of_state(latest, state);
            @if !rows.is_empty() {
                h3 { (heading(state, rows.len())) }
                @if state == GateState::NotAssessed { (not_assessed(words, &rows)) } @else { (table(words, &rows, state)) }
                (left_out(words, rows.len(), Some("gates.csv")))
            }
        }
    }
}

/// The rows of one state, those nearest to or farthest over a limit first.
fn of_state<'a>(rows: &[&'a GateRow], state: GateState) -> Vec<&'a GateRow> {
    let mut rows: Vec<&GateRow> = rows
        .iter()
        .filter(|row| row.state == state)
        .copied()
        .collect();
    let share = |row: &GateRow| row.greatest_share.unwrap_or(0.0);
    rows.sort_by(|one, other| {
        share(other)
            .total_cmp(&share(one))
            .then_with(|| one.folder.cmp(&other.folder))
    });
    rows
}

/// That a list holds the first rows only, and which file holds all.
fn left_out(words: &Words, all: usize, file: Option<&str>) -> Markup {
    let fields = [
        ("most", MOST.into()),
        ("all", all.into()),
        ("file", file.unwrap_or("none").into()),
    ];
    html! { @if all > MOST { p.soft { (words.with("archive-left-out", &fields)) } } }
}

/// The name of a gate and its place.
fn name(words: &Words, gate: Option<&str>, place: Option<&str>) -> String {
    let fields = [
        ("gate", gate.unwrap_or("none").into()),
        ("place", place.unwrap_or("none").into()),
    ];
    words.with("archive-name", &fields)
}

fn name_of(words: &Words, row: &GateRow) -> String {
    name(words, row.visit.gate.as_deref(), row.visit.place.as_deref())
}

fn not_assessed(words: &Words, rows: &[&GateRow]) -> Markup {
    let why = |row: &GateRow| {
        let why = row.complaint.clone();
        why.unwrap_or_else(|| words.say("archive-no-reason").into_owned())
    };
    html! {
        ul.plain { @for row in rows.iter().take(MOST) {
            li { strong { (row.folder) } @if let Some(gate) = &row.visit.gate { " (" (gate) ")" } ": " (why(row)) }
        } }
    }
}

fn table(words: &Words, rows: &[&GateRow], state: GateState) -> Markup {
    let label = capital(&words.fact(&state));
    scrolling(
        &label,
        &html! {
            table aria-label=(label) {
                thead { tr {
                    @for column in ["archive-column-gate", "archive-column-visit", "archive-column-state"] { th scope="col" { (words.say(column)) } }
                    th scope="colgroup" colspan="2" { (words.say("archive-column-share")) }
                    @for column in ["archive-column-over", "archive-column-undecided", "archive-column-missing"] { th.number scope="col" { (words.say(column)) } }
                    th scope="col" { (words.say("archive-column-reason")) }
                } }
                tbody { @for row in rows.iter().take(MOST) { (gate_row(words, row)) } }
            }
        },
    )
}

fn gate_row(words: &Words, row: &GateRow) -> Markup {
    let shown = shown(row.state);
    let percent = |id, share: f64| words.with(id, &[("percent", (share * 100.0).into())]);
    let reasons: Vec<&str> = row.reasons.iter().map(|reason| &*reason.text).collect();
    html! {
        tr {
            th scope="row" { (name_of(words, row)) br; span.soft { (row.folder) } }
            td.nowrap { @match row.visit.visit_date { Some(day) => (day), None => (words.say("archive-no-date")) } }
            td { (state_words(words, shown, row.greatest_share)) }
            @match row.greatest_share {
                Some(share) => {
                    td.bar { (bar(words, shown, share, None, &percent("archive-share", share))) }
                    td.number { (percent("archive-percent", share)) }
                }
                None => { td {} td.number { "–" } }
            }
            td.number { (row.findings_over) } td.number { (row.findings_undecided) } td.number { (row.points_missing) }
            td.reason {
                @if let Some(at) = &row.greatest_share_at { (at) }
                @if !reasons.is_empty() { br; (reasons.join("; ")) }
                @if !row.remarks.is_empty() { br; span.soft { (row.remarks.join("; ")) } }
            }
        }
    }
}

const fn shown(state: GateState) -> State {
    match state {
        GateState::Within => State::Within,
        GateState::Over => State::Over,
        GateState::Undecided | GateState::NotAssessed => State::Undecided,
    }
}

fn offences(words: &Words, all: &[&Offence]) -> Markup {
    let columns = [
        "archive-column-gate",
        "archive-column-limit",
        "archive-column-point",
        "archive-column-over-on",
    ];
    let point = |one: &Offence| one.test_point.map(|point| words.fact(&point));
    html! {
        @if all.is_empty() { p { (words.say("archive-no-offences")) } }
        @else {
            p { (words.say("archive-offences-note")) }
            (scrolling(&words.say("archive-offences"), &html! {
                table {
                    thead { tr { @for column in columns { th scope="col" { (words.say(column)) } } } }
                    tbody { @for one in all.iter().take(MOST) {
                        tr {
                            th scope="row" { (name(words, Some(&one.gate), one.place.as_deref())) }
                            td { (one.limit) } td { (point(one).unwrap_or_default()) } td { (one.listed()) }
                        }
                    } }
                }
            }))
            (left_out(words, all.len(), Some("archive.json")))
        }
    }
}

fn unresolved(words: &Words, rows: &[&GateRow]) -> Markup {
    html! {
        @if rows.is_empty() { p { (words.say("archive-none-unresolved")) } }
        @else {
            p { (words.say("archive-unresolved-note")) }
            ul.plain { @for row in rows.iter().take(MOST) {
                li { @if let Some(day) = row.visit.visit_date { strong { (day) } ": " } (name_of(words, row)) " " span.soft { (row.folder) } }
            } }
            (left_out(words, rows.len(), Some("gates.csv")))
        }
    }
}

fn overdue(words: &Words, rows: &[(&GateRow, Date)], latest: &[&GateRow]) -> Markup {
    let without = latest.iter().filter(|row| row.visit.next_due.is_none());
    let without = without.count();
    let unknown = [("without", without.into()), ("gates", latest.len().into())];
    html! {
        @if rows.is_empty() { p { (words.say("archive-none-overdue")) } }
        @else {
            ul.plain { @for (row, due) in rows.iter().take(MOST) {
                li { strong { (due) } ": " (name_of(words, row)) " " span.soft { (row.folder) } }
            } }
            (left_out(words, rows.len(), None))
        }
        @if without > 0 { p { (words.with("archive-overdue-unknown", &unknown)) } }
    }
}

fn gauges(words: &Words, summary: &Summary) -> Markup {
    let expired = summary.expired();
    let nameless = summary
        .gates
        .iter()
        .filter(|row| row.state != GateState::NotAssessed && row.visit.gauge_serial.is_none())
        .count();
    let used = |gauge: &Gauge| {
        let fields = [
            ("due", gauge.calibration_due.to_string().into()),
            ("visits", gauge.folders.len().into()),
        ];
        words.with("archive-gauge", &fields)
    };
    html! {
        @if expired.is_empty() { p { (words.say("archive-none-expired")) } }
        @else {
            p { (words.say("archive-expired-note")) }
            ul.plain { @for gauge in expired.iter().take(MOST) { li { strong { (gauge.serial) } ": " (used(gauge)) } } }
        }
        @if nameless > 0 { p { (words.with("archive-gauge-not-named", &[("folders", nameless.into())])) } }
    }
}

fn earlier(words: &Words, summary: &Summary, latest: &[&GateRow]) -> Markup {
    let fields = [
        ("earlier", (summary.gates.len() - latest.len()).into()),
        ("folders", summary.gates.len().into()),
        ("states", summary.totals().text(words).into()),
    ];
    html! { p { (words.with("archive-earlier", &fields)) } }
}

fn about(words: &Words, profile: Option<&str>) -> Markup {
    html! {
        p { (words.say("archive-order")) }
        @if let Some(profile) = profile { p { strong { (words.with("archive-one-profile", &[("profile", profile.into())])) } } }
        p { (words.say("archive-files")) }
        ul { @for caution in cautions(words) { li { (caution) } } }
    }
}
