//! How far values have shifted, with an interval that needs no normal distribution.

use serde::Serialize;

use super::order_statistics::{ascending, middle};
use super::rank_distribution::{choose_distribution, left_out, sign_distribution};
use super::sample::checked;
use super::{Confidence, Interval, StatisticsError};

/// The most values for which the exact interval is worked out.
const MOST_EXACT: usize = 200;

/// A shift or a centre with its distribution-free interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HodgesLehmann {
    /// The median of the differences, or of the pairwise means.
    pub estimate: f64,
    /// The shortest interval of order statistics with at least the confidence asked for; its `confidence` is the one it reaches.
    pub interval: Interval,
}

/// How far the values after lie above the values before: the median of all differences between them.
///
/// Δ̂ = median {yⱼ − xᵢ}; the interval runs from the k-th smallest to the k-th greatest difference, k the greatest number with P(U < k) ≤ (1 − confidence)/2 under the exact distribution of U without ties.
///
/// # Quantities
/// `before` = x, `after` = y in one unit, at least one of each; out in that unit.
///
/// # Holds when
/// Both samples have the same shape and differ by a shift. Then the interval reaches the confidence it states whatever the shape. Ties
/// (values rounded by the logger) make it cover more, not less, as both ends belong to it.
///
/// # Errors
/// An empty sample, a value that is not finite, more than 200 values, or too few for the confidence: 3 against 3 reach 90 %,
/// not 95 %.
///
/// # Source
/// Hodges & Lehmann, Annals of Mathematical Statistics 34 (1963) 598–611; Hollander & Wolfe (1973), 4.3.
///
/// # Example
/// ```
/// use relent::compare::{Confidence, hodges_lehmann_shift};
/// let shift = hodges_lehmann_shift(&[1., 2., 3.], &[11., 12., 13.], Confidence::new(0.9)?)?;
/// assert_eq!((shift.estimate, shift.interval.lower, shift.interval.upper), (10.0, 8.0, 12.0));
/// assert!((shift.interval.confidence - 0.9).abs() < 1e-15);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn hodges_lehmann_shift(
    before: &[f64],
    after: &[f64],
    confidence: Confidence,
) -> Result<HodgesLehmann, StatisticsError> {
    checked("the values before", before, 1)?;
    checked("the values after", after, 1)?;
    let all = before.len() + after.len();
    not_too_many(all)?;
    let fewer = before.len().min(after.len());
    let ranks: Vec<usize> = (1..=all).collect();
    let sums = choose_distribution(&ranks, fewer);
    let differences: Vec<f64> = after
        .iter()
        .flat_map(|y| before.iter().map(move |x| y - x))
        .collect();
    between_order_statistics(&differences, &sums[fewer * (fewer + 1) / 2..], confidence)
}

/// The centre of symmetric values, as paired differences: the median of the means of all pairs, each value with itself too.
///
/// θ̂ = median {(dᵢ + dⱼ)/2, i ≤ j}; the interval runs from the k-th smallest to the k-th greatest such mean, k the greatest number with P(V < k) ≤ (1 − confidence)/2 under the exact distribution of V without ties.
///
/// # Quantities
/// `values` in one unit, at least one; out in that unit.
///
/// # Holds when
/// The values are independent and symmetric about their centre. Ties make the interval cover more, not less.
///
/// # Errors
/// No value, one that is not finite, more than 200, or too few for the confidence: 5 values reach 93.75 %, not 95 %.
///
/// # Source
/// Hodges & Lehmann (1963) as above; Tukey's interval, Hollander & Wolfe (1973), 3.3.
///
/// # Example
/// ```
/// use relent::compare::{Confidence, hodges_lehmann_centre};
/// let centre = hodges_lehmann_centre(&[1.0, 2.0, 6.0], Confidence::new(0.75)?)?;
/// assert_eq!(centre.estimate, 2.75); // of 1, 1.5, 2, 3.5, 4, 6
/// assert_eq!((centre.interval.lower, centre.interval.upper), (1.0, 6.0));
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn hodges_lehmann_centre(
    values: &[f64],
    confidence: Confidence,
) -> Result<HodgesLehmann, StatisticsError> {
    checked("the values", values, 1)?;
    not_too_many(values.len())?;
    let ranks: Vec<usize> = (1..=values.len()).collect();
    let means: Vec<f64> = values
        .iter()
        .enumerate()
        .flat_map(|(i, x)| values[i..].iter().map(move |y| x + (y - x) / 2.0))
        .collect();
    between_order_statistics(&means, &sign_distribution(&ranks), confidence)
}

fn between_order_statistics(
    values: &[f64],
    distribution: &[f64],
    confidence: Confidence,
) -> Result<HodgesLehmann, StatisticsError> {
    let wanted = confidence.level();
    let (end, below) = left_out(distribution, (1.0 - wanted) / 2.0);
    if end == 0 {
        return Err(StatisticsError::ConfidenceOutOfReach {
            wanted,
            reachable: 1.0 - 2.0 * distribution[0],
        });
    }
    let ordered = ascending(values);
    Ok(HodgesLehmann {
        estimate: middle(&ordered),
        interval: Interval {
            lower: ordered[end - 1],
            upper: ordered[ordered.len() - end],
            confidence: 1.0 - 2.0 * below,
        },
    })
}

fn not_too_many(found: usize) -> Result<(), StatisticsError> {
    if found <= MOST_EXACT {
        return Ok(());
    }
    Err(StatisticsError::TooMany {
        what: "the values of a distribution-free interval",
        found,
        most: MOST_EXACT,
    })
}
