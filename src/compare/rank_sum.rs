//! Whether the values after tend to lie above those before, by their ranks alone.

use serde::Serialize;

use super::StatisticsError;
use super::distributions::normal_below;
use super::order_statistics::{doubled_midranks, tie_sum};
use super::rank_distribution::{choose_distribution, tails};
use super::sample::checked;

/// The most values of both samples together whose arrangements are counted exactly.
const MOST_EXACT: usize = 200;

/// How the probabilities of a rank test are found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum NullDistribution {
    /// By counting every arrangement of the ranks as they are, ties included.
    Exact,
    /// By the normal distribution, its variance corrected for ties, with a continuity correction of one half.
    Normal,
}

/// The outcome of a rank sum test: numbers only, no verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RankSum {
    /// Pairs (before, after) in which after is the greater, each tie counted as a half.
    pub u: f64,
    /// Probability of a U as small or smaller if neither sample tended to be greater.
    pub p_less: f64,
    /// Probability of a U as great or greater.
    pub p_greater: f64,
    /// Twice the smaller of the two, at most 1.
    pub p_two_sided: f64,
    /// How the probabilities were found.
    pub null: NullDistribution,
    /// Whether equal values share ranks.
    pub tied: bool,
}

/// Whether values after tend to lie above values before: the rank sum test of Wilcoxon, Mann and Whitney.
///
/// U = Σᵢⱼ \[yⱼ > xᵢ\] + ½ \[yⱼ = xᵢ\] = (sum of the midranks of y) − n_y(n_y + 1)/2.
/// Exact: all ways to deal the midranks to the two samples are alike likely and are counted.
/// Normal: z = (U − n_x n_y/2 ∓ ½)/σ, σ² = n_x n_y/12 · (N + 1 − Σ(t³ − t)/(N(N − 1))), t the sizes of the groups of ties.
///
/// # Quantities
/// `before` = x, `after` = y: independent values in one unit, at least one of each; N = n_x + n_y.
///
/// # Holds when
/// Exact: always, given that the samples are exchangeable under the null hypothesis. The share of false alarms is at most
/// the nominal one. Normal: from some 10 values a side; SciPy's figures are reproduced.
///
/// # Errors
/// An empty sample, a value that is not finite, more than 200 values for `Exact`, or values that are all equal.
///
/// # Source
/// Mann & Whitney, Annals of Mathematical Statistics 18 (1947) 50–60; Hollander & Wolfe, Nonparametric Statistical Methods
/// (1973), ch. 4, for ties.
///
/// # Example
/// ```
/// use relent::compare::{NullDistribution, rank_sum};
/// // Complete separation of 5 from 5: one arrangement of 252 on each side.
/// let test = rank_sum(&[1., 2., 3., 4., 5.], &[6., 7., 8., 9., 10.], NullDistribution::Exact)?;
/// assert_eq!(test.u, 25.0);
/// assert!((test.p_two_sided - 2.0 / 252.0).abs() < 1e-15);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn rank_sum(
    before: &[f64],
    after: &[f64],
    null: NullDistribution,
) -> Result<RankSum, StatisticsError> {
    checked("the values before", before, 1)?;
    checked("the values after", after, 1)?;
    let all: Vec<f64> = before.iter().chain(after).copied().collect();
    if all.iter().all(|value| *value == all[0]) {
        return Err(StatisticsError::NoSpread { what: "the values" });
    }
    let ranks = doubled_midranks(&all);
    let doubled: usize = ranks[before.len()..].iter().sum();
    let n = after.len() as f64;
    let u = doubled as f64 / 2.0 - n * (n + 1.0) / 2.0;
    let (p_less, p_greater) = match null {
        NullDistribution::Exact => exact_tails(&ranks, before.len(), after.len(), doubled)?,
        NullDistribution::Normal => normal_tails(u, before.len() as f64, n, tie_sum(&all)),
    };
    Ok(RankSum {
        u,
        p_less,
        p_greater,
        p_two_sided: (2.0 * p_less.min(p_greater)).min(1.0),
        null,
        tied: tie_sum(&all) > 0.0,
    })
}

/// Counts the arrangements of the smaller sample; where that is the one before, the tails change sides.
fn exact_tails(
    ranks: &[usize],
    before: usize,
    after: usize,
    doubled: usize,
) -> Result<(f64, f64), StatisticsError> {
    if ranks.len() > MOST_EXACT {
        return Err(StatisticsError::TooMany {
            what: "the values of an exact rank sum test",
            found: ranks.len(),
            most: MOST_EXACT,
        });
    }
    if after <= before {
        return Ok(tails(&choose_distribution(ranks, after), doubled));
    }
    let rest = ranks.iter().sum::<usize>() - doubled;
    let (below, above) = tails(&choose_distribution(ranks, before), rest);
    Ok((above, below))
}

fn normal_tails(u: f64, before: f64, after: f64, ties: f64) -> (f64, f64) {
    let all = before + after;
    let variance = before * after / 12.0 * (all + 1.0 - ties / (all * (all - 1.0)));
    let distance = u - before * after / 2.0;
    let sigma = variance.sqrt();
    (
        normal_below((distance + 0.5) / sigma),
        normal_below(-(distance - 0.5) / sigma),
    )
}
