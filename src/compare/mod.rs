//! Two firmware versions, or before and after a change, on the same test points: what the data show, and what they do not.
//!
//! Every difference is *after − before*. Nothing here calls two things equal because a test found no difference: a
//! p-value is a number without a verdict, and the only words for "not worse" and "equivalent" are those of
//! [`Conclusion`], which is drawn from an interval and a margin fixed beforehand.
//!
//! | question | method |
//! |---|---|
//! | how much has one test point changed | [`welch_difference`], [`paired_difference`] → [`Estimate`] |
//! | the same without a normal distribution | [`rank_sum`], [`signed_rank`], [`hodges_lehmann_shift`], [`hodges_lehmann_centre`] |
//! | how much over all test points | [`additive_effect`], [`mean_block_effect`], [`permutation_test`] |
//! | not worse, or equivalent, within a margin | [`equivalence`], [`Conclusion`] |
//! | several questions at once | [`holm`] |
//! | are several groups alike; does a value drift | [`one_way_anova`], [`least_squares`] |
//! | how many hits are needed | [`power`], [`smallest_design`], [`needs`] |
//! | may two series of hits be compared | [`differences`], [`copies`] |
//! | two series of hits, all measures and points | [`study()`] → [`Study`] → [`Outcome`] |

mod anova;
mod conclusion;
mod conditions;
mod design;
mod distributions;
mod effect;
mod equivalence;
mod estimate;
mod hodges_lehmann;
mod holm;
mod least_squares;
mod needed;
mod no_answer;
mod order_statistics;
mod outcome;
mod paired;
mod permutation;
mod pooled;
mod quadrature;
mod rank_distribution;
mod rank_sum;
mod sample;
mod series;
mod signed_rank;
mod study;
mod thing;
mod welch;

use thiserror::Error;

pub use anova::{Anova, one_way_anova};
pub use conclusion::{Conclusion, Margin, Worse};
pub use conditions::{Aspect, Bearing, Difference, changed, copies, differences};
pub use design::{Layout, Pilot, Plan, Question, power, smallest_design};
pub use effect::{Against, Change, Claim, Effect};
pub use equivalence::{Equivalence, equivalence};
pub use estimate::{Alpha, Alternative, Confidence, Estimate, Interval};
pub use hodges_lehmann::{HodgesLehmann, hodges_lehmann_centre, hodges_lehmann_shift};
pub use holm::holm;
pub use least_squares::{Line, Reach, least_squares};
pub use needed::{Goal, Need, needs};
pub use no_answer::NoAnswer;
pub use order_statistics::{Ecdf, median, midranks, quantile};
pub use outcome::{OpenReason, Outcome, Spot, Worsening};
pub use paired::paired_difference;
pub use permutation::{Counting, PermutationTest, permutation_test};
pub use pooled::{AdditiveEffect, Block, Interaction, additive_effect, mean_block_effect};
pub use rank_sum::{NullDistribution, RankSum, rank_sum};
pub use series::{Excluded, LeftOut, Reading, Sample, Series};
pub use signed_rank::{SignedRank, Zeros, signed_rank};
pub use study::{
    Arrangement, COMPARED, MeasureStudy, PointStudy, Pooled, Study, Terms, Unmatched, study,
};
pub use thing::{Thing, Values};
pub use welch::welch_difference;

/// Why values do not allow the comparison asked for.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum StatisticsError {
    /// Fewer values than the method needs.
    #[error("{what}: {found} found, expected at least {least}")]
    TooFew {
        /// What was counted.
        what: &'static str,
        /// How many there are.
        found: usize,
        /// How many are needed.
        least: usize,
    },
    /// More values than the method can enumerate.
    #[error("{what}: {found} found, expected at most {most}")]
    TooMany {
        /// What was counted.
        what: &'static str,
        /// How many there are.
        found: usize,
        /// How many are permitted.
        most: usize,
    },
    /// A value that is not a finite number.
    #[error("{what}: value {} is {found}, expected a finite number", .index + 1)]
    NotFinite {
        /// Which values.
        what: &'static str,
        /// Its place, from 0.
        index: usize,
        /// The value found.
        found: f64,
    },
    /// Values without any spread, from which no uncertainty can be estimated.
    #[error("{what} are all alike: their spread cannot be estimated")]
    NoSpread {
        /// Which values.
        what: &'static str,
    },
    /// Values that should stand in pairs and do not.
    #[error("{first} and {second} values found, expected pairs")]
    NotPaired {
        /// How many values come first.
        first: usize,
        /// How many stand beside them.
        second: usize,
    },
    /// A number outside the range it must lie in.
    #[error("{what} is {found}, expected {expected}")]
    OutOfRange {
        /// What the number is.
        what: &'static str,
        /// The number found.
        found: f64,
        /// The range, in words.
        expected: &'static str,
    },
    /// So few values that no distribution-free interval has the confidence asked for.
    #[error(
        "a confidence of {wanted} was asked for, {reachable} is the most these values can give"
    )]
    ConfidenceOutOfReach {
        /// The confidence asked for.
        wanted: f64,
        /// The greatest confidence that is to be had.
        reachable: f64,
    },
    /// A plan that does not reach the power asked for at the greatest size permitted.
    #[error("a power of {wanted} was asked for, {reached} is reached with {most} repeats")]
    PowerOutOfReach {
        /// The power asked for.
        wanted: f64,
        /// The power at the greatest size.
        reached: f64,
        /// The greatest size.
        most: u32,
    },
}
