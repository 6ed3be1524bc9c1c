//! Whether a value moves from visit to visit, how fast, and when it would reach its limit if it went on.

use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::compare::{Confidence, Interval, Line, least_squares};

/// Days of a mean year of the Gregorian calendar (400 years of it have 146 097 days).
const DAYS_A_YEAR: f64 = 365.2425;
/// Confidence of the interval of a slope.
const CONFIDENCE: f64 = 0.95;
/// Visits that a slope needs: two always lie on a line.
const FEWEST: usize = 3;
/// A day farther away than this is not named: nobody knows what a gate does by then. Chosen here.
const FARTHEST_YEARS: f64 = 30.0;

/// The caution beside every day that is worked out from a slope.
pub const EXTRAPOLATION: &str = "A line through past visits says nothing certain of the next: a worn part fails at once, a \
     repair changes everything. The day is a reason to look earlier, never one to wait.";

/// A straight line through the visits of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Trend {
    /// Readings that it goes through.
    pub readings: usize,
    /// First and last of their days.
    pub days: (Date, Date),
    /// Change a year, in the unit of the value.
    pub slope_per_year: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// Standard deviation of the readings about the line.
    pub residual_deviation: f64,
    /// Height of the line on the first and on the last day.
    pub heights: (f64, f64),
    /// What follows.
    pub outlook: Outlook,
}

/// What a trend says of the limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outlook {
    /// The interval of the slope holds zero: no movement is shown, which does not show that there is none.
    NotShown,
    /// It falls, away from the limit.
    Falls,
    /// It rises, and the line is at the limit already.
    AtTheLimit,
    /// It rises, and would reach the limit if it went on.
    WouldReach(Reached),
    /// It rises so slowly that no day is named.
    FarAway,
    /// The gate was changed since.
    ChangedSince,
}

/// When a line would reach its limit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reached {
    /// The line itself.
    pub on: Date,
    /// Where the upper bound of its height does (95 %).
    pub earliest: Date,
    /// Where the lower bound of its height does; absent where that is farther away than is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latest: Option<Date>,
}

impl Trend {
    /// Whether the interval of the slope excludes zero.
    #[must_use]
    pub fn is_shown(&self) -> bool {
        self.interval.lower > 0.0 || self.interval.upper < 0.0
    }
}

/// Years between two days.
#[must_use]
pub fn years(from: Date, to: Date) -> f64 {
    let days = from.until(to).map_or(0, |span| span.get_days());
    f64::from(days) / DAYS_A_YEAR
}

/// The trend of readings, each with its day; `limit` in their unit.
///
/// Time counts in years of 365.2425 days from the first reading; the line is [`least_squares`].
///
/// # Errors
/// Why there is none, in words: fewer than three readings, all of one day, or all on one line.
pub fn trend(readings: &[(Date, f64)], limit: f64) -> Result<Trend, String> {
    let (Some((first, _)), Some((last, _))) = (readings.first(), readings.last()) else {
        return Err("no reading of it is complete".to_owned());
    };
    if readings.len() < FEWEST {
        return Err(format!(
            "{} complete reading{}, at least {FEWEST} are needed",
            readings.len(),
            if readings.len() == 1 { "" } else { "s" }
        ));
    }
    let (x, y): (Vec<f64>, Vec<f64>) = readings
        .iter()
        .map(|(day, value)| (years(*first, *day), *value))
        .unzip();
    let line = least_squares(&x, &y).map_err(|error| error.to_string())?;
    let confidence = Confidence::new(CONFIDENCE).map_err(|error| error.to_string())?;
    let interval = line.slope.interval(confidence);
    let at = |day: Date| line.intercept.value() + line.slope.value() * years(*first, day);
    let heights = (at(*first), at(*last));
    let outlook = if interval.lower <= 0.0 && interval.upper >= 0.0 {
        Outlook::NotShown
    } else if line.slope.value() < 0.0 {
        Outlook::Falls
    } else {
        outlook(&line, confidence, limit, (*first, *last))
    };
    Ok(Trend {
        readings: readings.len(),
        days: (*first, *last),
        slope_per_year: line.slope.value(),
        standard_error: line.slope.standard_error(),
        interval,
        residual_deviation: line.residual_deviation,
        heights,
        outlook,
    })
}

/// What a line that rises says of the limit.
fn outlook(
    line: &Line,
    confidence: Confidence,
    limit: f64,
    (first, last): (Date, Date),
) -> Outlook {
    let Some(reach) = line.reaches(limit, confidence) else {
        return Outlook::NotShown;
    };
    let now = years(first, last);
    if reach.at <= now {
        return Outlook::AtTheLimit;
    }
    let day = |at: f64| {
        (at - now <= FARTHEST_YEARS).then(|| {
            first
                .checked_add(((at * DAYS_A_YEAR).round() as i64).days())
                .ok()
        })?
    };
    match (day(reach.at), day(reach.between.0.max(now))) {
        (Some(on), Some(earliest)) => Outlook::WouldReach(Reached {
            on,
            earliest,
            latest: day(reach.between.1),
        }),
        _ => Outlook::FarAway,
    }
}
