//! A gate over its visits: page, plots and terminal text.

mod page;
mod plot;
mod terminal;

pub use page::history_page;
pub use plot::history_plot;
pub use terminal::history_text;

use crate::record::history::{Change, EXTRAPOLATION, Outlook, Series, Trend};

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

/// What a trend says, in a sentence without its full stop.
fn trend_words(trend: &Trend, series: &Series) -> String {
    let unit = series.unit;
    // Seconds move by thousandths.
    let (factor, small) = if unit == "s" {
        (1000.0, "ms")
    } else {
        (1.0, unit)
    };
    let slope = format!(
        "{} {small} a year (95 % interval {} to {} {small} a year, {} visits, {} to {})",
        signed(trend.slope_per_year * factor),
        signed(trend.interval.lower * factor),
        signed(trend.interval.upper * factor),
        trend.readings,
        trend.days.0,
        trend.days.1
    );
    let limit = format!("{} {unit}", series.limit_value);
    match &trend.outlook {
        Outlook::NotShown => {
            format!("{slope}: no movement is shown, which does not show that there is none")
        }
        Outlook::Falls => format!("{slope}: it falls"),
        Outlook::AtTheLimit => format!("{slope}: it rises, and the line is at {limit} already"),
        Outlook::WouldReach(reached) => {
            let latest = reached
                .latest
                .map_or_else(|| "no known end".to_owned(), |day| day.to_string());
            format!(
                "{slope}: it rises, and if it went on would reach {limit} on {} (95 %: between {} and {latest}). {EXTRAPOLATION}",
                reached.on, reached.earliest
            )
            .trim_end_matches('.')
            .to_owned()
        }
        Outlook::FarAway => {
            format!(
                "{slope}: it rises, so slowly that no day is named on which it would reach {limit}"
            )
        }
        Outlook::ChangedSince if trend.is_shown() => {
            format!("{slope}. The gate was changed since: this line does not go on")
        }
        Outlook::ChangedSince => {
            format!("{slope}: no movement was shown, and the gate was changed since")
        }
    }
}
