//! Components and how they combine.

use serde::{Deserialize, Serialize};

use super::PooledSpread;
use super::conformity::t_quantile;
use crate::fact::Fact;

/// How the value of a component is distributed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Distribution {
    /// Normal; the value is a standard deviation or a multiple of one.
    Normal,
    /// Rectangular; the value is half its width, or its whole width where the divisor is √12.
    Rectangular,
    /// Student's t, from a few readings; the value is their standard deviation.
    StudentT,
}

/// What a component of an uncertainty comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "the messages of words/en/uncertainty.ftl say it"
)]
pub enum Source {
    Calibration,
    Resolution,
    ZeroNoise,
    ZeroDrift,
    Sampling,
    SpringRate,
    Repeatability,
    /// From the scatter of so many test points.
    RepeatabilityPooled {
        points: usize,
    },
    /// As the gate file declares it.
    RepeatabilityDeclared,
    NoiseOfOneHit,
    SamplingStep,
    NoiseAtLevel,
    CalibrationAtLevel,
    ClockJitter,
    InstantFromForce,
    GreatestOfNoise,
}

impl Fact for Source {
    const FAMILY: &'static str = "component";
}

/// One line of a budget.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Component {
    /// What it comes from.
    pub source: Source,
    /// What is known: an expanded uncertainty, a half width, a step, a standard deviation; in the unit of the measure.
    pub value: f64,
    /// How it is distributed.
    pub distribution: Distribution,
    /// What the value is divided by.
    pub divisor: f64,
    /// Standard uncertainty: value / divisor.
    pub u: f64,
    /// Degrees of freedom; infinite where the distribution is known.
    pub dof: f64,
}

impl Component {
    /// A component whose distribution is known, so that its degrees of freedom are infinite.
    pub(super) fn known(
        source: Source,
        value: f64,
        distribution: Distribution,
        divisor: f64,
    ) -> Self {
        Self {
            source,
            value,
            distribution,
            divisor,
            u: value / divisor,
            dof: f64::INFINITY,
        }
    }

    /// Repeatability: the experimental standard deviation of n ≥ 2 readings over √n, n − 1 degrees of freedom.
    ///
    /// # Source
    /// JCGM 100:2008, 4.2.2 and 4.2.3.
    #[must_use]
    pub fn repeatability(values: &[f64]) -> Option<Self> {
        if values.len() < 2 {
            return None;
        }
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
        let deviation = (squares / (n - 1.0)).sqrt();
        Some(Self {
            source: Source::Repeatability,
            value: deviation,
            distribution: Distribution::StudentT,
            divisor: n.sqrt(),
            u: deviation / n.sqrt(),
            dof: n - 1.0,
        })
    }

    /// Repeatability of the mean of n readings from the relative scatter of a whole visit: s·x̄/√n, with its degrees of
    /// freedom.
    ///
    /// # Source
    /// JCGM 100:2008, 4.2.4: a pooled estimate of variance from earlier or parallel series, with its own degrees of freedom.
    #[must_use]
    pub fn pooled(values: &[f64], pool: PooledSpread) -> Self {
        let n = values.len() as f64;
        let deviation = pool.relative * (values.iter().sum::<f64>() / n).abs();
        Self {
            source: match pool.points {
                0 => Source::RepeatabilityDeclared,
                points => Source::RepeatabilityPooled { points },
            },
            value: deviation,
            distribution: Distribution::StudentT,
            divisor: n.sqrt(),
            u: deviation / n.sqrt(),
            dof: pool.dof,
        }
    }
}

/// The uncertainty of a value, line by line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Budget {
    /// The lines.
    pub components: Vec<Component>,
    /// What is added to the value to make it the best estimate: half the excess that sampling may have missed.
    pub correction: f64,
    /// What could not be put into the budget, so that it is too small.
    pub left_out: Vec<Source>,
    /// Combined standard uncertainty.
    pub combined: f64,
    /// Effective degrees of freedom.
    pub dof: f64,
    /// Coverage factor for 95 %.
    pub k: f64,
    /// Expanded uncertainty U = k u.
    pub expanded: f64,
}

/// Combines components: u = √Σuᵢ², ν = u⁴ / Σ(uᵢ⁴/νᵢ), k = the two-sided 95 % point of Student's t with ν.
///
/// ν is used as it comes and not cut to a whole number.
///
/// # Source
/// JCGM 100:2008, 5.1.2, G.4.1 (equation G.2b), G.6.4.
///
/// # Example
/// ```
/// use relent::uncertainty::{Component, combine};
/// let three = Component::repeatability(&[372.0, 388.0, 380.0]).unwrap();
/// assert_eq!((three.value, three.dof), (8.0, 2.0));
/// let budget = combine(vec![three], 0.0, Vec::new());
/// assert!((budget.k - 4.30265).abs() < 1e-5);
/// ```
#[must_use]
pub fn combine(components: Vec<Component>, correction: f64, left_out: Vec<Source>) -> Budget {
    let combined = components
        .iter()
        .map(|one| one.u.powi(2))
        .sum::<f64>()
        .sqrt();
    let shares: f64 = components
        .iter()
        .filter(|one| one.dof.is_finite() && one.u > 0.0 && combined.is_finite())
        .map(|one| (one.u / combined).powi(4) / one.dof)
        .sum();
    let dof = if shares > 0.0 {
        shares.recip()
    } else {
        f64::INFINITY
    };
    let k = t_quantile(0.975, dof);
    Budget {
        components,
        correction,
        left_out,
        combined,
        dof,
        k,
        expanded: k * combined,
    }
}
