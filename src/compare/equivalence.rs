//! Not worse, or equivalent, within a margin fixed beforehand.

use serde::Serialize;

use super::{Alpha, Alternative, Conclusion, Estimate, Interval, Margin, Worse};

/// The two one-sided tests of a difference against −Δ and +Δ, and the interval that says the same.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Equivalence {
    /// The difference after − before.
    pub estimate: Estimate,
    /// The margin Δ.
    pub margin: Margin,
    /// Which way a change is for the worse.
    pub worse: Worse,
    /// Permitted probability α of a wrong claim.
    pub alpha: Alpha,
    /// Probability of an estimate this low if the true difference were +Δ.
    pub p_not_above: f64,
    /// Probability of an estimate this high if the true difference were −Δ.
    pub p_not_below: f64,
    /// The interval of confidence 1 − 2α.
    pub interval: Interval,
}

impl Equivalence {
    /// p of "equivalent": the greater of the two one-sided ones.
    #[must_use]
    pub fn p_equivalent(&self) -> f64 {
        self.p_not_above.max(self.p_not_below)
    }

    /// p of "not worse": the one-sided test on the side that is worse.
    #[must_use]
    pub fn p_not_worse(&self) -> f64 {
        match self.worse {
            Worse::Greater => self.p_not_above,
            Worse::Smaller => self.p_not_below,
        }
    }

    /// What the interval shows; worked out from it each time, never stored.
    #[must_use]
    pub fn conclusion(&self) -> Conclusion {
        Conclusion::draw(self.interval, self.margin, self.worse)
    }
}

/// Whether a difference is shown to lie within a margin: two one-sided t tests, on any t-based estimate.
///
/// t_above = (d − Δ)/SE with p = P(T ≤ t_above); t_below = (d + Δ)/SE with p = P(T ≥ t_below); the interval is d ± t₁₋ₐ(ν)·SE.
/// "Equivalent" at α needs both p < α, which is the interval lying inside ±Δ; "not worse" needs the one on the worse side.
///
/// # Quantities
/// `estimate` from [`welch_difference`](super::welch_difference), [`paired_difference`](super::paired_difference) or a pooled
/// effect, with the margin in its unit.
///
/// # Holds when
/// The estimate's own conditions hold, and the margin was fixed before the measurement. A wrong claim comes with probability at
/// most α; the tests measure it by simulation at a true difference of exactly Δ.
///
/// # Source
/// Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15 (1987) 657–680.
///
/// # Example
/// ```
/// use relent::compare::{Alpha, Conclusion, Estimate, Margin, Worse, equivalence};
/// // 5 N higher, standard error 2 N, 10 degrees of freedom: t(0.95; 10) = 1.8125, so 1.375 to 8.625 N.
/// let test = equivalence(Estimate::new(5.0, 2.0, 10.0)?, Margin::new(10.0)?, Worse::Greater, Alpha::new(0.05)?);
/// assert!((test.interval.upper - 8.6249).abs() < 1e-4);
/// assert_eq!(test.conclusion(), Conclusion::Equivalent);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
#[must_use]
pub fn equivalence(estimate: Estimate, margin: Margin, worse: Worse, alpha: Alpha) -> Equivalence {
    Equivalence {
        estimate,
        margin,
        worse,
        alpha,
        p_not_above: estimate.p_value(margin.get(), Alternative::Less),
        p_not_below: estimate.p_value(-margin.get(), Alternative::Greater),
        interval: estimate.interval(alpha.two_one_sided()),
    }
}
