//! Whether several groups have one mean.

use serde::Serialize;

use super::StatisticsError;
use super::distributions::variance_ratio_above;
use super::sample::{Moments, checked, sum};

/// The table of a one-way analysis of variance: numbers only, no verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Anova {
    /// Sum of squares between the groups, in the square of the unit of the values.
    pub between_squares: f64,
    /// Its degrees of freedom, groups − 1.
    pub between_freedom: f64,
    /// Sum of squares within the groups.
    pub within_squares: f64,
    /// Its degrees of freedom, values − groups.
    pub within_freedom: f64,
    /// The ratio of the two mean squares.
    pub f: f64,
    /// Probability of a ratio this great if all means were equal.
    pub p: f64,
}

impl Anova {
    /// The share of the whole sum of squares that lies between the groups.
    #[must_use]
    pub fn r_squared(&self) -> f64 {
        self.between_squares / (self.between_squares + self.within_squares)
    }

    /// The standard deviation within the groups.
    #[must_use]
    pub fn residual_deviation(&self) -> f64 {
        (self.within_squares / self.within_freedom).sqrt()
    }
}

/// The variance ratio of groups against the spread within them: one-way analysis of variance.
///
/// F = [Σ n_g (m_g − m)² / (G − 1)] / [Σ Σ (x_gi − m_g)² / (N − G)].
///
/// # Quantities
/// At least two groups of at least one value, N > G; one unit.
///
/// # Holds when
/// Values are independent and normal with one spread in all groups. Numerically: all sums are taken about the first value with
/// compensation, so a constant part of any size costs only the digits that the values have already lost when stored.
///
/// # Errors
/// Too few groups or values, a value that is not finite, or no spread within the groups.
///
/// # Source
/// Fisher's analysis of variance; certified values of NIST StRD in the tests.
///
/// # Example
/// ```
/// // Means 2 and 4, within squares 2 + 2: between 6 on 1, within 4 on 4, F = 6.
/// let table = relent::compare::one_way_anova(&[&[1.0, 2.0, 3.0], &[3.0, 4.0, 5.0]])?;
/// assert_eq!((table.between_squares, table.within_squares, table.f), (6.0, 4.0, 6.0));
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn one_way_anova(groups: &[&[f64]]) -> Result<Anova, StatisticsError> {
    if groups.len() < 2 {
        return Err(StatisticsError::TooFew {
            what: "the groups",
            found: groups.len(),
            least: 2,
        });
    }
    for group in groups {
        checked("the values of a group", group, 1)?;
    }
    let values: usize = groups.iter().map(|group| group.len()).sum();
    if values <= groups.len() {
        return Err(StatisticsError::TooFew {
            what: "the values of all groups",
            found: values,
            least: groups.len() + 1,
        });
    }
    let origin = groups[0][0];
    let moments: Vec<Moments> = groups
        .iter()
        .map(|group| Moments::about(origin, group))
        .collect();
    let mean = sum(moments.iter().map(|m| m.count * m.offset)) / values as f64;
    let between_squares = sum(moments.iter().map(|m| m.count * (m.offset - mean).powi(2)));
    let within_squares = sum(moments.iter().map(|m| m.squares));
    if within_squares <= 0.0 {
        return Err(StatisticsError::NoSpread {
            what: "the values of each group",
        });
    }
    let between_freedom = (groups.len() - 1) as f64;
    let within_freedom = (values - groups.len()) as f64;
    let f = (between_squares / between_freedom) / (within_squares / within_freedom);
    Ok(Anova {
        between_squares,
        between_freedom,
        within_squares,
        within_freedom,
        f,
        p: variance_ratio_above(f, between_freedom, within_freedom),
    })
}
