//! How far a limitation lets the true reading lie from the value: a function of the limitation and of the kind of the measure.

use serde::{Deserialize, Serialize};

use super::{Hidden, Limitation};
use crate::fact::Fact;
use crate::measure::{Kind, Level, Measure, Measured, ZeroFrom};
use crate::quantity::{Newton, Quantity};

/// What the record and the gauge allow the true reading to be, before any measurement uncertainty; in the unit of the measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The least.
    pub at_least: f64,
    /// The greatest; infinite where nothing bounds it.
    pub at_most: f64,
}

impl Interval {
    /// Of a reading of which nothing is known: no force and no time of a hit is below 0.
    pub const ANY: Self = Self {
        at_least: 0.0,
        at_most: f64::INFINITY,
    };

    /// Of a reading that shows its value.
    #[must_use]
    pub const fn exactly(value: f64) -> Self {
        Self {
            at_least: value,
            at_most: value,
        }
    }

    /// What it lets a reading of this value prove.
    #[must_use]
    pub fn standing(self, value: f64) -> Standing {
        match self.at_least < value {
            true => Standing::EitherWay,
            false if self.at_most > value => Standing::LowerBound,
            false => Standing::Full,
        }
    }

    /// Widened so that it holds a number.
    fn holding(self, number: f64) -> Self {
        Self {
            at_least: self.at_least.min(number),
            at_most: self.at_most.max(number),
        }
    }

    fn open_above(self) -> Self {
        self.holding(f64::INFINITY)
    }
}

/// How a reading stands for its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// It shows it.
    Full,
    /// The true value may be greater.
    LowerBound,
    /// The true value may be greater or smaller.
    EitherWay,
}

impl Fact for Standing {
    const FAMILY: &'static str = "standing";
}

/// By how much the forces of a record may be wrong, either way: a share of the force and so many newtons.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ForceError {
    /// The share, in percent.
    pub percent: f64,
    /// The newtons.
    pub newtons_n: f64,
}

impl ForceError {
    /// Of nothing but newtons.
    #[must_use]
    pub const fn of_newtons(newtons_n: f64) -> Self {
        Self {
            percent: 0.0,
            newtons_n,
        }
    }

    /// Of nothing but a share of the force.
    #[must_use]
    pub const fn of_share(share: f64) -> Self {
        Self {
            percent: 100.0 * share,
            newtons_n: 0.0,
        }
    }

    /// Both errors together, at worst.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            percent: self.percent + other.percent,
            newtons_n: self.newtons_n + other.newtons_n,
        }
    }

    /// At a force.
    #[must_use]
    pub fn at(self, force: Newton) -> Newton {
        Newton(self.percent / 100.0 * force.get() + self.newtons_n)
    }

    /// So many times the error.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            percent: factor * self.percent,
            newtons_n: factor * self.newtons_n,
        }
    }

    /// Whether there is any.
    #[must_use]
    pub fn is_none(self) -> bool {
        self.percent == 0.0 && self.newtons_n == 0.0
    }
}

/// What a limitation leaves open of a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opens {
    /// Nothing.
    Nothing,
    /// It may be greater, by any amount.
    Above,
    /// It may be anything.
    EitherWay,
    /// It may be greater by any amount, and smaller down to this share of it.
    FromShare(f64),
    /// It may be anything between the value and this number.
    To(f64),
    /// What it would be if the forces were wrong by so much, either way.
    ByForce(ForceError),
    /// The same at its low end; it may be greater by any amount.
    AboveByForce(ForceError),
}

impl Opens {
    /// What is left of a reading.
    #[must_use]
    pub const fn leaves(self) -> Standing {
        match self {
            Self::Nothing => Standing::Full,
            Self::Above => Standing::LowerBound,
            Self::EitherWay
            | Self::FromShare(_)
            | Self::To(_)
            | Self::ByForce(_)
            | Self::AboveByForce(_) => Standing::EitherWay,
        }
    }
}

/// The interval of a reading under its limitations. `again`: the same measure read from the record with all forces at the least,
/// and at the most, that the errors of the limitations allow; `None` where nobody read it again.
#[must_use]
pub fn interval(
    measure: Measure,
    value: f64,
    limitations: &[Limitation],
    again: Option<[Measured<Quantity>; 2]>,
) -> Interval {
    let widen = |so_far: Interval, one: &Limitation| match one.opens(measure) {
        Opens::Nothing => so_far,
        Opens::Above => so_far.open_above(),
        Opens::EitherWay => so_far.open_above().holding(0.0),
        Opens::FromShare(share) => so_far.open_above().holding(value * share),
        Opens::To(number) => so_far.holding(number),
        Opens::ByForce(error) if error.is_none() => so_far,
        Opens::AboveByForce(error) if error.is_none() => so_far.open_above(),
        Opens::AboveByForce(_) => match again {
            Some([Ok(least), _]) => so_far.open_above().holding(least.get()),
            _ => so_far.open_above().holding(0.0),
        },
        Opens::ByForce(_) => match again {
            Some([Ok(least), Ok(most)]) => so_far.holding(least.get()).holding(most.get()),
            _ => so_far.open_above().holding(0.0),
        },
    };
    let exact = Interval::exactly(value);
    limitations.iter().fold(exact, widen)
}

