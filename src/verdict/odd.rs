//! The odd one out among the hits of one test point: named, never dropped.

use crate::uncertainty::{PooledSpread, t_cdf};

/// Chance, over all hits of a point together, of naming one although nothing is odd.
const FALSE_ALARMS: f64 = 0.05;

/// A hit that differs from the other hits at its test point by more than the scatter elsewhere explains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddOne {
    /// Its place among the values.
    pub place: usize,
    /// Its distance from the mean of the others, in the unit of the values.
    pub distance: f64,
    /// Chance of such a distance, for the whole point, if nothing is odd.
    pub chance: f64,
}

impl OddOne {
    /// The level that is stated for the chance: the least of 0.001, 0.01 and 0.05 above it.
    #[must_use]
    pub fn chance_below(&self) -> f64 {
        let levels = [0.001, 0.01, FALSE_ALARMS];
        let above = levels.into_iter().find(|level| self.chance < *level);
        above.unwrap_or(1.0)
    }
}

/// The one hit, if any, that lies farther from the mean of the others than the scatter at the other test points explains:
/// t = (xᵢ − x̄₋ᵢ) / (s·√(1 + 1/(n−1))), two-sided, with the chance multiplied by n because any of the n might be the odd one.
///
/// # Why not a test on the three hits alone
/// With n = 3 Grubbs' statistic can never exceed 2/√3 = 1.1547, and its 5 % point is 1.1543; Dixon's ratio must exceed
/// 0.97. Both call 398, 399 and 400.9 much like 300, 300 and 460: a test that scales by the three hits themselves measures
/// how close the other two happen to be. The scatter of the visit's other points (nine points of three hits: 16 degrees of
/// freedom) is a scale that the odd hit cannot bend.
///
/// # Holds when
/// Repeats scatter in proportion to the force, alike at all points; needs another point with at least two hits.
///
/// # Example
/// ```
/// use relent::uncertainty::PooledSpread;
/// use relent::verdict::odd_one_out;
/// let elsewhere = PooledSpread { relative: 0.02, dof: 16.0, points: 8 };
/// assert_eq!(odd_one_out(&[372.0, 460.0, 380.0], elsewhere).unwrap().place, 1);
/// assert!(odd_one_out(&[372.0, 388.0, 380.0], elsewhere).is_none());
/// ```
#[must_use]
pub fn odd_one_out(values: &[f64], elsewhere: PooledSpread) -> Option<OddOne> {
    if values.len() < 3 {
        return None;
    }
    let n = values.len() as f64;
    let sum: f64 = values.iter().sum();
    let scale = elsewhere.relative * (sum / n).abs() * (1.0 + 1.0 / (n - 1.0)).sqrt();
    let odd = |(place, value): (usize, &f64)| {
        let distance = value - (sum - value) / (n - 1.0);
        let chance = n * 2.0 * t_cdf(-(distance / scale).abs(), elsewhere.dof);
        OddOne {
            place,
            distance,
            chance: chance.min(1.0),
        }
    };
    values
        .iter()
        .enumerate()
        .map(odd)
        .max_by(|one, other| one.distance.abs().total_cmp(&other.distance.abs()))
        .filter(|one| one.chance < FALSE_ALARMS)
}
