//! Why a measure has no value.

use serde::{Deserialize, Serialize};

use super::Basis;
use crate::fact::Fact;
use crate::quantity::Dimension;

/// Why a measure has no value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[error("{}", self.code())]
#[expect(missing_docs, reason = "the messages of words/en/measure.ftl say it")]
pub enum Unmeasured {
    /// The squares of the forces, summed over the record, leave the range of floating-point numbers.
    BeyondCalculation {
        greatest_n: f64,
        lasts_s: f64,
    },
    /// The result is infinite or none.
    NotFinite,
    /// Times from contact.
    RecordTooShort {
        ends_s: f64,
        needs_s: f64,
    },
    /// Times from contact.
    NoSampleBetween {
        from_s: f64,
        to_s: f64,
    },
    /// The contact level is never passed for 2 samples and 1 ms.
    NoContact,
    StartsInContact,
    NotReleased,
    NoQuietEnd,
    /// Nothing before contact, and none declared.
    NoSpeed,
    NoSpringRate,
    /// No position channel either.
    NoPositionNorSpringRate,
    NoCompletePulse {
        level_n: f64,
    },
    /// By the force, or by the channel that says.
    NeverStops {
        basis: Basis,
    },
    NeverReverses,
    /// No zero: fewer than the opening of a record must have.
    TooFewSamples {
        samples: usize,
    },
    /// No zero: the opening is noise.
    NotQuiet {
        noise_n: f64,
    },
    /// No zero: the leaf arrives too early.
    QuietTooShort {
        quiet_ms: f64,
        samples: usize,
    },
    /// No zero of a gauge that zeroes itself.
    OpensPressed {
        opens_n: f64,
    },
    /// No zero: a later stretch lies lower than the opening.
    RestsLower {
        opens_n: f64,
        rests_n: f64,
    },
    LowPassTooHigh {
        corner_hz: f64,
        rate_hz: f64,
    },
    LowPassTooFewSamples {
        needs: usize,
    },
    LowPassUnevenRate,
    /// The log gave no record.
    LogNotRead,
    /// The log leaves a question open.
    LogAsks,
    /// There are readings, and none of them is valid.
    NoValidReading,
    /// A number of this unit stands where one of another is limited.
    OtherQuantity {
        unit: Dimension,
    },
    NotTested,
}

impl Fact for Unmeasured {
    const FAMILY: &'static str = "unmeasured";
}
