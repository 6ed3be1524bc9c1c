//! Whether paired differences tend to one side of zero, by their ranks.

use serde::Serialize;

use super::distributions::normal_below;
use super::order_statistics::{doubled_midranks, tie_sum};
use super::rank_distribution::{sign_distribution, tails};
use super::sample::checked;
use super::{NullDistribution, StatisticsError};

/// The most differences whose signs are counted exactly.
const MOST_EXACT: usize = 400;

/// What becomes of differences that are zero: they have no sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Zeros {
    /// Left out before ranking (Wilcoxon).
    LeftOut,
    /// Ranked with the others, then left out, so that the others keep their higher ranks (Pratt).
    RankedFirst,
}

/// The outcome of a signed rank test: numbers only, no verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SignedRank {
    /// Sum of the midranks of the positive differences.
    pub v: f64,
    /// Probability of a V as small or smaller if the differences were symmetric about 0.
    pub p_less: f64,
    /// Probability of a V as great or greater.
    pub p_greater: f64,
    /// Twice the smaller of the two, at most 1.
    pub p_two_sided: f64,
    /// How the probabilities were found.
    pub null: NullDistribution,
    /// How many differences are zero.
    pub zeros: usize,
    /// Whether equal magnitudes share ranks.
    pub tied: bool,
}

/// Whether differences after − before tend to one side of zero: Wilcoxon's signed rank test.
///
/// V = Σ rank(|dᵢ|) over dᵢ > 0, equal magnitudes sharing their mean rank.
/// Exact: every sign is a fair coin; all 2ⁿ choices of sign are counted on the midranks as they are.
/// Normal: z = (V − Σr/2 ∓ ½)/σ, σ² = Σr²/4 over the ranks r in use, which holds the correction for ties and zeros.
///
/// # Quantities
/// `differences` in any unit, at least one that is not zero.
///
/// # Holds when
/// The differences are independent and symmetric about their centre. Exact: the share of false alarms is at most the nominal
/// one. With n differences no two-sided p is under 2/2ⁿ: five pairs cannot show anything at 5 %.
///
/// # Errors
/// No difference, one that is not finite, none but zeros, or more than 400 for `Exact`.
///
/// # Source
/// Wilcoxon, Biometrics Bulletin 1 (1945) 80–83; Pratt, J. American Statistical Association 54 (1959) 655–667 for zeros.
///
/// # Example
/// ```
/// use relent::compare::{NullDistribution, Zeros, signed_rank};
/// // Ranks 1, 2, 3 with the smallest negative: V = 5; sums of 5 or more in 2 of 8 choices of sign.
/// let test = signed_rank(&[-1.0, 2.0, 3.0], Zeros::LeftOut, NullDistribution::Exact)?;
/// assert_eq!((test.v, test.p_greater), (5.0, 0.25));
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn signed_rank(
    differences: &[f64],
    zeros: Zeros,
    null: NullDistribution,
) -> Result<SignedRank, StatisticsError> {
    checked("the differences", differences, 1)?;
    let kept: Vec<f64> = match zeros {
        Zeros::LeftOut => differences.iter().copied().filter(|d| *d != 0.0).collect(),
        Zeros::RankedFirst => differences.to_vec(),
    };
    let magnitudes: Vec<f64> = kept.iter().map(|d| d.abs()).collect();
    let ranked: Vec<(f64, usize)> = kept
        .iter()
        .copied()
        .zip(doubled_midranks(&magnitudes))
        .filter(|(d, _)| *d != 0.0)
        .collect();
    let ranks: Vec<usize> = ranked.iter().map(|&(_, rank)| rank).collect();
    if ranks.is_empty() {
        return Err(StatisticsError::NoSpread {
            what: "the differences",
        });
    }
    let doubled: usize = ranked
        .iter()
        .filter(|(d, _)| *d > 0.0)
        .map(|&(_, r)| r)
        .sum();
    let (p_less, p_greater) = match null {
        NullDistribution::Exact => exact_tails(&ranks, doubled)?,
        NullDistribution::Normal => normal_tails(&ranks, doubled),
    };
    let signed: Vec<f64> = ranked.iter().map(|(d, _)| d.abs()).collect();
    Ok(SignedRank {
        v: doubled as f64 / 2.0,
        p_less,
        p_greater,
        p_two_sided: (2.0 * p_less.min(p_greater)).min(1.0),
        null,
        zeros: differences.len() - ranks.len(),
        tied: tie_sum(&signed) > 0.0,
    })
}

fn exact_tails(ranks: &[usize], doubled: usize) -> Result<(f64, f64), StatisticsError> {
    if ranks.len() > MOST_EXACT {
        return Err(StatisticsError::TooMany {
            what: "the differences of an exact signed rank test",
            found: ranks.len(),
            most: MOST_EXACT,
        });
    }
    Ok(tails(&sign_distribution(ranks), doubled))
}

fn normal_tails(ranks: &[usize], doubled: usize) -> (f64, f64) {
    let ranks = || ranks.iter().map(|&rank| rank as f64 / 2.0);
    let distance = doubled as f64 / 2.0 - ranks().sum::<f64>() / 2.0;
    let sigma = (ranks().map(|rank| rank * rank).sum::<f64>() / 4.0).sqrt();
    (
        normal_below((distance + 0.5) / sigma),
        normal_below(-(distance - 0.5) / sigma),
    )
}
