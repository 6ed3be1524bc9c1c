//! One effect over all test points, each test point a block of its own.

use serde::Serialize;

use super::distributions::variance_ratio_above;
use super::sample::{Moments, checked, is_rounding, magnitude, sum};
use super::{Estimate, StatisticsError};

/// The hits at one test point.
#[derive(Clone, Copy, Debug)]
pub struct Block<'a> {
    /// Values before the change.
    pub before: &'a [f64],
    /// Values after it.
    pub after: &'a [f64],
}

/// The common effect, and how much the test points differ from it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AdditiveEffect {
    /// The effect common to all blocks, after − before.
    pub estimate: Estimate,
    /// The difference at each block, in the order given: a common effect never hides the worst of them.
    pub differences: Vec<f64>,
    /// Standard deviation of a single value about the model.
    pub residual_deviation: f64,
    /// The variance ratio of "the effect differs from block to block", with its probability if it did not. Absent where there
    /// is one block, or no repeat to compare with.
    pub interaction: Option<Interaction>,
}

/// The test of whether the effect is the same at every block.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Interaction {
    /// The ratio of the mean squares.
    pub f: f64,
    /// Degrees of freedom above: blocks − 1.
    pub above: f64,
    /// Degrees of freedom below: values − 2 blocks.
    pub below: f64,
    /// Probability of a ratio this great if the effect were the same everywhere.
    pub p: f64,
}

/// What one block contributes.
struct Contribution {
    /// n_x n_y / (n_x + n_y): the inverse of the variance of the difference, in units of 1/σ².
    weight: f64,
    difference: f64,
    before: Moments,
    after: Moments,
}

