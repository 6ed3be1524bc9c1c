//! A force–time record → its measures: one measure, one file, one function. This page holds the roll.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{
    Joule, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, NewtonSecond, Second,
};
use crate::trace::Trace;

/// How a record is measured: every level and period that changes a number. It comes from the limit profile and travels
/// with the measured values.
#[derive(Clone, Debug, PartialEq)]
pub struct Method {
    /// Name of the limit profile that prescribes it.
    pub profile: String,
    /// Force at which the leaf counts as touching the gauge.
    pub contact_level: Newton,
    /// Force above which the hit counts as dynamic.
    pub static_level: Newton,
    /// Force that may remain at the end.
    pub residual_level: Newton,
    /// Force between whose crossings the effective force is averaged.
    pub effective_level: Newton,
    /// Longest permitted dynamic period; the static force is read after it.
    pub dynamic_period: Second,
    /// Time from contact at which the residual force is read, and which a record must cover.
    pub record: Second,
    /// Low-pass that the profile prescribes, if it prescribes one.
    pub low_pass: Option<LowPass>,
}

/// A low-pass that a profile prescribes for force values (never for times).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", tag = "kind", deny_unknown_fields)]
pub enum LowPass {
    /// Channel frequency class of SAE J211/1: a two-pass Butterworth filter.
    ChannelFrequencyClass {
        /// The class, for example 60.
        class: f64,
    },
    /// Butterworth filter run forward only.
    Butterworth {
        /// Corner frequency (−3 dB) in Hz.
        corner_hz: f64,
        /// Order.
        order: usize,
    },
}

/// What the gauge says of itself that a measure needs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GaugeFacts {
    /// Rate of the gauge's spring.
    pub spring_rate: Option<NewtonPerMillimetre>,
    /// Whether the gauge zeroes itself before each hit.
    pub zeroing: Zeroing,
    /// Approach speed that the gate file declares.
    pub declared_speed: Option<MillimetrePerSecond>,
}

/// Whether a gauge zeroes itself before each hit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Zeroing {
    /// Declared to zero itself.
    BySelf,
    /// Not declared.
    #[default]
    NotDeclared,
}

/// Why a measure has no value.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Unmeasured(
    /// The reason, in plain words.
    pub String,
);

/// A measured value, or why there is none.
pub type Measured<T> = Result<T, Unmeasured>;

/// Every measure by name. The id is the name of its function and of its file.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
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

/// The zero of a record and what is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Zero {
    /// What is subtracted from every force.
    pub value: Measured<Newton>,
    /// 1.4826 × median absolute deviation of the quiet stretch.
    pub noise: Measured<Newton>,
    /// Zero after release minus zero before contact.
    pub drift: Measured<Newton>,
    /// Number of samples in the quiet stretch before contact.
    pub samples: usize,
}

/// The greatest force of a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Peak {
    /// Its zeroed force.
    pub force: Newton,
    /// Its instant after contact; unmeasured where the record starts in contact.
    pub at: Measured<Second>,
    /// Index of its sample.
    pub index: usize,
    /// Number of neighbouring samples equal to the greatest, at least 1.
    pub equal_samples: usize,
    /// Greatest excess that sampling may have missed: |F″|·Δt²/8 at the top.
    pub unseen: Newton,
    /// Every other local maximum above the static level, with its instant from the first sample.
    pub others: Vec<(Second, Newton)>,
    /// The peak after the prescribed low-pass, where there is one.
    pub filtered: Option<Newton>,
}

/// One stay of the leaf against the gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Upward crossing of the contact level, from the first sample.
    pub from: Second,
    /// Downward crossing, from the first sample; `None` if it still touches at the end.
    pub to: Option<Second>,
    /// Greatest zeroed force in between.
    pub peak: Newton,
}

/// What an instant was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Basis {
    Force,
    Position,
    Speed,
    Declared,
}

/// How the leaf answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// It stopped and moved away.
    StopsAndReverses,
    /// It stopped and the force fell without a hold.
    StopsAndLetsGo,
    /// It stopped and kept pressing to the end of the record.
    StopsAndHolds,
    /// The force rose again after the stop to a new maximum.
    PushesThrough,
    /// The contact level was never reached for long enough.
    NoContact,
}

impl Answer {
    /// The answer in running text, after "the leaf".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::StopsAndReverses => "stops and reverses",
            Self::StopsAndLetsGo => "stops and lets go",
            Self::StopsAndHolds => "stops and holds",
            Self::PushesThrough => "pushes through",
            Self::NoContact => "makes no contact",
        }
    }
}

