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
use crate::archive::{GateRow, GateState, Offence, Summary, Totals};
use crate::words::{Language, Words};

/// Rows of one state, or of one list, that the page holds; the tables hold all.
const MOST: usize = 500;

/// Room for the name of a gate.
const OWN: &str = "tbody th[scope=\"row\"] { min-width: 13rem; }";

/// The overview as a page of HTML. `tree`: the folder that was looked through, as it was given; `profile`: the limit profile
/// that replaced those of the gate files.
#[must_use]
pub fn overview(summary: &Summary, tree: &str, profile: Option<&str>) -> Vec<u8> {
    let latest = summary.latest();
    let sections = [
        ("gates", "Gates as of their last visit", gates(&latest)),
        (
            "offences",
            "Over on more than one visit",
            offences(&summary.offences()),
        ),
        (
            "unresolved",
            "Over once, and not judged in full since",
            unresolved(&summary.unresolved()),
        ),
        (
            "overdue",
            "Next visit overdue",
            overdue(&summary.overdue(), &latest),
        ),
        ("gauges", "Gauges", gauges(summary)),
        ("visits", "Earlier visits", earlier(summary, &latest)),
        ("about", "How to read this page", about(profile)),
    ];
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            (sheet::head(&format!("Archive of force tests · {tree}"), &[PAGE, DRAWINGS, OWN, sheet::numbered()]))
            body {
                header {
                    h1 { "Archive of force tests: " (tree) }
                    p.sentence { (sentence(summary, &latest)) }
                    p.caution { "A gate within its limits here was within those that were judged, on the day of its test. That is no proof that it is free of danger; local codes and licensed practice come first." }
                    nav aria-label="Contents" { ol { @for (id, title, _) in &sections { li { a href={ "#" (id) } { (title) } } } } }
                }
                main {
                    @for (id, title, content) in &sections {
                        section id=(id) aria-labelledby={ (id) "-title" } { h2 id={ (id) "-title" } { (title) } (content) }
                    }
                }
                footer { p { "Made by relent " (env!("CARGO_PKG_VERSION")) ". The digest of this page stands in archive.json beside it." } }
            }
        }
    };
    page.into_string().into_bytes()
}

fn sentence(summary: &Summary, latest: &[&GateRow]) -> String {
    let (folders, gates) = (summary.gates.len(), latest.len());
    format!(
        "{} in {}, as of {}: {}.",
        Words::of(Language::English).with("gates", &[("count", gates.into())]),
        Words::of(Language::English).with("folders", &[("count", folders.into())]),
        day(Words::of(Language::English), summary.today),
        Totals::of(latest.iter().map(|row| row.state)).words()
    )
}

