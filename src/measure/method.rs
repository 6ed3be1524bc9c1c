//! What a profile and a gauge say about how a record is measured.

use serde::{Deserialize, Serialize};

use crate::quantity::{MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};

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
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", tag = "kind")]
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
