//! Several p-values at once.

use super::StatisticsError;
use super::sample::checked;

/// The p-values adjusted so that all may be held against one permitted probability of any wrong rejection, in the order given.
///
/// For the j-th smallest of m: p̃₍ⱼ₎ = max over i ≤ j of min(1, (m − i + 1) p₍ᵢ₎).
///
/// # Quantities
/// Numbers from 0 to 1, in and out.
///
/// # Holds when
/// Always: the tests may depend on one another in any way.
///
/// # Errors
/// A p-value outside 0 … 1, or not a number.
///
/// # Source
/// Holm, Scandinavian Journal of Statistics 6 (1979) 65–70.
///
/// # Example
/// ```
/// assert_eq!(relent::compare::holm(&[0.25, 0.01, 0.5])?, [0.5, 0.03, 0.5]);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn holm(p_values: &[f64]) -> Result<Vec<f64>, StatisticsError> {
    checked("the p-values", p_values, 0)?;
    if let Some(&found) = p_values.iter().find(|p| !(0.0..=1.0).contains(*p)) {
        return Err(StatisticsError::OutOfRange {
            what: "a p-value",
            found,
            expected: "a number from 0 to 1",
        });
    }
    let mut order: Vec<usize> = (0..p_values.len()).collect();
    order.sort_by(|&i, &j| p_values[i].total_cmp(&p_values[j]));
    let mut adjusted = vec![0.0; p_values.len()];
    let mut reached = 0.0_f64;
    for (place, &i) in order.iter().enumerate() {
        let factor = (p_values.len() - place) as f64;
        reached = reached.max((factor * p_values[i]).min(1.0));
        adjusted[i] = reached;
    }
    Ok(adjusted)
}