/// Everything measured on one record.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// With which levels and periods.
    pub method: Method,
    /// Zero, noise and drift.
    pub zero: Zero,
    /// Instant of contact from the first sample.
    pub contact: Measured<Second>,
    /// Every stay against the gauge.
    pub touches: Vec<Touch>,
    /// Greatest force.
    pub peak: Measured<Peak>,
    /// Total time above the static level: reading (a) of the dynamic period.
    pub time_above_static: Measured<Second>,
    /// From contact to the last downward crossing of the static level: reading (b).
    pub dynamic_period: Measured<Second>,
    /// Every crossing of the static level, from the first sample.
    pub static_crossings: Vec<Second>,
    /// Greatest force between the end of the permitted dynamic period and the end of the prescribed record.
    pub static_force: Measured<Newton>,
    /// Greatest force after the prescribed record.
    pub residual_force: Measured<Newton>,
    /// Total time above the residual level.
    pub time_above_residual: Measured<Second>,
    /// Time-mean of the force over the dynamic period from contact.
    pub mean_dynamic_force: Measured<Newton>,
    /// Time-mean of the force between the crossings of the effective level.
    pub effective_force: Measured<Newton>,
    /// ∫F dt from contact to release.
    pub impulse: Measured<NewtonSecond>,
    /// Release after contact.
    pub release: Measured<Second>,
    /// Stop after contact, and what it was read from.
    pub stop: Measured<(Second, Basis)>,
    /// Reversal after contact, and what it was read from.
    pub reversal: Measured<(Second, Basis)>,
    /// Travel of the leaf into the gauge, and what it was read from.
    pub over_travel: Measured<(Millimetre, Basis)>,
    /// Energy the gauge's spring took.
    pub energy: Measured<Joule>,
    /// Speed of the leaf before contact, and what it was read from.
    pub approach_speed: Measured<(MillimetrePerSecond, Basis)>,
    /// How the leaf answered.
    pub answer: Answer,
}

impl Response {
    /// The value of a measure in the unit of its [`Measure::key`], or why there is none.
    ///
    /// # Errors
    /// [`Unmeasured`] with the reason.
    pub fn value(&self, measure: Measure) -> Measured<f64> {
        match measure {
            Measure::Zero => self.zero.value.clone().map(Newton::get),
            Measure::Noise => self.zero.noise.clone().map(Newton::get),
            Measure::Drift => self.zero.drift.clone().map(Newton::get),
            Measure::Contact => self.contact.clone().map(Second::get),
            Measure::PeakForce => self.peak.clone().map(|peak| peak.force.get()),
            Measure::PeakAt => self.peak.clone().and_then(|peak| peak.at).map(Second::get),
            Measure::TimeAboveStatic => self.time_above_static.clone().map(Second::get),
            Measure::DynamicPeriod => self.dynamic_period.clone().map(Second::get),
            Measure::StaticForce => self.static_force.clone().map(Newton::get),
            Measure::ResidualForce => self.residual_force.clone().map(Newton::get),
            Measure::TimeAboveResidual => self.time_above_residual.clone().map(Second::get),
            Measure::MeanDynamicForce => self.mean_dynamic_force.clone().map(Newton::get),
            Measure::EffectiveForce => self.effective_force.clone().map(Newton::get),
            Measure::Impulse => self.impulse.clone().map(NewtonSecond::get),
            Measure::Release => self.release.clone().map(Second::get),
            Measure::StopTime => self.stop.clone().map(|(at, _)| at.get()),
            Measure::ReversalTime => self.reversal.clone().map(|(at, _)| at.get()),
            Measure::OverTravel => self.over_travel.clone().map(|(travel, _)| travel.get()),
            Measure::Energy => self.energy.clone().map(Joule::get),
            Measure::ApproachSpeed => self.approach_speed.clone().map(|(speed, _)| speed.get()),
        }
    }
}

/// Measures one record.
#[must_use]
pub fn measure(trace: &Trace, method: &Method, gauge: &GaugeFacts) -> Response {
    let _ = (trace, gauge);
    unbuilt(method)
}

fn unbuilt(method: &Method) -> Response {
    let no = || Unmeasured("no measure is built yet".to_owned());
    Response {
        method: method.clone(),
        zero: Zero {
            value: Err(no()),
            noise: Err(no()),
            drift: Err(no()),
            samples: 0,
        },
        contact: Err(no()),
        touches: Vec::new(),
        peak: Err(no()),
        time_above_static: Err(no()),
        dynamic_period: Err(no()),
        static_crossings: Vec::new(),
        static_force: Err(no()),
        residual_force: Err(no()),
        time_above_residual: Err(no()),
        mean_dynamic_force: Err(no()),
        effective_force: Err(no()),
        impulse: Err(no()),
        release: Err(no()),
        stop: Err(no()),
        reversal: Err(no()),
        over_travel: Err(no()),
        energy: Err(no()),
        approach_speed: Err(no()),
        answer: Answer::NoContact,
    }
}
