//! The roll of measures: everything that the rest of the program has to know of each.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::{Basis, Measured, Method, Response};
use crate::fact::Fact;
use crate::quantity::{Dimension, Newton, Quantity};

/// A level of the method at which a time is read, or below which a force has to stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Level {
    Static,
    Residual,
}

impl Level {
    /// The force that the method gives this level.
    #[must_use]
    pub const fn of(self, method: &Method) -> Newton {
        match self {
            Self::Static => method.static_level,
            Self::Residual => method.residual_level,
        }
    }
}

/// From what of a record a measure is read: what a limitation does to it follows from this.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// What the others are counted from; no limitation acts on it.
    Reference,
    /// The speed before contact.
    Approach,
    /// The highest sample: higher if the top was higher.
    Top,
    /// The greatest force in the window after contact in which the force of this level is read.
    Window(Level),
    /// The mean force over a period from contact.
    MeanFromContact,
    /// The mean force between the crossings of a level.
    MeanAbove,
    /// The force summed over time.
    Integral,
    /// The whole time above a level.
    TimeAbove(Level),
    /// The time from contact to the last crossing of a level.
    PeriodAbove(Level),
    /// An instant after contact.
    Instant,
}

impl Kind {
    /// Whether it only grows if more force, or a longer record, had been seen.
    #[must_use]
    pub const fn grows(self) -> bool {
        !matches!(self, Self::Reference | Self::Approach | Self::Instant)
    }

    /// Whether a higher top would raise it.
    #[must_use]
    pub const fn grows_with_the_top(self) -> bool {
        matches!(
            self,
            Self::Top | Self::MeanFromContact | Self::MeanAbove | Self::Integral
        )
    }

    /// Whether it is a duration above a level.
    #[must_use]
    pub const fn is_time_above(self) -> bool {
        matches!(self, Self::TimeAbove(_) | Self::PeriodAbove(_))
    }
}

/// A row of the roll.
struct Row {
    id: &'static str,
    key: &'static str,
    dimension: Dimension,
    kind: Kind,
    limits: bool,
    read: fn(&Response) -> Measured<Quantity>,
}

