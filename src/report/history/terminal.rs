//! A history on the terminal.

use std::fmt::Write as _;

use super::{letter, letters, trend_words};
use crate::record::history::{History, Series};
use crate::words::{Language, Words};

/// The history as text: visits, changes, then each test point with its values and what moves.
#[must_use]
pub fn history_text(history: &History) -> String {
    let mut text = format!("{}\n\n", history.gate);
    for (place, visit) in history.visits.iter().enumerate() {
        let warm = visit
            .temperature_c
            .map_or_else(|| "–".to_owned(), |it| format!("{it} °C"));
        let _ = writeln!(
            text,
            "{:>5}  {}  {warm:>8}  {:<18} {}",
            letters(&history.changes, place).join(" "),
            visit.date,
            Words::of(Language::English).fact(&visit.verdict),
            visit.folder
        );
    }
    for (place, change) in history.changes.iter().enumerate() {
        let day = change
            .date
            .map_or_else(String::new, |day| format!("{day}: "));
        let _ = writeln!(text, "\n{}: {day}{}", letter(place), change.words);
    }
    for remark in &history.remarks {
        let _ = writeln!(text, "\n{remark}");
    }
    let mut point = String::new();
    let deciding: Vec<&Series> = history.series.iter().filter(|it| it.decides).collect();
    let mut names: Vec<String> = Vec::new();
    for series in &deciding {
        if !names.contains(&series.point()) {
            names.push(series.point());
        }
    }
    for name in names {
        for series in deciding.iter().filter(|series| series.point() == name) {
            if point != name {
                let _ = writeln!(text, "\n{name}");
                point.clone_from(&name);
            }
            text.push_str(&one(history, series));
        }
    }
    text
}

fn one(history: &History, series: &Series) -> String {
    let mut values = String::new();
    let mut last = None;
    for reading in &series.readings {
        let changed = |from: usize| {
            let mut between = history.changes.iter().map(|change| change.before_visit);
            between.any(|visit| visit > from && visit <= reading.visit)
        };
        match last {
            None => {}
            Some(from) if changed(from) => values.push_str(" | "),
            Some(_) => values.push_str(" · "),
        }
        let bound = match (reading.copied, reading.lower_bound_only) {
            (true, _) => "copied ",
            (false, true) => "≥ ",
            (false, false) => "",
        };
        let _ = write!(values, "{bound}{}", reading.printed);
        last = Some(reading.visit);
    }
    let mut text = format!(
        "  {}, limit {} {}: {values}\n",
        Words::of(Language::English).fact(&series.measure),
        series.limit_value,
        series.unit
    );
    for trend in series
        .stretches
        .iter()
        .filter_map(|stretch| stretch.trend.as_ref().ok())
    {
        let _ = writeln!(text, "    {}", trend_words(trend, series));
    }
    text
}
