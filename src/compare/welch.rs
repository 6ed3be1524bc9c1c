//! The difference of two means whose spreads may differ.

use super::sample::{Moments, checked};
use super::{Estimate, StatisticsError};

/// The difference of two means, after − before, without the assumption that both spread alike.
///
/// d = ȳ − x̄, SE² = s_x²/n_x + s_y²/n_y, ν = SE⁴ / ((s_x²/n_x)²/(n_x − 1) + (s_y²/n_y)²/(n_y − 1)).
///
/// # Quantities
/// `before` = x, `after` = y: independent values in one unit, at least two of each. Out: d and SE in that unit, ν.
///
/// # Holds when
/// The hits of each version are independent and about normal. Simulated coverage of the 95 % interval (the figures stand in
/// reports/compare-simulation.md) is 95 ± 1 % from 5 hits a side on, with unequal numbers and unequal spreads too. At three hits a side
/// of equal spread it is 96.5 %, on the careful side. **Three against ten of equal spread cover only 93.6 %**: take equal numbers, or
/// pool test points with [`additive_effect`](super::additive_effect).
///
/// # Errors
/// Fewer than two values on a side, a value that is not finite, or no spread on either side.
///
/// # Source
/// Welch, Biometrika 34 (1947) 28–35; Satterthwaite, Biometrics Bulletin 2 (1946) 110–114.
///
/// # Example
/// ```
/// // 1, 2, 3 against 3, 4, 5: means 2 apart, variances 1, so SE² = 2/3 and ν = 4.
/// let d = relent::compare::welch_difference(&[1.0, 2.0, 3.0], &[3.0, 4.0, 5.0])?;
/// assert_eq!(d.value(), 2.0);
/// assert!((d.standard_error().powi(2) - 2.0 / 3.0).abs() < 1e-15);
/// assert!((d.degrees_of_freedom() - 4.0).abs() < 1e-14);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn welch_difference(before: &[f64], after: &[f64]) -> Result<Estimate, StatisticsError> {
    checked("the values before", before, 2)?;
    checked("the values after", after, 2)?;
    let origin = before[0];
    let x = Moments::about(origin, before);
    let y = Moments::about(origin, after);
    let (share_x, share_y) = (x.variance() / x.count, y.variance() / y.count);
    let squared = share_x + share_y;
    if squared <= 0.0 {
        return Err(StatisticsError::NoSpread {
            what: "the values of each version",
        });
    }
    // Shares of the squared error keep ν finite where the squares themselves would overflow or vanish.
    let (part_x, part_y) = (share_x / squared, share_y / squared);
    let nu = 1.0 / (part_x * part_x / (x.count - 1.0) + part_y * part_y / (y.count - 1.0));
    Estimate::new(y.offset - x.offset, squared.sqrt(), nu)
}
