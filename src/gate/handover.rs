//! `[handover]`: what the owner was shown and given, and what comes next.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;

/// What the owner was shown and given, and what comes next.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HandoverSection {
    /// Day of the handover, as 2026-11-25.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub date: Option<Date>,
    /// Who received it: name and part, as owner or caretaker.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received_by: Option<String>,
    /// Who handed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handed_over_by: Option<String>,
    /// What was shown, and done by the owner in turn.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shown: Vec<Shown>,
    /// Documents that were left, in words.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub documents: Vec<String>,
    /// Maintenance, in words: what, by whom, how often.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("lines" = "many")))]
    pub maintenance: Option<String>,
    /// Day on which the next visit is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub next_due: Option<Date>,
    /// What was done at once because the gate must not stay as it is: power off, leaf secured, sign.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub done_at_once: Vec<String>,
    /// Who was told that the gate must not stay as it is.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub told: Vec<String>,
}

/// Something that an owner must be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Shown {
    /// Releasing the drive and moving the leaf by hand.
    ManualRelease,
    /// Clearing an obstruction with the power off.
    ClearingAnObstruction,
    /// Keeping the controls from children, and children and pets from the leaf.
    ControlsOutOfReach,
    /// What the light beams and edges see and what they do not see; trying them.
    BeamsAndEdges,
    /// What to do when the gate misbehaves.
    WhenItMisbehaves,
}

impl Shown {
    /// Everything that must be shown.
    pub const ALL: [Self; 5] = [
        Self::ManualRelease,
        Self::ClearingAnObstruction,
        Self::ControlsOutOfReach,
        Self::BeamsAndEdges,
        Self::WhenItMisbehaves,
    ];
}

impl Fact for Shown {
    const FAMILY: &'static str = "shown";
}
