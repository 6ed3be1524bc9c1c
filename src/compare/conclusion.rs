//! The only words for the outcome of a comparison, drawn from an interval and a margin.

use serde::Serialize;

use super::{Interval, StatisticsError};

/// The difference that would matter, fixed before the measurement: positive and finite, in the unit of the values.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Margin(f64);

impl Margin {
    /// A margin of `width`.
    ///
    /// # Errors
    /// Zero, negative, infinite, or not a number.
    pub fn new(width: f64) -> Result<Self, StatisticsError> {
        if width > 0.0 && width.is_finite() {
            return Ok(Self(width));
        }
        Err(StatisticsError::OutOfRange {
            what: "the margin",
            found: width,
            expected: "a positive number in the unit of the values",
        })
    }

    /// Its width.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// Which way a change is for the worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Worse {
    /// A greater value is worse, as with forces and times.
    Greater,
    /// A smaller value is worse, as with headroom under a limit.
    Smaller,
}

/// What an interval for (after − before) shows about a margin Δ. Written for values of which the greater is worse:
///
/// | conclusion | lower end l | upper end u |
/// |---|---|---|
/// | equivalent | l > −Δ | u < Δ |
/// | better | l ≤ −Δ | u < 0 |
/// | not worse | l ≤ −Δ | 0 ≤ u < Δ |
/// | worse | l > 0 | u ≥ Δ |
/// | not shown | l ≤ 0 | u ≥ Δ |
///
/// Each pair of ends has exactly one conclusion. A wide interval is "not shown", however close to 0 its middle lies: little
/// data never become "no difference". "Equivalent" does not say that there is no change: an interval from 0.2 Δ to 0.5 Δ
/// shows a change that is smaller than the margin.
///
/// # Holds when
/// The interval has confidence 1 − 2α: a wrong "not worse", "better" or "equivalent" then comes with probability at most α,
/// as does a wrong "worse".
///
/// # Source
/// Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987) 657–680, for two one-sided tests read as an interval.
///
/// # Example
/// ```
/// use relent::compare::{Conclusion, Interval, Margin, Worse};
/// let margin = Margin::new(20.0)?;
/// let interval = |lower, upper| Interval { lower, upper, confidence: 0.9 };
/// assert_eq!(Conclusion::draw(interval(-8.0, 12.0), margin, Worse::Greater), Conclusion::Equivalent);
/// assert_eq!(Conclusion::draw(interval(-90.0, 95.0), margin, Worse::Greater), Conclusion::NotShown);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Conclusion {
    /// Changed by less than the margin, either way.
    Equivalent,
    /// Changed for the better, perhaps by more than the margin.
    Better,
    /// Not worse by as much as the margin; whether it is better is not shown.
    NotWorse,
    /// Changed for the worse, perhaps by more than the margin.
    Worse,
    /// These values show none of the others.
    NotShown,
}

impl Conclusion {
    /// The conclusion that `interval` allows. An end that is not a number shows nothing.
    #[must_use]
    pub fn draw(interval: Interval, margin: Margin, worse: Worse) -> Self {
        let (lower, upper) = match worse {
            Worse::Greater => (interval.lower, interval.upper),
            Worse::Smaller => (-interval.upper, -interval.lower),
        };
        let width = margin.get();
        if lower.is_nan() || upper.is_nan() || lower > upper {
            Self::NotShown
        } else if upper < width && lower > -width {
            Self::Equivalent
        } else if upper < 0.0 {
            Self::Better
        } else if upper < width {
            Self::NotWorse
        } else if lower > 0.0 {
            Self::Worse
        } else {
            Self::NotShown
        }
    }
}
