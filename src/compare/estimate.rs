//! An estimate with its standard error, the interval and the p-values that follow from it.

use serde::Serialize;

use super::StatisticsError;
use super::distributions::{student_above, student_quantile};

/// The share of intervals that are to hold the true value, strictly between 0 and 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Confidence(f64);

impl Confidence {
    /// A confidence of `level`, as 0.95 for 95 %.
    ///
    /// # Errors
    /// Outside 0 … 1, or not a number.
    pub fn new(level: f64) -> Result<Self, StatisticsError> {
        if level > 0.0 && level < 1.0 {
            return Ok(Self(level));
        }
        Err(StatisticsError::OutOfRange {
            what: "the confidence",
            found: level,
            expected: "a share between 0 and 1, as 0.95",
        })
    }

    /// The share.
    #[must_use]
    pub const fn level(self) -> f64 {
        self.0
    }
}

/// The permitted probability of a wrong claim, strictly between 0 and 0.5.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Alpha(f64);

impl Alpha {
    /// A permitted probability of `alpha`, as 0.05.
    ///
    /// # Errors
    /// Outside 0 … 0.5, or not a number.
    pub fn new(alpha: f64) -> Result<Self, StatisticsError> {
        if alpha > 0.0 && alpha < 0.5 {
            return Ok(Self(alpha));
        }
        Err(StatisticsError::OutOfRange {
            what: "the permitted probability of a wrong claim",
            found: alpha,
            expected: "a share between 0 and 0.5, as 0.05",
        })
    }

    /// The probability.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }

    /// 1 − 2α: the confidence of the two-sided interval each end of which is a one-sided test at α.
    #[must_use]
    pub fn two_one_sided(self) -> Confidence {
        Confidence(1.0 - 2.0 * self.0)
    }
}

/// Which departures from the reference value a p-value counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Alternative {
    /// The true value is smaller.
    Less,
    /// The true value is greater.
    Greater,
    /// Either.
    TwoSided,
}

/// An interval for a true value, with the confidence it was made for (or, where it is distribution-free, the one it reaches).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Interval {
    /// Its lower end.
    pub lower: f64,
    /// Its upper end.
    pub upper: f64,
    /// The share of such intervals that hold the true value.
    pub confidence: f64,
}

/// A value whose error, divided by its standard error, follows Student's distribution.
///
/// t = (estimate − reference) / SE; the interval is estimate ± t₁₋ₐ/₂(ν) · SE.
///
/// # Quantities
/// Value and standard error in the unit of the values compared; ν is a number, whole or not.
///
/// # Holds when
/// The values are normally distributed about their means, or are enough for their mean to be. Coverage is measured by
/// simulation in the tests.
///
/// # Source
/// Student's distribution; Welch, Biometrika 34 (1947) 28–35, where ν is not whole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Estimate {
    value: f64,
    standard_error: f64,
    degrees_of_freedom: f64,
}

impl Estimate {
    /// An estimate from its three numbers.
    ///
    /// # Errors
    /// A value that is not finite; a standard error or degrees of freedom that are not positive and finite.
    pub fn new(
        value: f64,
        standard_error: f64,
        degrees_of_freedom: f64,
    ) -> Result<Self, StatisticsError> {
        let positive = |what, found: f64| {
            if found > 0.0 && found.is_finite() {
                return Ok(found);
            }
            Err(StatisticsError::OutOfRange {
                what,
                found,
                expected: "a positive number",
            })
        };
        if !value.is_finite() {
            return Err(StatisticsError::OutOfRange {
                what: "the estimate",
                found: value,
                expected: "a finite number",
            });
        }
        Ok(Self {
            value,
            standard_error: positive("the standard error", standard_error)?,
            degrees_of_freedom: positive("the degrees of freedom", degrees_of_freedom)?,
        })
    }

    /// The estimated value.
    #[must_use]
    pub const fn value(&self) -> f64 {
        self.value
    }

    /// Its standard error.
    #[must_use]
    pub const fn standard_error(&self) -> f64 {
        self.standard_error
    }

    /// The degrees of freedom of the standard error.
    #[must_use]
    pub const fn degrees_of_freedom(&self) -> f64 {
        self.degrees_of_freedom
    }

    /// (value − reference) / standard error.
    #[must_use]
    pub fn t_against(&self, reference: f64) -> f64 {
        (self.value - reference) / self.standard_error
    }

    /// The probability of a t at least this far on the side of `alternative`, if the true value were `reference`.
    #[must_use]
    pub fn p_value(&self, reference: f64, alternative: Alternative) -> f64 {
        let t = self.t_against(reference);
        let above = |t| student_above(t, self.degrees_of_freedom);
        match alternative {
            Alternative::Greater => above(t),
            Alternative::Less => above(-t),
            Alternative::TwoSided => (2.0 * above(t.abs())).min(1.0),
        }
    }

    /// The two-sided interval of this confidence.
    #[must_use]
    pub fn interval(&self, confidence: Confidence) -> Interval {
        let tail = (1.0 - confidence.level()) / 2.0;
        let reach = -student_quantile(tail, self.degrees_of_freedom) * self.standard_error;
        Interval {
            lower: self.value - reach,
            upper: self.value + reach,
            confidence: confidence.level(),
        }
    }

    /// The value that the true one does not exceed, with this confidence.
    #[must_use]
    pub fn upper_bound(&self, confidence: Confidence) -> f64 {
        self.value
            - student_quantile(1.0 - confidence.level(), self.degrees_of_freedom)
                * self.standard_error
    }

    /// The value that the true one is not under, with this confidence.
    #[must_use]
    pub fn lower_bound(&self, confidence: Confidence) -> f64 {
        self.value
            + student_quantile(1.0 - confidence.level(), self.degrees_of_freedom)
                * self.standard_error
    }
}