macro_rules! roll {
    ($($measure:ident $id:literal $key:literal $dimension:ident $kind:expr, $limits:literal $read:expr;)+) => {
        /// Every measure by name. The id is the name of its function and of its file.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[expect(missing_docs, reason = "measures.md's and the standards' own names; each function documents itself")]
        pub enum Measure {
            $(#[serde(rename = $id)] $measure,)+
        }

        impl Measure {
            /// Every measure, in the order of the record.
            pub const ALL: [Self; ROLL.len()] = [$(Self::$measure),+];
        }

        const ROLL: &[Row] = &[
            $(Row {
                id: $id,
                key: $key,
                dimension: Dimension::$dimension,
                kind: $kind,
                limits: $limits,
                read: $read,
            }),+
        ];
    };
}

use Level::{Residual, Static};

// Measure, id, key in JSON and CSV, dimension; of which kind it is; whether a profile may limit it and a comparison claim a change of it;
// where the response of a record has it.
roll! {
    Zero              "zero"                "zero_n"                Force   Kind::Reference,             false |it| of(&it.zero.value);
    Noise             "noise"               "noise_n"               Force   Kind::Reference,             false |it| of(&it.zero.noise);
    Drift             "drift"               "drift_n"               Force   Kind::Reference,             false |it| of(&it.zero.drift);
    Contact           "contact"             "contact_s"             Time    Kind::Reference,             false |it| of(&it.contact);
    PeakForce         "peak-force"          "peak_force_n"          Force   Kind::Top,                   true  |it| it.peak.as_ref().map_err(|why| *why).and_then(|peak| of(&peak.assessed()));
    PeakAt            "peak-at"             "peak_at_s"             Time    Kind::Instant,               false |it| it.peak.as_ref().map_err(|why| *why).and_then(|peak| of(&peak.at));
    TimeAboveStatic   "time-above-static"   "time_above_static_s"   Time    Kind::TimeAbove(Static),     true  |it| of(&it.time_above_static);
    DynamicPeriod     "dynamic-period"      "dynamic_period_s"      Time    Kind::PeriodAbove(Static),   true  |it| of(&it.dynamic_period);
    StaticForce       "static-force"        "static_force_n"        Force   Kind::Window(Static),        true  |it| of(&it.static_force);
    ResidualForce     "residual-force"      "residual_force_n"      Force   Kind::Window(Residual),      true  |it| of(&it.residual_force);
    TimeAboveResidual "time-above-residual" "time_above_residual_s" Time    Kind::TimeAbove(Residual),   true  |it| of(&it.time_above_residual);
    MeanDynamicForce  "mean-dynamic-force"  "mean_dynamic_force_n"  Force   Kind::MeanFromContact,       true  |it| of(&it.mean_dynamic_force);
    EffectiveForce    "effective-force"     "effective_force_n"     Force   Kind::MeanAbove,             true  |it| of(&it.effective_force);
    Impulse           "impulse"             "impulse_ns"            Impulse Kind::Integral,              true  |it| of(&it.impulse);
    Release           "release"             "release_s"             Time    Kind::Instant,               false |it| of(&it.release);
    StopTime          "stop-time"           "stop_time_s"           Time    Kind::Instant,               true  |it| of(&it.stop);
    ReversalTime      "reversal-time"       "reversal_time_s"       Time    Kind::Instant,               true  |it| of(&it.reversal);
    OverTravel        "over-travel"         "over_travel_mm"        Length  Kind::Top,                   true  |it| of(&it.over_travel);
    Energy            "energy"              "energy_j"              Energy  Kind::Top,                   true  |it| of(&it.energy);
    ApproachSpeed     "approach-speed"      "approach_speed_mm_s"   Speed   Kind::Approach,              false |it| of(&it.approach_speed);
}

fn of<T: Copy + Into<Quantity>>(measured: &Measured<T>) -> Measured<Quantity> {
    (*measured).map(Into::into)
}

impl<T: Into<Quantity>> From<(T, Basis)> for Quantity {
    fn from((value, _): (T, Basis)) -> Self {
        value.into()
    }
}

impl Measure {
    const fn row(self) -> &'static Row {
        &ROLL[self as usize]
    }

    /// What it is called in profiles, on the command line and in the outputs.
    #[must_use]
    pub const fn id(self) -> &'static str {
        self.row().id
    }

    /// The key in JSON and CSV, which ends in the unit.
    #[must_use]
    pub const fn key(self) -> &'static str {
        self.row().key
    }

    /// What it is a number of.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        self.row().dimension
    }

    /// The symbol of the unit.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        self.dimension().symbol()
    }

    /// From what of a record it is read.
    #[must_use]
    pub const fn kind(self) -> Kind {
        self.row().kind
    }

    /// Whether a profile may limit it, and a comparison may claim that it changed.
    #[must_use]
    pub const fn may_be_limited(self) -> bool {
        self.row().limits
    }
}

impl Response {
    /// The value of a measure, or why there is none.
    ///
    /// # Errors
    /// [`Unmeasured`](super::Unmeasured) with the reason.
    pub fn value(&self, measure: Measure) -> Measured<Quantity> {
        (measure.row().read)(self)
    }
}

impl Fact for Measure {
    const FAMILY: &'static str = "measure";
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

/// A measure that is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no measure of this name")]
pub struct UnknownMeasure;

impl FromStr for Measure {
    type Err = UnknownMeasure;

    fn from_str(id: &str) -> Result<Self, UnknownMeasure> {
        let mut all = Self::ALL.into_iter();
        all.find(|one| one.id() == id).ok_or(UnknownMeasure)
    }
}

#[cfg(test)]
mod tests {
    use super::{Fact, Measure};

    #[test]
    fn the_key_of_a_measure_is_its_id_and_its_unit() {
        for measure in Measure::ALL {
            let id = measure.id().replace('-', "_");
            assert_eq!(
                measure.key(),
                format!("{id}_{}", measure.dimension().suffix())
            );
            assert_eq!(measure.code(), measure.id());
        }
    }
}
