//! The measures by name: id, key in the outputs, unit, words.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Every measure by name. The id is the name of its function and of its file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "measures.md's and the standards' own names; each function documents itself"
)]
pub enum Measure {
    Zero,
    Noise,
    Drift,
    Contact,
    PeakForce,
    PeakAt,
    TimeAboveStatic,
    DynamicPeriod,
    StaticForce,
    ResidualForce,
    TimeAboveResidual,
    MeanDynamicForce,
    EffectiveForce,
    Impulse,
    Release,
    StopTime,
    ReversalTime,
    OverTravel,
    Energy,
    ApproachSpeed,
}

impl Measure {
    /// Every measure, in the order of the record.
    pub const ALL: [Self; 20] = [
        Self::Zero,
        Self::Noise,
        Self::Drift,
        Self::Contact,
        Self::PeakForce,
        Self::PeakAt,
        Self::TimeAboveStatic,
        Self::DynamicPeriod,
        Self::StaticForce,
        Self::ResidualForce,
        Self::TimeAboveResidual,
        Self::MeanDynamicForce,
        Self::EffectiveForce,
        Self::Impulse,
        Self::Release,
        Self::StopTime,
        Self::ReversalTime,
        Self::OverTravel,
        Self::Energy,
        Self::ApproachSpeed,
    ];

    /// The key in JSON and CSV, which ends in the unit.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Zero => "zero_n",
            Self::Noise => "noise_n",
            Self::Drift => "drift_n",
            Self::Contact => "contact_s",
            Self::PeakForce => "peak_force_n",
            Self::PeakAt => "peak_at_s",
            Self::TimeAboveStatic => "time_above_static_s",
            Self::DynamicPeriod => "dynamic_period_s",
            Self::StaticForce => "static_force_n",
            Self::ResidualForce => "residual_force_n",
            Self::TimeAboveResidual => "time_above_residual_s",
            Self::MeanDynamicForce => "mean_dynamic_force_n",
            Self::EffectiveForce => "effective_force_n",
            Self::Impulse => "impulse_ns",
            Self::Release => "release_s",
            Self::StopTime => "stop_time_s",
            Self::ReversalTime => "reversal_time_s",
            Self::OverTravel => "over_travel_mm",
            Self::Energy => "energy_j",
            Self::ApproachSpeed => "approach_speed_mm_s",
        }
    }

    /// The symbol of the unit.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Zero
            | Self::Noise
            | Self::Drift
            | Self::PeakForce
            | Self::StaticForce
            | Self::ResidualForce
            | Self::MeanDynamicForce
            | Self::EffectiveForce => "N",
            Self::Contact
            | Self::PeakAt
            | Self::TimeAboveStatic
            | Self::DynamicPeriod
            | Self::TimeAboveResidual
            | Self::Release
            | Self::StopTime
            | Self::ReversalTime => "s",
            Self::Impulse => "N·s",
            Self::OverTravel => "mm",
            Self::Energy => "J",
            Self::ApproachSpeed => "mm/s",
        }
    }

    /// The name in running text, lower case.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Zero => "zero",
            Self::Noise => "noise",
            Self::Drift => "zero drift",
            Self::Contact => "contact",
            Self::PeakForce => "peak force",
            Self::PeakAt => "time to peak",
            Self::TimeAboveStatic => "time above the static level",
            Self::DynamicPeriod => "dynamic period",
            Self::StaticForce => "static force",
            Self::ResidualForce => "residual force",
            Self::TimeAboveResidual => "time above the residual level",
            Self::MeanDynamicForce => "mean dynamic force",
            Self::EffectiveForce => "effective force",
            Self::Impulse => "impulse",
            Self::Release => "release",
            Self::StopTime => "stop time",
            Self::ReversalTime => "reversal time",
            Self::OverTravel => "over-travel",
            Self::Energy => "energy taken by the gauge",
            Self::ApproachSpeed => "approach speed",
        }
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}
