//! `[readiness]`: what was found on the gate before it was driven.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::sections::Setting;

/// What was found on the gate before it was driven.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ReadinessSection {
    /// File of checks of your own, from the gate file; they come after the built-in ones.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub more_checks: Option<String>,
    /// Answers under the names of the checks: true or "yes", false or "no", a value with its unit as "9.5 kgf", or
    /// "not applicable: " with the reason. A remark follows a colon: "no: lower roller loose".
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub answers: BTreeMap<String, Setting>,
}
