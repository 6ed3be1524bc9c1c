//! Measure, limit, evidence and uncertainty → finding: within the limit, over the limit, or undecided and why.
//!
//! The verdict is a function of the fields of a [`Finding`] and is stored nowhere. Only the private module `decide`
//! compares a value with a limit, on unrounded numbers. A poor record can prove that a limit was exceeded, never that it
//! was kept; what is missing never passes.

mod current;
mod decide;
mod finding;
mod odd;
mod overall;
mod printed;
mod reason;

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use thiserror::Error;

use crate::fact::Fact;
use crate::limits::Bound;

pub use crate::limitation::{Interval, Standing};
pub use current::{EventKind, NotCurrent};
pub use finding::{Finding, Lean, RepeatReading};
pub use odd::{OddOne, odd_one_out};
pub use overall::{MissingPoint, OpenItem, Overall, TwoReadings, overall};
pub use printed::{printed, printed_plain};
pub use reason::{Reason, Remark};

/// The three answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Verdict {
    Within,
    Over,
    Undecided,
}

impl Fact for Verdict {
    const FAMILY: &'static str = "verdict";
}

/// A value that is read once, without an uncertainty, against what is permitted: the least, itself included, and the greatest
/// with its bound. [`Verdict::Over`] means outside on either side; without anything permitted, or for a number that is none,
/// [`Verdict::Undecided`].
#[must_use]
pub fn held_against(value: f64, at_least: Option<f64>, most: Option<(f64, Bound)>) -> Verdict {
    decide::held(value, at_least, most)
}

/// How a value near a limit is decided; chosen before the measurement and printed with the result.
///
/// # Source
/// ILAC-G8:09/2019; JCGM 106:2012, clause 8.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DecisionRule {
    /// The value itself against the limit.
    #[default]
    Simple,
    /// Within below the limit by a guard band, over above it by the same, undecided in between.
    Guarded(Guard),
}

/// Width of a guard band by name; U is the expanded and u the standard uncertainty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Guard {
    /// The expanded uncertainty.
    #[default]
    #[serde(rename = "U")]
    Expanded,
    /// 0.83 times the expanded uncertainty.
    #[serde(rename = "0.83U")]
    Reduced,
    /// One and a half times the expanded uncertainty.
    #[serde(rename = "1.5U")]
    Widened,
    /// 1.64 times the standard uncertainty.
    #[serde(rename = "1.64u")]
    OneSided,
}

impl DecisionRule {
    /// Every rule by name.
    pub const ALL: [(&'static str, Self); 5] = [
        ("simple", Self::Simple),
        ("guarded", Self::Guarded(Guard::Expanded)),
        ("guarded-1.64u", Self::Guarded(Guard::OneSided)),
        ("guarded-0.83U", Self::Guarded(Guard::Reduced)),
        ("guarded-1.5U", Self::Guarded(Guard::Widened)),
    ];

    /// The name, as in the gate file and in the record.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Simple => "simple",
            Self::Guarded(Guard::Expanded) => "guarded",
            Self::Guarded(Guard::OneSided) => "guarded-1.64u",
            Self::Guarded(Guard::Reduced) => "guarded-0.83U",
            Self::Guarded(Guard::Widened) => "guarded-1.5U",
        }
    }
}

/// Its message selects by what the guard band is a multiple of.
impl Fact for DecisionRule {
    const FAMILY: &'static str = "decision-rule";

    fn fields(&self) -> Value {
        match self {
            Self::Simple => json!({ "code": "simple" }),
            Self::Guarded(guard) => {
                let (factor, of) = guard.band();
                json!({ "code": "guarded", "factor": factor, "of": of })
            }
        }
    }
}

impl fmt::Display for DecisionRule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl Guard {
    /// The width w for an expanded uncertainty U and a standard uncertainty u.
    #[must_use]
    pub fn width(self, expanded: f64, u: f64) -> f64 {
        match self.band() {
            (factor, Uncertainty::Expanded) => factor * expanded,
            (factor, Uncertainty::Standard) => factor * u,
        }
    }

    const fn band(self) -> (f64, Uncertainty) {
        match self {
            Self::Expanded => (1.0, Uncertainty::Expanded),
            Self::OneSided => (1.64, Uncertainty::Standard),
            Self::Reduced => (0.83, Uncertainty::Expanded),
            Self::Widened => (1.5, Uncertainty::Expanded),
        }
    }
}

/// What the width of a guard band is a multiple of.
#[derive(Clone, Copy, Serialize)]
#[serde(rename_all = "kebab-case")]
enum Uncertainty {
    Expanded,
    Standard,
}

/// A decision rule that is none.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("decision rule {found:?}, expected one of {}", DecisionRule::ALL.map(|(name, _)| name).join(", "))]
pub struct UnknownRule {
    /// The text found.
    pub found: String,
}

impl FromStr for DecisionRule {
    type Err = UnknownRule;

    fn from_str(text: &str) -> Result<Self, UnknownRule> {
        Self::ALL
            .into_iter()
            .find(|(name, _)| *name == text)
            .map(|(_, rule)| rule)
            .ok_or_else(|| UnknownRule {
                found: text.to_owned(),
            })
    }
}

impl TryFrom<String> for DecisionRule {
    type Error = UnknownRule;

    fn try_from(text: String) -> Result<Self, UnknownRule> {
        text.parse()
    }
}

impl Serialize for DecisionRule {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

impl<'de> Deserialize<'de> for DecisionRule {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}
