//! The page of a history.

use maud::{DOCTYPE, Markup, html};

use super::plot::history_plot;
use super::{OWN, letter, letters, trend_words};
use crate::record::history::{History, Outlook, Series, Stretch};
use crate::report::cautions::cautions;
use crate::report::page::{scrolling, state_words};
use crate::report::sheet::{self, RecordDigest};
use crate::report::style::{DRAWINGS, PAGE};
use crate::words::{Language, Words};

/// The page. `digest`: SHA-256 of `history.json`, in hexadecimal.
#[must_use]
pub fn history_page(history: &History, digest: &str) -> Vec<u8> {
    let record = RecordDigest::history(digest);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            (sheet::head(&format!("{} · history", history.gate), &[PAGE, DRAWINGS, OWN, &record.foot()]))
            body {
                header {
                    h1 { "History of " (history.gate) @if let Some(place) = &history.place { ", " (place) } }
                    p.sentence { (sentence(history)) }
                    p.caution { "Past visits say how hard the leaf hit a gauge on their days. They are not proof that the gate is free of danger today; local codes and licensed practice come first." }
                }
                main {
                    (section("What moves", &moves(history)))
                    (section("Visits and changes", &visits(history)))
                    (section("Point by point", &points(history)))
                    (section("How to read this page", &about()))
                }
                (record.closing(Words::of(Language::English)))
            }
        }
    };
    page.into_string().into_bytes()
}

fn section(title: &str, content: &Markup) -> Markup {
    html! { section aria-label=(title) { h2 { (title) } (content) } }
}

fn sentence(history: &History) -> String {
    let count = history.visits.len();
    let plural = if count == 1 { "" } else { "s" };
    let days = match (history.visits.first(), history.visits.last()) {
        (Some(first), Some(last)) if first.date != last.date => {
            format!(", {} to {}", first.date, last.date)
        }
        (Some(only), _) => format!(", {}", only.date),
        (None, _) => String::new(),
    };
    let rising = shown(history)
        .filter(|(_, stretch)| {
            stretch
                .trend
                .as_ref()
                .is_ok_and(|it| it.slope_per_year > 0.0)
        })
        .count();
    let moving = match rising {
        0 => "No value is shown to rise".to_owned(),
        1 => "One value is shown to rise".to_owned(),
        more => format!("{more} values are shown to rise"),
    };
    format!("{count} visit{plural}{days}. {moving}.")
}

/// Stretches up to the last visit whose slope is shown, of limits that decide.
fn shown(history: &History) -> impl Iterator<Item = (&Series, &Stretch)> {
    let deciding = history.series.iter().filter(|series| series.decides);
    deciding.filter_map(|series| {
        let last = series.stretches.last()?;
        let trend = last.trend.as_ref().ok()?;
        (trend.is_shown() && trend.outlook != Outlook::ChangedSince).then_some((series, last))
    })
}

fn moves(history: &History) -> Markup {
    let shown: Vec<_> = shown(history).collect();
    html! {
        @if shown.is_empty() {
            p { "Since the last change of the gate no value has three complete readings that show a movement. That does not show that nothing moves." }
        } @else {
            ul { @for (series, stretch) in shown {
                @if let Ok(trend) = &stretch.trend { li { strong { (Words::of(Language::English).fact(&series.measure)) } ", " (series.point()) ": " (trend_words(trend, series)) "." } }
            } }
        }
        @for remark in &history.remarks { p { (remark) } }
    }
}

fn visits(history: &History) -> Markup {
    html! {
        (scrolling("Visits", &html! {
            table {
                thead { tr {
                    th scope="col" { "day" } th scope="col" { "why" } th scope="col" { "changed before it" } th.number scope="col" { "at, °C" }
                    th scope="col" { "gauge" } th scope="col" { "firmware" } th scope="col" { "state" } th scope="col" { "folder" }
                } }
                tbody { @for (place, visit) in history.visits.iter().enumerate() {
                    tr {
                        th.nowrap scope="row" { (visit.date) } td { (visit.kind) } td { (letters(&history.changes, place).join(" ")) }
                        td.number { @match visit.temperature_c { Some(warm) => (warm), None => "–" } }
                        td { (visit.gauge.as_deref().unwrap_or("not named")) } td { (visit.firmware.as_deref().unwrap_or("not named")) }
                        td { (state_words(Words::of(Language::English), visit.verdict.into(), None)) } td { (visit.folder) }
                    }
                } }
            }
        }))
        @if history.changes.is_empty() { p { "The gate files tell of no change of gate, drive, edge or settings." } }
        @else {
            h3 { "Changes" }
            ul.plain { @for (place, change) in history.changes.iter().enumerate() {
                li { strong { (letter(place)) } " " @if let Some(day) = change.date { (day) ": " } (change.words) @if change.before_visit >= history.visits.len() { " (no visit since)" } }
            } }
        }
    }
}

fn points(history: &History) -> Markup {
    let mut names: Vec<String> = history.series.iter().map(Series::point).collect();
    let mut seen = Vec::new();
    names.retain(|name| {
        let fresh = !seen.contains(name);
        if fresh {
            seen.push(name.clone());
        }
        fresh
    });
    html! {
        p.key { "Dot: the value of a visit; line: ± its expanded uncertainty. Open dot with an arrow: a lower bound, the evidence of that day was incomplete; it enters no slope; without an arrow: a copy of an earlier log, which is no new measurement. Dashed: a slope that is shown; dotted: one that is not. Grey: over the limit. Letters: changes; no slope crosses one." }
        @for name in names {
            section.point aria-label=(name) {
                h3 { (name) }
                @for series in history.series.iter().filter(|series| series.decides && series.point() == name) { (one(history, series)) }
            }
        }
    }
}

fn one(history: &History, series: &Series) -> Markup {
    let title = format!(
        "{}, {}",
        Words::of(Language::English).fact(&series.measure),
        series.limit
    );
    html! {
        h4 { (title) }
        figure {
            (scrolling(&title, &html! { div.wide { (history_plot(history, series)) } }))
            figcaption {
                @for stretch in &series.stretches {
                    (stretch_words(history, series, stretch)) ". "
                }
            }
        }
    }
}

fn stretch_words(history: &History, series: &Series, stretch: &Stretch) -> String {
    match &stretch.trend {
        Ok(trend) => trend_words(trend, series),
        Err(why) => {
            let (first, last) = stretch.visits;
            let day = |visit: usize| history.visits[visit].date;
            if history.visits.len() == last - first + 1 {
                format!("No slope: {why}")
            } else {
                format!("{} to {}: no slope: {why}", day(first), day(last))
            }
        }
    }
}

fn about() -> Markup {
    html! {
        p { "A reading is what the limit judges: the mean or the greatest of the hits of a visit. A slope is the straight line of least squares through the complete readings between two changes, time in years; its 95 % interval follows Student's distribution with two degrees of freedom fewer than visits, as if the visits scattered about the line independently. Each interval answers one question: of a hundred values that do not move, some five are shown to move all the same. Temperature, wind, supply and another gauge can move a value as well as wear can." }
        ul { @for caution in cautions(Words::of(Language::English)) { li { (caution) } } }
    }
}
