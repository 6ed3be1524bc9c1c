//! One difference with everything that is said about it: interval, distribution-free check, adjusted p-values, claims.

use serde::Serialize;

use super::study::{Arrangement, Terms, pairs};
use super::{
    Alpha, Alternative, Confidence, Equivalence, Estimate, HodgesLehmann, Interval, Margin,
    NoAnswer, NullDistribution, Sample, Worse, Zeros, equivalence, hodges_lehmann_centre,
    hodges_lehmann_shift, holm, paired_difference, rank_sum, signed_rank, welch_difference,
};
use crate::fact::Fact;

/// A difference after − before of a measure of which the greater value is worse.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Effect {
    /// The difference with its standard error.
    pub estimate: Estimate,
    /// Its interval, of the confidence of the terms; for this one question alone.
    pub interval: Interval,
    /// Two-sided p of "no difference".
    pub p: f64,
    /// The same with all questions of the family counted together (Holm).
    pub p_adjusted: f64,
    /// The distribution-free estimate with its exact interval, where there is one.
    pub hodges_lehmann: Option<HodgesLehmann>,
    /// Exact two-sided p of the rank test, where one was made.
    pub p_ranks: Option<f64>,
    /// The margin and what is known about it.
    pub against: Option<Against>,
}

/// A difference held against its margin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Against {
    /// The two one-sided tests.
    pub equivalence: Equivalence,
    /// Probability of an estimate this high if the true difference were the margin.
    pub p_beyond: f64,
    /// The same, all questions counted together.
    pub p_beyond_adjusted: f64,
    /// `p_not_above` of the two one-sided tests, all questions counted together.
    pub p_not_above_adjusted: f64,
    /// `p_not_below`, all questions counted together.
    pub p_not_below_adjusted: f64,
}

/// Which way the values changed. There is no "unchanged": a difference that is not shown is not shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Change {
    Higher,
    Lower,
    NotShown,
}

/// What is shown about the margin, from the strongest assurance to the gravest finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Claim {
    /// Changed by less than the margin, either way.
    LessThanMargin,
    /// Not worse by as much as the margin.
    NotWorse,
    /// None of these.
    NotShown,
    /// Worse by more than the margin.
    WorseBeyond,
}

impl Fact for Claim {
    const FAMILY: &'static str = "claim";
}

impl Effect {
    /// A difference that follows Student's distribution, before the other questions are counted in.
    pub(super) fn of(
        estimate: Estimate,
        margin: Option<Margin>,
        confidence: Confidence,
        alpha: Alpha,
    ) -> Self {
        let p = estimate.p_value(0.0, Alternative::TwoSided);
        Self {
            estimate,
            interval: estimate.interval(confidence),
            p,
            p_adjusted: p,
            hodges_lehmann: None,
            p_ranks: None,
            against: margin.map(|margin| {
                let test = equivalence(estimate, margin, Worse::Greater, alpha);
                let beyond = estimate.p_value(margin.get(), Alternative::Greater);
                Against {
                    equivalence: test,
                    p_beyond: beyond,
                    p_beyond_adjusted: beyond,
                    p_not_above_adjusted: test.p_not_above,
                    p_not_below_adjusted: test.p_not_below,
                }
            }),
        }
    }

    /// The difference at one test point.
    pub(super) fn at_point(
        before: &Sample,
        after: &Sample,
        margin: Option<Margin>,
        terms: &Terms,
    ) -> Result<Self, NoAnswer> {
        let alpha = terms.alpha()?;
        let exact = NullDistribution::Exact;
        let (estimate, ranks, centre) = match terms.arrangement {
            Arrangement::Separate => {
                let (x, y) = (before.values(), after.values());
                (
                    welch_difference(&x, &y),
                    rank_sum(&x, &y, exact).map(|test| test.p_two_sided),
                    hodges_lehmann_shift(&x, &y, terms.confidence),
                )
            }
            Arrangement::Paired => {
                let (x, y): (Vec<f64>, Vec<f64>) = pairs(before, after).into_iter().unzip();
                let gaps: Vec<f64> = x.iter().zip(&y).map(|(x, y)| y - x).collect();
                (
                    paired_difference(&x, &y),
                    signed_rank(&gaps, Zeros::RankedFirst, exact).map(|test| test.p_two_sided),
                    hodges_lehmann_centre(&gaps, terms.confidence),
                )
            }
        };
        Ok(Self {
            hodges_lehmann: centre.ok(),
            p_ranks: ranks.ok(),
            ..Self::of(estimate?, margin, terms.confidence, alpha)
        })
    }

    /// Which way the values changed, all questions counted together.
    #[must_use]
    pub fn change(&self) -> Change {
        if self.p_adjusted >= 1.0 - self.interval.confidence {
            Change::NotShown
        } else if self.estimate.value() > 0.0 {
            Change::Higher
        } else {
            Change::Lower
        }
    }

    /// What is shown about the margin, all questions counted together; `None` without a margin.
    #[must_use]
    pub fn claim(&self) -> Option<Claim> {
        let against = self.against.as_ref()?;
        let alpha = against.equivalence.alpha.get();
        Some(if against.p_beyond_adjusted < alpha {
            Claim::WorseBeyond
        } else if against.p_not_above_adjusted < alpha && against.p_not_below_adjusted < alpha {
            Claim::LessThanMargin
        } else if against.p_not_above_adjusted < alpha {
            Claim::NotWorse
        } else {
            Claim::NotShown
        })
    }

    /// Whether "not worse by the margin" is shown for this question alone. A statement that needs every one of several such
    /// questions needs no adjustment: it is wrong only if the worst of them is wrong.
    #[must_use]
    pub fn not_worse_alone(&self) -> Option<bool> {
        let against = self.against.as_ref()?;
        Some(against.equivalence.p_not_above < against.equivalence.alpha.get())
    }
}

/// Where a kind of question keeps its p-value.
type ReadP = fn(&Against) -> f64;
/// Where it keeps the adjusted one.
type WriteP = fn(&mut Against, f64);

/// Counts all questions of a family together, each kind of question for itself.
pub(super) fn adjust(mut family: Vec<&mut Effect>) {
    let p: Vec<f64> = family.iter().map(|effect| effect.p).collect();
    for (effect, adjusted) in family.iter_mut().zip(holm(&p).unwrap_or(p)) {
        effect.p_adjusted = adjusted;
    }
    let mut held: Vec<&mut Against> = family
        .iter_mut()
        .filter_map(|effect| effect.against.as_mut())
        .collect();
    let kinds: [(ReadP, WriteP); 3] = [
        (|it| it.p_beyond, |it, p| it.p_beyond_adjusted = p),
        (
            |it| it.equivalence.p_not_above,
            |it, p| it.p_not_above_adjusted = p,
        ),
        (
            |it| it.equivalence.p_not_below,
            |it, p| it.p_not_below_adjusted = p,
        ),
    ];
    for (read, write) in kinds {
        let p: Vec<f64> = held.iter().map(|it| read(it)).collect();
        for (against, adjusted) in held.iter_mut().zip(holm(&p).unwrap_or(p)) {
            write(against, adjusted);
        }
    }
}
