//! The page of a history.

use maud::{DOCTYPE, Markup, html};

use super::plot::history_plot;
use super::{OWN, letter, letters, place, trend_text};
use crate::record::history::{History, Outlook, Series, Stretch, Visit};
use crate::report::cautions::cautions;
use crate::report::page::{scrolling, state_words};
use crate::report::sheet::{self, RecordDigest};
use crate::report::style::{DRAWINGS, PAGE};
use crate::words::Words;

/// The page. `digest`: SHA-256 of `history.json`, in hexadecimal.
#[must_use]
pub fn history_page(words: &Words, history: &History, digest: &str) -> Vec<u8> {
    let place = history.place.as_deref().unwrap_or("none");
    let gate = [
        ("gate", history.gate.as_str().into()),
        ("place", place.into()),
    ];
    let record = RecordDigest::history(digest);
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            (sheet::head(&words.with("history-tab", &gate), &[PAGE, DRAWINGS, OWN, &record.foot()]))
            body {
                header {
                    h1 { (words.with("history-title", &gate)) }
                    p.sentence { (sentence(words, history)) }
                    p.caution { (words.say("history-standing")) }
                }
                main {
                    (section(&words.say("history-moves"), &moves(words, history)))
                    (section(&words.say("history-visits"), &visits(words, history)))
                    (section(&words.say("history-points"), &points(words, history)))
                    (section(&words.say("history-about"), &about(words)))
                }
                (record.closing(words))
            }
        }
    };
    page.into_string().into_bytes()
}

fn section(title: &str, content: &Markup) -> Markup {
    html! { section aria-label=(title) { h2 { (title) } (content) } }
}

fn sentence(words: &Words, history: &History) -> String {
    let day = |visit: Option<&Visit>| visit.map_or_else(String::new, |it| it.date.to_string());
    let rising = shown(history)
        .filter(|(_, stretch)| {
            stretch
                .trend
                .as_ref()
                .is_ok_and(|it| it.slope_per_year > 0.0)
        })
        .count();
    let fields = [
        ("visits", history.visits.len().into()),
        ("first", day(history.visits.first()).into()),
        ("last", day(history.visits.last()).into()),
        ("rising", rising.into()),
    ];
    words.with("history-sentence", &fields)
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

fn moves(words: &Words, history: &History) -> Markup {
    let shown: Vec<_> = shown(history).collect();
    html! {
        @if shown.is_empty() {
            p { (words.say("history-nothing-moves")) }
        } @else {
            ul { @for (series, stretch) in shown {
                @if let Ok(trend) = &stretch.trend { li { strong { (words.fact(&series.measure)) } ", " (place(words, series)) ": " (trend_text(words, trend, series)) } }
            } }
        }
        @for remark in words.facts(&history.remarks) { p { (remark) } }
    }
}

fn visits(words: &Words, history: &History) -> Markup {
    let columns = [
        ("", "history-column-day"),
        ("", "history-column-kind"),
        ("", "history-column-changes"),
        ("number", "history-column-temperature"),
        ("", "history-column-gauge"),
        ("", "history-column-firmware"),
        ("", "history-column-state"),
        ("", "history-column-folder"),
    ];
    let unnamed = words.say("history-not-named");
    let kind = |visit: &Visit| visit.kind.map(|kind| words.fact(&kind)).unwrap_or_default();
    html! {
        (scrolling(&words.say("history-visits"), &html! {
            table {
                thead { tr { @for (class, column) in columns { th class=(class) scope="col" { (words.say(column)) } } } }
                tbody { @for (place, visit) in history.visits.iter().enumerate() {
                    tr {
                        th.nowrap scope="row" { (visit.date) } td { (kind(visit)) } td { (letters(&history.changes, place).join(" ")) }
                        td.number { @match visit.temperature_c { Some(warm) => (warm), None => "–" } }
                        td { (visit.gauge.as_deref().unwrap_or(&unnamed)) } td { (visit.firmware.as_deref().unwrap_or(&unnamed)) }
                        td { (state_words(words, visit.verdict.into(), None)) } td { (visit.folder) }
                    }
                } }
            }
        }))
        @if history.changes.is_empty() { p { (words.say("history-no-changes")) } }
        @else {
            h3 { (words.say("history-changes")) }
            ul.plain { @for (place, change) in history.changes.iter().enumerate() {
                li { strong { (letter(place)) } " " @if let Some(day) = change.date { (day) ": " } (words.fact(change)) @if change.before_visit >= history.visits.len() { " " (words.say("history-no-visit-since")) } }
            } }
        }
    }
}

fn points(words: &Words, history: &History) -> Markup {
    let mut names: Vec<String> = Vec::new();
    for name in history.series.iter().map(|series| place(words, series)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    html! {
        p.key { (words.say("history-key")) }
        @for name in names {
            section.point aria-label=(name) {
                h3 { (name) }
                @for series in history.series.iter().filter(|series| series.decides && place(words, series) == name) { (one(words, history, series)) }
            }
        }
    }
}

fn one(words: &Words, history: &History, series: &Series) -> Markup {
    let title = format!("{}, {}", words.fact(&series.measure), series.limit);
    html! {
        h4 { (title) }
        figure {
            (scrolling(&title, &html! { div.wide { (history_plot(words, history, series)) } }))
            figcaption { @for stretch in &series.stretches { (stretch_text(words, history, series, stretch)) " " } }
        }
    }
}

fn stretch_text(words: &Words, history: &History, series: &Series, stretch: &Stretch) -> String {
    let why = match &stretch.trend {
        Ok(trend) => return trend_text(words, trend, series),
        Err(why) => words.fact(why),
    };
    let (first, last) = stretch.visits;
    let day = |visit: usize| history.visits[visit].date.to_string();
    let id = if history.visits.len() == last - first + 1 {
        "history-no-slope"
    } else {
        "history-no-slope-between"
    };
    let fields = [
        ("first", day(first).into()),
        ("last", day(last).into()),
        ("why", why.into()),
    ];
    words.with(id, &fields)
}

fn about(words: &Words) -> Markup {
    html! {
        p { (words.say("history-method")) }
        ul { @for caution in cautions(words) { li { (caution) } } }
    }
}
