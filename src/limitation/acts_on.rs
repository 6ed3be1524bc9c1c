//! What a limitation does to a measure: a function of the limitation and of the kind of the measure.

use serde::{Deserialize, Serialize};

use super::{Hidden, Limitation};
use crate::fact::Fact;
use crate::measure::{Kind, Level, Measure, ZeroFrom};

/// What a reading can prove.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// That the limit was kept, and that it was exceeded.
    Full,
    /// Only that it was exceeded: the true value may be greater.
    LowerBound,
    /// Neither.
    Void,
}

impl Fact for Standing {
    const FAMILY: &'static str = "standing";
}

impl Limitation {
    /// What the limitation leaves of a reading of the measure.
    #[must_use]
    pub fn acts_on(&self, measure: Measure) -> Standing {
        use Standing::{Full, LowerBound, Void};
        let kind = measure.kind();
        let bounds = |is: bool| if is { LowerBound } else { Full };
        let voids = |is: bool| if is { Void } else { Full };
        let is_residual = matches!(
            kind,
            Kind::Window(Level::Residual) | Kind::TimeAbove(Level::Residual)
        );
        match self {
            _ if kind == Kind::Reference => Full,
            Self::FlatTop { reaches, .. } => bounds(match kind {
                Kind::Window(level) => reaches.contains(&level),
                other => other.grows_with_the_top(),
            }),
            Self::AtCapacity { .. } => bounds(kind.grows_with_the_top()),
            Self::SlowSampling { .. } => bounds(kind == Kind::Top),
            Self::LostSamples { hides, .. } | Self::ClockGap { hides, .. } => missing(kind, *hides),
            Self::Averaging { .. } | Self::FewerSamples { .. } => averaged(kind),
            Self::LoneSample { without, .. } => {
                voids(without.iter().any(|other| other.measure == measure))
            }
            Self::EndsEarly { still_above, .. } => bounds(match kind {
                _ if still_above.is_empty() => kind.grows() || kind == Kind::Instant,
                Kind::TimeAbove(level) | Kind::PeriodAbove(level) => still_above.contains(&level),
                _ => false,
            }),
            Self::StartsInContact { .. } => bounds(kind.grows() || kind == Kind::Instant),
            Self::NoZero { zero_from, .. } => match zero_from {
                ZeroFrom::LowestStretch => bounds(kind.grows()),
                ZeroFrom::Declared | ZeroFrom::QuietStretch => voids(is_residual),
            },
            Self::Drift { .. } => voids(is_residual),
            Self::CapacityBelowLimit { measure: of, .. } => bounds(measure == *of),
            Self::SpringRate { .. }
            | Self::Calibration { .. }
            | Self::NoReading { .. }
            | Self::Copy { .. } => Void,
        }
    }

    /// Whether it leaves less than all of a reading of the measure.
    #[must_use]
    pub fn bears_on(&self, measure: Measure) -> bool {
        self.acts_on(measure) != Standing::Full
    }

    /// The measures of which it leaves so much.
    pub fn leaves(&self, standing: Standing) -> impl Iterator<Item = Measure> {
        let all = Measure::ALL.into_iter();
        all.filter(move |measure| self.acts_on(*measure) == standing)
    }
}

/// A missing stretch hides force, and an instant or a crossing inside it is only guessed at: what counts from there can show neither.
/// The mean over a pulse may be higher or lower with it.
fn missing(kind: Kind, hides: Option<Hidden>) -> Standing {
    match kind {
        Kind::Reference | Kind::Approach => Standing::Full,
        Kind::Instant | Kind::MeanAbove => Standing::Void,
        Kind::PeriodAbove(_) if hides.is_some() => Standing::Void,
        Kind::Window(_) | Kind::MeanFromContact if hides == Some(Hidden::Contact) => Standing::Void,
        Kind::Top
        | Kind::Window(_)
        | Kind::MeanFromContact
        | Kind::Integral
        | Kind::TimeAbove(_)
        | Kind::PeriodAbove(_) => Standing::LowerBound,
    }
}

/// Averaging lowers forces and smears times either way; the sum of the force stays.
const fn averaged(kind: Kind) -> Standing {
    match kind {
        Kind::Reference | Kind::Approach | Kind::Integral => Standing::Full,
        Kind::Top | Kind::Window(_) | Kind::MeanFromContact | Kind::MeanAbove => {
            Standing::LowerBound
        }
        Kind::TimeAbove(_) | Kind::PeriodAbove(_) | Kind::Instant => Standing::Void,
    }
}
