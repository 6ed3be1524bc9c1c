//! Whether a value moves from visit to visit, how fast, and when it would reach its limit if it went on.

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::compare::{Confidence, Interval, Line, NoAnswer, StatisticsError, least_squares};
use crate::fact::Fact;

/// Days of a mean year of the Gregorian calendar (400 years of it have 146 097 days).
const DAYS_A_YEAR: f64 = 365.2425;
/// Confidence of the interval of a slope.
const CONFIDENCE: f64 = 0.95;
/// Visits that a slope needs: two always lie on a line.
const FEWEST: usize = 3;
/// A day farther away than this is not named: nobody knows what a gate does by then. Chosen here.
const FARTHEST_YEARS: f64 = 30.0;

/// Why no line is drawn through a stretch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum NoTrend {
    /// No complete reading.
    NoReading,
    TooFew {
        readings: usize,
        least: usize,
    },
    /// All of one day, or all on one line.
    NotFitted {
        no_answer: NoAnswer,
    },
}

impl Fact for NoTrend {
    const FAMILY: &'static str = "no-trend";
}

impl From<StatisticsError> for NoTrend {
    fn from(error: StatisticsError) -> Self {
        Self::NotFitted {
            no_answer: error.into(),
        }
    }
}

/// A straight line through the visits of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Trend {
    /// Readings that it goes through.
    pub readings: usize,
    /// First and last of their days.
    #[cfg_attr(feature = "schema", schemars(with = "(String, String)"))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reached {
    /// The line itself.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub on: Date,
    /// Where the upper bound of its height does (95 %).
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub earliest: Date,
    /// Where the lower bound of its height does; absent where that is farther away than is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
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
/// [`NoTrend`]: fewer than three readings, all of one day, or all on one line.
pub fn trend(readings: &[(Date, f64)], limit: f64) -> Result<Trend, NoTrend> {
    let (Some((first, _)), Some((last, _))) = (readings.first(), readings.last()) else {
        return Err(NoTrend::NoReading);
    };
    if readings.len() < FEWEST {
        return Err(NoTrend::TooFew {
            readings: readings.len(),
            least: FEWEST,
        });
    }
    let (x, y): (Vec<f64>, Vec<f64>) = readings
        .iter()
        .map(|(day, value)| (years(*first, *day), *value))
        .unzip();
    let line = least_squares(&x, &y)?;
    let confidence = Confidence::new(CONFIDENCE)?;
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
