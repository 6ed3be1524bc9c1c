//! A history on the terminal.

use std::fmt::Write as _;

use super::{degrees, letter, letters, place, trend_text};
use crate::record::history::{History, Series};
use crate::words::{Words, printed};

/// The history as text: visits, changes, then each test point with its values and what moves.
#[must_use]
pub fn history_text(words: &Words, history: &History) -> String {
    let mut text = format!("{}\n\n", history.gate);
    for (at, visit) in history.visits.iter().enumerate() {
        let warm = visit
            .temperature_c
            .map_or_else(|| "–".to_owned(), |it| degrees(words, it));
        let _ = writeln!(
            text,
            "{:>5}  {}  {warm:>8}  {:<18} {}",
            letters(&history.changes, at).join(" "),
            visit.date,
            words.fact(&visit.verdict),
            visit.folder
        );
    }
    for (at, change) in history.changes.iter().enumerate() {
        let day = change
            .date
            .map_or_else(String::new, |day| format!("{day}: "));
        let _ = writeln!(text, "\n{}: {day}{}", letter(at), words.fact(change));
    }
    for remark in &history.remarks {
        let _ = writeln!(text, "\n{}", words.fact(remark));
    }
    let mut point = String::new();
    let deciding: Vec<&Series> = history.series.iter().filter(|it| it.decides).collect();
    let mut names: Vec<String> = Vec::new();
    for series in &deciding {
        let name = place(words, series);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    for name in names {
        for series in deciding.iter().filter(|it| place(words, it) == name) {
            if point != name {
                let _ = writeln!(text, "\n{name}");
                point.clone_from(&name);
            }
            text.push_str(&one(words, history, series));
        }
    }
    text
}

fn one(words: &Words, history: &History, series: &Series) -> String {
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
        let id = match (reading.copied, reading.lower_bound_only) {
            (true, _) => "history-value-copied",
            (false, true) => "history-value-at-least",
            (false, false) => "history-value",
        };
        let value = [("value", printed(&reading.printed))];
        values.push_str(&words.with(id, &value));
        last = Some(reading.visit);
    }
    let fields = [
        ("measure", words.fact(&series.measure).into()),
        ("limit", series.limit_value.into()),
        ("unit", series.unit.into()),
        ("values", values.into()),
    ];
    let mut text = format!("  {}\n", words.with("history-line", &fields));
    for trend in series
        .stretches
        .iter()
        .filter_map(|stretch| stretch.trend.as_ref().ok())
    {
        let _ = writeln!(text, "    {}", trend_text(words, trend, series));
    }
    text
}
