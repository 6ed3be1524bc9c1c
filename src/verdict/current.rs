//! Whether what was found still holds for the gate as it is.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::limitation::{Limitation, Uncovered};

/// What was changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum EventKind {
    /// The drive.
    Drive,
    /// Its motor.
    Motor,
    /// Its gear.
    Gear,
    /// The edge or bumper.
    Edge,
    /// The leaf, its rollers, hinges or stops.
    Leaf,
    /// A setting of the drive.
    Setting,
    /// The firmware of the drive.
    Firmware,
    /// The drive learnt its travel or its forces anew.
    Relearn,
    /// A repair of any other part.
    Repair,
    /// The gauge was repaired, adjusted or dropped: its calibration ends that day.
    Gauge,
    /// Something worth keeping that changes no finding.
    Remark,
}

impl EventKind {
    /// Whether the gate that was tested is no longer the gate after it.
    #[must_use]
    pub const fn changes_the_gate(self) -> bool {
        !matches!(self, Self::Gauge | Self::Remark)
    }
}

impl Fact for EventKind {
    const FAMILY: &'static str = "event";
}

/// Why a finding no longer holds for the gate as it is, or does not yet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the messages of words/en/verdict.ftl say it")]
pub enum NotCurrent {
    /// As [`Limitation::Calibration`].
    Calibration {
        #[cfg_attr(feature = "schema", schemars(with = "String"))]
        tested_on: Date,
        uncovered: Uncovered,
    },
    /// The gate was changed after the test; `words`: as the gate file describes it.
    ChangedAfter {
        event: EventKind,
        #[cfg_attr(feature = "schema", schemars(with = "String"))]
        changed_on: Date,
        words: Option<String>,
        #[cfg_attr(feature = "schema", schemars(with = "String"))]
        tested_on: Date,
    },
    /// The gate was changed on the day of the test, and whether before or after it is not stated.
    OrderNotStated {
        event: EventKind,
        #[cfg_attr(feature = "schema", schemars(with = "String"))]
        changed_on: Date,
        words: Option<String>,
    },
}

impl Fact for NotCurrent {
    const FAMILY: &'static str = "not-current";
}

impl NotCurrent {
    /// Whether it says the same of the whole finding as the limitation says of a reading.
    pub(super) fn says(&self, limitation: &Limitation) -> bool {
        matches!(
            (self, limitation),
            (Self::Calibration { .. }, Limitation::Calibration { .. })
        )
    }
}
