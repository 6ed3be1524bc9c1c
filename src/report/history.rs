//! A gate over its visits: page, plots, JSON and terminal text.

mod json;
mod page;
mod plot;
mod terminal;

#[cfg(feature = "schema")]
pub use json::Document;
pub use json::history_json;
pub use page::history_page;
pub use plot::history_plot;
pub use terminal::history_text;

use jiff::civil::Date;

use crate::record::history::{Change, Outlook, Series, Trend};
use crate::words::Words;

/// The sheet of the plots.
const OWN: &str = include_str!("history/history.css");

/// A letter for a change: A … Z, then AA and so on.
fn letter(place: usize) -> String {
    let last = char::from(b'A' + u8::try_from(place % 26).unwrap_or(0));
    match place / 26 {
        0 => last.to_string(),
        more => format!("{}{last}", letter(more - 1)),
    }
}

/// Letters of the changes before each visit, with `count` visits and what came after the last of them.
fn letters(changes: &[Change], visit: usize) -> Vec<String> {
    let places = changes.iter().enumerate();
    places
        .filter(|(_, change)| change.before_visit == visit)
        .map(|(place, _)| letter(place))
        .collect()
}

/// Three significant digits, with a sign.
fn signed(value: f64) -> String {
    let text = crate::verdict::printed_plain(value.abs(), value.abs() / 100.0);
    if value < 0.0 {
        format!("−{text}")
    } else {
        format!("+{text}")
    }
}

/// A temperature with its unit.
fn degrees(words: &Words, temperature_c: f64) -> String {
    words.with(
        "history-degrees",
        &[("temperature_c", temperature_c.into())],
    )
}

/// Where a series was measured.
fn place(words: &Words, series: &Series) -> String {
    match &series.test_point {
        Some(point) => words.fact(point),
        None => words.say("history-no-point").into_owned(),
    }
}

/// What a trend says, in a sentence.
fn trend_text(words: &Words, trend: &Trend, series: &Series) -> String {
    // Seconds move by thousandths.
    let (factor, unit) = match series.unit {
        "s" => (1000.0, "ms"),
        unit => (1.0, unit),
    };
    let mut fields = vec![
        ("slope", signed(trend.slope_per_year * factor).into()),
        ("lower", signed(trend.interval.lower * factor).into()),
        ("upper", signed(trend.interval.upper * factor).into()),
        ("unit", unit.into()),
        ("readings", trend.readings.into()),
        ("first", trend.days.0.to_string().into()),
        ("last", trend.days.1.to_string().into()),
        ("limit", series.limit_value.into()),
        ("limit_unit", series.unit.into()),
    ];
    let id = match &trend.outlook {
        Outlook::NotShown => "history-not-shown",
        Outlook::Falls => "history-falls",
        Outlook::AtTheLimit => "history-at-the-limit",
        Outlook::WouldReach(reached) => {
            let day =
                |day: Option<Date>| day.map_or_else(|| "none".to_owned(), |it| it.to_string());
            fields.push(("on", day(Some(reached.on)).into()));
            fields.push(("earliest", day(Some(reached.earliest)).into()));
            fields.push(("latest", day(reached.latest).into()));
            "history-would-reach"
        }
        Outlook::FarAway => "history-far-away",
        Outlook::ChangedSince if trend.is_shown() => "history-changed-since",
        Outlook::ChangedSince => "history-not-shown-and-changed-since",
    };
    words.with(id, &fields)
}