impl Limitation {
    /// What the limitation leaves open of a reading of the measure.
    #[must_use]
    pub fn opens(&self, measure: Measure) -> Opens {
        let kind = measure.kind();
        let above = |is: bool| if is { Opens::Above } else { Opens::Nothing };
        let is_residual = matches!(
            kind,
            Kind::Window(Level::Residual) | Kind::TimeAbove(Level::Residual)
        );
        match self {
            _ if kind == Kind::Reference => Opens::Nothing,
            Self::FlatTop { reaches, .. } => above(match kind {
                Kind::Window(level) => reaches.contains(&level),
                other => other.grows_with_the_top(),
            }),
            Self::AtCapacity { .. } => above(kind.grows_with_the_top()),
            Self::SlowSampling { .. } => above(kind == Kind::Top),
            Self::LostSamples { hides, .. } | Self::ClockGap { hides, .. } => missing(kind, *hides),
            Self::Averaging { .. } | Self::FewerSamples { .. } => averaged(kind),
            Self::LoneSample { without, .. } | Self::LaterContact { without, .. } => {
                let here = without.iter().find(|other| other.measure == measure);
                here.map_or(Opens::Nothing, |other| {
                    other.value.map_or(Opens::EitherWay, Opens::To)
                })
            }
            Self::EndsEarly { still_above, .. } => above(match kind {
                _ if still_above.is_empty() => kind.grows() || kind == Kind::Instant,
                Kind::TimeAbove(level) | Kind::PeriodAbove(level) => still_above.contains(&level),
                _ => false,
            }),
            Self::StartsInContact { .. } => above(kind.grows() || kind == Kind::Instant),
            Self::NoZero {
                zero_from, shift_n, ..
            } => {
                let error = ForceError::of_newtons(*shift_n);
                match zero_from {
                    ZeroFrom::LowestStretch if kind.grows() => Opens::AboveByForce(error),
                    ZeroFrom::Declared | ZeroFrom::QuietStretch if is_residual => Opens::EitherWay,
                    _ => Opens::ByForce(error),
                }
            }
            Self::Drift { drift_n, .. } => Opens::ByForce(ForceError::of_newtons(drift_n.abs())),
            Self::CapacityBelowLimit { measure: of, .. } => above(measure == *of),
            Self::SpringRate {
                rate_n_mm: Some(rate),
                required_n_mm,
                ..
            } if kind == Kind::Top => Opens::FromShare((required_n_mm / rate).min(1.0)),
            Self::Calibration { may_err, .. } | Self::GaugeAccuracy { may_err, .. } => {
                Opens::ByForce(*may_err)
            }
            Self::Copy { .. } => Opens::Above,
            Self::SpringRate { .. }
            | Self::NoReading { .. }
            | Self::OtherDay { .. }
            | Self::OtherGauge { .. } => Opens::EitherWay,
        }
    }

    /// Whether it leaves less than all of a reading of the measure.
    #[must_use]
    pub fn bears_on(&self, measure: Measure) -> bool {
        self.opens(measure) != Opens::Nothing
    }

    /// The measures of which it leaves so much.
    pub fn leaves(&self, standing: Standing) -> impl Iterator<Item = Measure> {
        let all = Measure::ALL.into_iter();
        all.filter(move |measure| self.opens(*measure).leaves() == standing)
    }
}

/// By how much the forces of a record with these limitations may be wrong.
#[must_use]
pub fn force_error(limitations: &[Limitation]) -> ForceError {
    let errors = limitations
        .iter()
        .filter_map(|one| match one.opens(Measure::PeakForce) {
            Opens::ByForce(error) | Opens::AboveByForce(error) => Some(error),
            _ => None,
        });
    errors.fold(ForceError::default(), ForceError::and)
}

/// A missing stretch hides force, and an instant or a crossing inside it is only guessed at: what counts from there can show neither.
/// The mean over a pulse may be higher or lower with it.
fn missing(kind: Kind, hides: Option<Hidden>) -> Opens {
    match kind {
        Kind::Reference | Kind::Approach => Opens::Nothing,
        Kind::Instant | Kind::MeanAbove => Opens::EitherWay,
        Kind::PeriodAbove(_) if hides.is_some() => Opens::EitherWay,
        Kind::Window(_) | Kind::MeanFromContact if hides == Some(Hidden::Contact) => {
            Opens::EitherWay
        }
        Kind::Top
        | Kind::Window(_)
        | Kind::MeanFromContact
        | Kind::Integral
        | Kind::TimeAbove(_)
        | Kind::PeriodAbove(_) => Opens::Above,
    }
}

/// Averaging lowers forces and smears times either way; the sum of the force stays.
const fn averaged(kind: Kind) -> Opens {
    match kind {
        Kind::Reference | Kind::Approach | Kind::Integral => Opens::Nothing,
        Kind::Top | Kind::Window(_) | Kind::MeanFromContact | Kind::MeanAbove => Opens::Above,
        Kind::TimeAbove(_) | Kind::PeriodAbove(_) | Kind::Instant => Opens::EitherWay,
    }
}