/// The effect common to all blocks in the two-way additive model: value = block + effect + error, one σ for all.
///
/// w_b = n_x n_y/(n_x + n_y), d = Σ w_b d_b / Σ w_b, SE² = s²/Σ w_b, ν = N − B − 1 with
/// s² = Σ_b [S_x + S_y + w_b (d_b − d)²] / ν.
///
/// The weights are the inverse variances as far as they are known, from the numbers of hits. Weights from the spread of three
/// hits would be mostly noise, lean towards the blocks that happen to look quiet, and make the interval too short.
/// With one hit a side and block this is the paired t interval.
///
/// # Quantities
/// Blocks with at least one value a side and N − B − 1 ≥ 1; one unit.
///
/// # Holds when
/// Errors are independent and normal with about one spread at all blocks, and the effect is about the same everywhere
/// (see `interaction`, and look at `differences`). Where spreads differ much, use [`mean_block_effect`].
///
/// # Errors
/// No block, a block with an empty side, a value that is not finite, too few values, or no spread.
///
/// # Source
/// The two-way classification without interaction, Scheffé, The Analysis of Variance (1959), ch. 4; checked against ordinary
/// least squares with indicator columns in statsmodels.
///
/// # Example
/// ```
/// use relent::compare::{Block, additive_effect};
/// let blocks = [
///     Block { before: &[300.0, 302.0], after: &[310.0, 312.0] },
///     Block { before: &[390.0, 392.0], after: &[402.0, 404.0] },
/// ];
/// let effect = additive_effect(&blocks)?;
/// assert_eq!((effect.estimate.value(), effect.differences), (11.0, vec![10.0, 12.0]));
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn additive_effect(blocks: &[Block<'_>]) -> Result<AdditiveEffect, StatisticsError> {
    let parts = contributions(blocks, 1)?;
    let values: f64 = parts
        .iter()
        .map(|part| part.before.count + part.after.count)
        .sum();
    let count = parts.len() as f64;
    let freedom = values - count - 1.0;
    if freedom < 1.0 {
        return Err(StatisticsError::TooFew {
            what: "the values of all blocks",
            found: values as usize,
            least: parts.len() + 2,
        });
    }
    let weights = sum(parts.iter().map(|part| part.weight));
    let effect = sum(parts.iter().map(|part| part.weight * part.difference)) / weights;
    let within = sum(parts
        .iter()
        .map(|part| part.before.squares + part.after.squares));
    let apart = sum(parts
        .iter()
        .map(|part| part.weight * (part.difference - effect).powi(2)));
    let deviation = ((within + apart) / freedom).sqrt();
    let all = blocks
        .iter()
        .flat_map(|block| block.before.iter().chain(block.after));
    if is_rounding(deviation, magnitude(all)) {
        return Err(StatisticsError::NoSpread {
            what: "the distances of the values from the common effect",
        });
    }
    Ok(AdditiveEffect {
        estimate: Estimate::new(effect, deviation / weights.sqrt(), freedom)?,
        differences: parts.iter().map(|part| part.difference).collect(),
        residual_deviation: deviation,
        interaction: interaction(apart, within, count - 1.0, values - 2.0 * count),
    })
}

fn interaction(apart: f64, within: f64, above: f64, below: f64) -> Option<Interaction> {
    if above < 1.0 || below < 1.0 || within <= 0.0 {
        return None;
    }
    let f = (apart / above) / (within / below);
    let p = variance_ratio_above(f, above, below);
    Some(Interaction { f, above, below, p })
}

/// The mean of the blocks' own differences, each block counted alike and each cell with its own spread.
///
/// d = Σ d_b / B, SE² = Σ_b (s_x²/n_x + s_y²/n_y) / B², ν by Welch and Satterthwaite over all 2B cells.
///
/// # Quantities
/// Blocks with at least two values a side; one unit.
///
/// # Holds when
/// Values are independent and normal; spreads may differ from block to block and between versions. The effect meant is the
/// mean over just these test points.
///
/// # Errors
/// No block, fewer than two values on a side of a block, a value that is not finite, or no spread anywhere.
///
/// # Source
/// Satterthwaite, Biometrics Bulletin 2 (1946) 110–114.
///
/// # Example
/// ```
/// use relent::compare::{Block, mean_block_effect, welch_difference};
/// // A single block: the same as Welch's difference.
/// let (before, after) = ([1.0, 2.0, 4.0], [3.0, 4.0, 5.0]);
/// let block = Block { before: &before, after: &after };
/// assert_eq!(mean_block_effect(&[block])?, welch_difference(&before, &after)?);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn mean_block_effect(blocks: &[Block<'_>]) -> Result<Estimate, StatisticsError> {
    let parts = contributions(blocks, 2)?;
    let cells = || parts.iter().flat_map(|part| [&part.before, &part.after]);
    let squared = sum(cells().map(|cell| cell.variance() / cell.count));
    if squared <= 0.0 {
        return Err(StatisticsError::NoSpread {
            what: "the values of each version at each block",
        });
    }
    let share =
        |cell: &Moments| (cell.variance() / cell.count / squared).powi(2) / (cell.count - 1.0);
    let nu = 1.0 / sum(cells().map(share));
    let count = parts.len() as f64;
    let effect = sum(parts.iter().map(|part| part.difference)) / count;
    Estimate::new(effect, squared.sqrt() / count, nu)
}

fn contributions(blocks: &[Block<'_>], least: usize) -> Result<Vec<Contribution>, StatisticsError> {
    if blocks.is_empty() {
        return Err(StatisticsError::TooFew {
            what: "the blocks",
            found: 0,
            least: 1,
        });
    }
    blocks
        .iter()
        .map(|block| {
            checked("the values before, at one block", block.before, least)?;
            checked("the values after, at one block", block.after, least)?;
            let origin = block.before[0];
            let (before, after) = (
                Moments::about(origin, block.before),
                Moments::about(origin, block.after),
            );
            Ok(Contribution {
                weight: before.count * after.count / (before.count + after.count),
                difference: after.offset - before.offset,
                before,
                after,
            })
        })
        .collect()
}
