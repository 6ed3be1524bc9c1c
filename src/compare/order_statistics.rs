//! Values in order: median, quantiles, ranks and the empirical distribution.

use serde::Serialize;

use super::StatisticsError;
use super::sample::checked;

/// The values in ascending order.
pub(super) fn ascending(values: &[f64]) -> Vec<f64> {
    let mut ordered = values.to_vec();
    ordered.sort_by(f64::total_cmp);
    ordered
}

/// The middle of values that are already ascending and not empty.
pub(super) fn middle(ordered: &[f64]) -> f64 {
    let half = ordered.len() / 2;
    if ordered.len() % 2 == 1 {
        ordered[half]
    } else {
        ordered[half - 1] + (ordered[half] - ordered[half - 1]) / 2.0
    }
}

/// The middle value, or the mean of the two middle ones.
///
/// # Quantities
/// At least one finite value; out in the same unit.
///
/// # Errors
/// No value, or one that is not finite.
///
/// # Example
/// ```
/// assert_eq!(relent::compare::median(&[4.0, 1.0, 3.0, 2.0])?, 2.5);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn median(values: &[f64]) -> Result<f64, StatisticsError> {
    checked("the values", values, 1)?;
    Ok(middle(&ascending(values)))
}

/// The value that the share `share` of the sample does not exceed, interpolated between neighbours.
///
/// With h = (n − 1)·share: x₍⌊h⌋₎ + (h − ⌊h⌋)(x₍⌊h⌋₊₁₎ − x₍⌊h⌋₎), ranks from 0.
///
/// # Quantities
/// `share` from 0 (the least) to 1 (the greatest).
///
/// # Errors
/// No value, one that is not finite, or a share outside 0 … 1.
///
/// # Source
/// Hyndman & Fan, The American Statistician 50 (1996) 361–365, definition 7.
///
/// # Example
/// ```
/// assert_eq!(relent::compare::quantile(&[10.0, 20.0, 30.0, 40.0], 0.25)?, 17.5);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn quantile(values: &[f64], share: f64) -> Result<f64, StatisticsError> {
    checked("the values", values, 1)?;
    if !(0.0..=1.0).contains(&share) {
        return Err(StatisticsError::OutOfRange {
            what: "the share of a quantile",
            found: share,
            expected: "a number from 0 to 1",
        });
    }
    let ordered = ascending(values);
    let place = (ordered.len() - 1) as f64 * share;
    let below = place.floor() as usize;
    let above = (below + 1).min(ordered.len() - 1);
    Ok(ordered[below] + (place - place.floor()) * (ordered[above] - ordered[below]))
}

/// The rank of each value from 1, in the order given; equal values share the mean of their ranks.
///
/// # Errors
/// A value that is not finite.
///
/// # Example
/// ```
/// assert_eq!(relent::compare::midranks(&[7.0, 5.0, 7.0])?, [2.5, 1.0, 2.5]);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn midranks(values: &[f64]) -> Result<Vec<f64>, StatisticsError> {
    checked("the values", values, 0)?;
    Ok(doubled_midranks(values)
        .into_iter()
        .map(|rank| rank as f64 / 2.0)
        .collect())
}

/// Twice the midranks: whole numbers, so that rank sums can be counted without rounding.
pub(super) fn doubled_midranks(values: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&i, &j| values[i].total_cmp(&values[j]));
    let mut ranks = vec![0; values.len()];
    let mut start = 0;
    while start < order.len() {
        let level = values[order[start]];
        let tied = order[start..]
            .iter()
            .take_while(|&&i| values[i] == level)
            .count();
        for &i in &order[start..start + tied] {
            ranks[i] = 2 * start + tied + 1;
        }
        start += tied;
    }
    ranks
}

/// Σ (t³ − t) over the groups of t equal values: 0 when all differ.
pub(super) fn tie_sum(values: &[f64]) -> f64 {
    ascending(values)
        .chunk_by(|a, b| a == b)
        .map(|group| (group.len() as f64).powi(3) - group.len() as f64)
        .sum()
}

/// The empirical distribution: for each different value the share of the sample that does not exceed it.
///
/// # Example
/// ```
/// let ecdf = relent::compare::Ecdf::new(&[3.0, 1.0, 3.0, 2.0])?;
/// assert_eq!(ecdf.steps(), [(1.0, 0.25), (2.0, 0.5), (3.0, 1.0)]);
/// assert_eq!(ecdf.at(2.9), 0.5);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Ecdf {
    steps: Vec<(f64, f64)>,
}

impl Ecdf {
    /// The empirical distribution of `values`.
    ///
    /// # Errors
    /// No value, or one that is not finite.
    pub fn new(values: &[f64]) -> Result<Self, StatisticsError> {
        checked("the values", values, 1)?;
        let ordered = ascending(values);
        let mut counted = 0;
        let steps = ordered
            .chunk_by(|a, b| a == b)
            .map(|group| {
                counted += group.len();
                (group[0], counted as f64 / ordered.len() as f64)
            })
            .collect();
        Ok(Self { steps })
    }

    /// The different values, ascending, each with the share of the sample at or under it.
    #[must_use]
    pub fn steps(&self) -> &[(f64, f64)] {
        &self.steps
    }

    /// The share of the sample at or under `value`.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        let passed = self.steps.partition_point(|&(step, _)| step <= value);
        passed.checked_sub(1).map_or(0.0, |last| self.steps[last].1)
    }
}
