//! The uncertainty of each measure: its budget line by line, the expanded uncertainty, the probability of conformity.
//!
//! # Source
//! JCGM 100:2008 (GUM): components of type A and B (clause 4), root sum of squares (5.1.2), effective degrees of freedom
//! by Welch–Satterthwaite and the coverage factor from Student's t (G.4). JCGM 106:2012: probability of conformity.

mod budget;
mod conformity;
mod force;
mod repeatability;
mod time;

pub use budget::{Budget, Component, Distribution, Source, combine};
pub use conformity::{Permitted, normal_cdf, probability, t_cdf, t_quantile, upper_bound};
pub use repeatability::{PooledSpread, VisitScatter, largest_share_chance};

use crate::limitation::SpringBand;
use crate::limits::Assessed;
use crate::measure::Measure;
use crate::quantity::{Dimension, Newton, Second};

/// What is known of the accuracy of a gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GaugeAccuracy {
    /// A calibration certificate: expanded uncertainty in newtons plus a share of the reading, and its coverage factor.
    Certificate {
        /// The part in newtons.
        expanded: Newton,
        /// The part as a share of the reading.
        expanded_share: f64,
        /// Coverage factor k, above 0.
        k: f64,
    },
    /// The class limit of the gauge: half width, a share of the reading plus newtons.
    Class {
        /// The share of the reading.
        share_of_reading: f64,
        /// The part in newtons.
        absolute: Newton,
    },
    /// Neither: the budget says that it leaves the gauge out.
    Unknown,
}

/// What one record says about its own uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingFacts {
    /// Step of the values in the log.
    pub resolution: Newton,
    /// Noise of the quiet stretch, one standard deviation.
    pub noise: Newton,
    /// Samples of the quiet stretch.
    pub quiet_samples: usize,
    /// How far the zero moved; `None` if it could not be seen.
    pub drift: Option<Newton>,
    /// Greatest excess over the highest sample that sampling may have missed.
    pub unseen: Newton,
    /// Time between samples.
    pub step: Second,
    /// Scatter of the time between samples, one standard deviation.
    pub jitter: Second,
    /// Slope of the force at each crossing that the measure is read from, with the level crossed.
    pub crossings: Vec<Crossing>,
    /// How much earlier, and how much later, the true instant may be where it is read from the shape of the force.
    pub doubt: Doubt,
}

/// How far the true instant may lie from one that is read from the shape of the force.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Doubt {
    /// Before it.
    pub earlier: Second,
    /// After it.
    pub later: Second,
}

/// A crossing of a level, from which a time is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The level.
    pub level: Newton,
    /// Slope of the force there in N/s, either sign.
    pub slope_n_s: f64,
}

/// The budget of a measure over the repeats of one test point; `None` for a measure that is neither force nor time, or
/// without a value.
///
/// # Quantities
/// `values`: the readings in the unit of the measure; `facts`: of the same records, in the same order. Under
/// [`Assessed::Mean`] the spread of the values enters as repeatability; under [`Assessed::Worst`] only the greatest is looked
/// at. Of every fact the least favourable of the records counts, because the gauge and its logger are the same for all.
/// `spring` is given where the profile asks for a band; it enters the peak force only. `pool` is the scatter of the visit
/// where it may stand for that of the point ([`VisitScatter`]); it enters the mean of a force and replaces the point's own. A
/// mean of one hit has no repeatability of its own: without a pool the budget leaves it out.
#[must_use]
pub fn budget(
    measure: Measure,
    assessed: Assessed,
    values: &[f64],
    facts: &[ReadingFacts],
    gauge: &GaugeAccuracy,
    spring: Option<SpringBand>,
    pool: Option<PooledSpread>,
) -> Option<Budget> {
    let worst = values.iter().copied().max_by(f64::total_cmp)?;
    let held = match assessed {
        Assessed::Mean => values,
        Assessed::Worst => &[worst],
    };
    match measure.dimension() {
        Dimension::Force => Some(force::budget(
            measure, assessed, held, facts, gauge, spring, pool,
        )),
        Dimension::Time => Some(time::budget(held, facts, gauge)),
        _ => None,
    }
}

/// The greatest of a fact over the records.
fn greatest(facts: &[ReadingFacts], fact: impl Fn(&ReadingFacts) -> f64) -> f64 {
    facts.iter().map(fact).fold(0.0, f64::max)
}
