//! The mean difference of values that stand in pairs.

use super::sample::{Moments, differences, is_rounding, magnitude};
use super::{Estimate, StatisticsError};

/// The mean of the differences after − before of values that stand in pairs, as one hit of each version at each test point.
///
/// dᵢ = yᵢ − xᵢ, d = Σ dᵢ / n, SE = s_d / √n, ν = n − 1.
///
/// # Quantities
/// `before` = x, `after` = y: in one unit, of one length n ≥ 2, in the order of the pairs. Out: d and SE in that unit.
///
/// # Holds when
/// The differences are independent and about normal; the values themselves need not be. A pair is what was measured under
/// the same conditions: the order in which two sets of repeats were taken does not make them pairs.
///
/// # Errors
/// Unequal lengths, fewer than two pairs, a value that is not finite, or differences that are all the same (or differ by no more
/// than the rounding of the values).
///
/// # Source
/// Student, "The probable error of a mean", Biometrika 6 (1908) 1–25.
///
/// # Example
/// ```
/// // Differences 1, 2, 3: mean 2, standard error 1/√3.
/// let d = relent::compare::paired_difference(&[10.0, 20.0, 30.0], &[11.0, 22.0, 33.0])?;
/// assert_eq!(d.value(), 2.0);
/// assert!((d.standard_error() - 1.0 / 3.0_f64.sqrt()).abs() < 1e-15);
/// assert_eq!(d.degrees_of_freedom(), 2.0);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn paired_difference(before: &[f64], after: &[f64]) -> Result<Estimate, StatisticsError> {
    let gaps = differences(before, after, 2)?;
    let moments = Moments::about(gaps[0], &gaps);
    let deviation = moments.variance().sqrt();
    if is_rounding(deviation, magnitude(before.iter().chain(after))) {
        return Err(StatisticsError::NoSpread {
            what: "the differences of the pairs",
        });
    }
    Estimate::new(
        gaps[0] + moments.offset,
        deviation / moments.count.sqrt(),
        moments.count - 1.0,
    )
}