fn gates(latest: &[&GateRow]) -> Markup {
    html! {
        @for state in GateState::ALL {
            @let rows = of_state(latest, state);
            @if !rows.is_empty() {
                h3 { (capital(state.words())) ": " (rows.len()) }
                @if state == GateState::NotJudged { (not_judged(&rows)) } @else { (table(&rows, state)) }
                (left_out(rows.len()))
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

fn left_out(all: usize) -> Markup {
    html! { @if all > MOST { p.soft { "The first " (MOST) " of " (all) "; gates.csv holds all." } } }
}

fn not_judged(rows: &[&GateRow]) -> Markup {
    html! {
        ul.plain { @for row in rows.iter().take(MOST) {
            li { strong { (row.folder) } @if let Some(gate) = &row.visit.gate { " (" (gate) ")" } ": " (row.complaint.as_deref().unwrap_or("no reason is known")) }
        } }
    }
}

fn table(rows: &[&GateRow], state: GateState) -> Markup {
    let label = capital(state.words());
    scrolling(
        &label,
        &html! {
            table aria-label=(label) {
                thead { tr {
                    th scope="col" { "gate" } th scope="col" { "visit" } th scope="col" { "state" }
                    th scope="colgroup" colspan="2" { "greatest share of a limit, %" }
                    th.number scope="col" { "over" } th.number scope="col" { "undecided" } th.number scope="col" { "points missing" }
                    th scope="col" { "where, and why" }
                } }
                tbody { @for row in rows.iter().take(MOST) { (gate_row(row)) } }
            }
        },
    )
}

fn gate_row(row: &GateRow) -> Markup {
    let shown = shown(row.state);
    html! {
        tr {
            th scope="row" { (row.visit.gate.as_deref().unwrap_or("no name")) @if let Some(place) = &row.visit.place { ", " (place) } br; span.soft { (row.folder) } }
            td.nowrap { @match row.visit.visit_date { Some(day) => (day), None => "no date" } }
            td { (state_words(Words::of(Language::English), shown, row.greatest_share)) }
            @match row.greatest_share {
                Some(share) => {
                    td.bar { (bar(Words::of(Language::English), shown, share, None, &format!("{:.0} % of the limit", share * 100.0))) }
                    td.number { (format!("{:.1}", share * 100.0)) }
                }
                None => { td {} td.number { "–" } }
            }
            td.number { (row.findings_over) } td.number { (row.findings_undecided) } td.number { (row.points_missing) }
            td.reason {
                @if let Some(at) = &row.greatest_share_at { (at) }
                @if !row.reasons.is_empty() { br; (row.reasons.iter().map(|reason| &*reason.text).collect::<Vec<_>>().join("; ")) }
                @if !row.remarks.is_empty() { br; span.soft { (row.remarks.join("; ")) } }
            }
        }
    }
}

const fn shown(state: GateState) -> State {
    match state {
        GateState::Within => State::Within,
        GateState::Over => State::Over,
        GateState::Undecided | GateState::NotJudged => State::Undecided,
    }
}

fn point_words(one: &Offence) -> String {
    let words = Words::of(Language::English);
    one.test_point
        .map(|point| words.fact(&point))
        .unwrap_or_default()
}

fn offences(all: &[&Offence]) -> Markup {
    if all.is_empty() {
        return html! { p { "No test point was over the same limit on more than one visit." } };
    }
    html! {
        p { "The same test point over the same limit on more than one day: what was done in between did not help, or nothing was done." }
        (scrolling("Over on more than one visit", &html! {
            table {
                thead { tr { th scope="col" { "gate" } th scope="col" { "limit" } th scope="col" { "test point" } th scope="col" { "over on" } } }
                tbody { @for one in all.iter().take(MOST) {
                    tr {
                        th scope="row" { (one.gate) @if let Some(place) = &one.place { ", " (place) } }
                        td { (one.limit) } td { (point_words(one)) } td { (one.listed()) }
                    }
                } }
            }
        }))
        @if all.len() > MOST { p.soft { "The first " (MOST) " of " (all.len()) "; archive.json holds all." } }
    }
}

fn unresolved(rows: &[&GateRow]) -> Markup {
    html! {
        @if rows.is_empty() { p { "Of every gate that was over a limit, the last visit is that one, or a later one was over or within." } }
        @else {
            p { "These visits were over a limit; later ones to the same gate left it undecided or could not be judged. Whether it was put right is not known." }
            ul.plain { @for row in rows.iter().take(MOST) {
                li { @if let Some(day) = row.visit.visit_date { strong { (day) } ": " } (row.visit.gate.as_deref().unwrap_or("no name")) @if let Some(place) = &row.visit.place { ", " (place) } " " span.soft { (row.folder) } }
            } }
            (left_out(rows.len()))
        }
    }
}

fn overdue(rows: &[(&GateRow, Date)], latest: &[&GateRow]) -> Markup {
    let without = latest
        .iter()
        .filter(|row| row.visit.next_due.is_none())
        .count();
    html! {
        @if rows.is_empty() { p { "No gate whose last visit named a day for the next one is overdue." } }
        @else {
            ul.plain { @for (row, due) in rows.iter().take(MOST) {
                li { strong { (due) } ": " (row.visit.gate.as_deref().unwrap_or("no name")) @if let Some(place) = &row.visit.place { ", " (place) } " " span.soft { (row.folder) } }
            } }
            @if rows.len() > MOST { p.soft { "The first " (MOST) " of " (rows.len()) "." } }
        }
        @if without > 0 { p { (without) " of " (latest.len()) " name no day for the next visit ([handover] next_due in the gate file): whether they are overdue is not known." } }
    }
}

fn gauges(summary: &Summary) -> Markup {
    let expired = summary.expired();
    let nameless = summary
        .gates
        .iter()
        .filter(|row| row.state != GateState::NotJudged && row.visit.gauge_serial.is_none())
        .count();
    html! {
        @if expired.is_empty() { p { "No gauge with a serial number is without a calibration that holds today, as far as the gate files say." } }
        @else {
            p { "No calibration that the gate files name holds today. Whether a test of the past was covered stands with its findings." }
            ul.plain { @for gauge in expired.iter().take(MOST) {
                li { strong { (gauge.serial) } ": until " (gauge.calibration_due) ", used on " (gauge.folders.len()) @if gauge.folders.len() == 1 { " visit" } @else { " visits" } }
            } }
        }
        @if nameless > 0 { p { (nameless) " folders name no serial number of a gauge." } }
    }
}

fn earlier(summary: &Summary, latest: &[&GateRow]) -> Markup {
    let all = summary.totals();
    html! {
        p {
            (summary.gates.len() - latest.len()) " of the " (summary.gates.len()) " folders are earlier visits to gates listed above. All folders: "
            (all.over) " over the limit, " (all.undecided) " undecided, " (all.within) " within the limits that were judged, " (all.not_judged) " that could not be judged."
        }
    }
}

fn about(profile: Option<&str>) -> Markup {
    html! {
        p { "A gate is told from others by its name and its place as its gate file writes them; its last visit is the one with the latest date. Within a state, the gate with the greatest value as a share of its limit stands first." }
        @if let Some(profile) = profile { p { strong { "Every folder was judged against " (profile) ", whatever its gate file names." } } }
        p { "Every finding stands in findings.csv, every folder in gates.csv, and both with their digests in archive.json." }
        ul { @for caution in cautions(Words::of(Language::English)) { li { (caution) } } }
    }
}
