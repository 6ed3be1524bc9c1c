//! Limit profiles as data: what may be measured, where, how often, against which published value, and how that value is known.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::response::{LowPass, Measure, Method};

/// How a published value is known to this project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum KnownFrom {
    /// Confirmed by an owner of the document, in an overlay.
    Confirmed,
    /// Read in a stored text of the document or of public law.
    Read,
    /// From a page, guide or paper that describes the document.
    SecondHand,
    /// Recalled, unverified.
    Memory,
}

impl fmt::Display for KnownFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Confirmed => "confirmed",
            Self::Read => "read",
            Self::SecondHand => "second-hand",
            Self::Memory => "memory",
        })
    }
}

/// How a leaf moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Motion {
    Sliding,
    Swing,
    Folding,
    Vertical,
    Boom,
}

/// Which way the leaf was moving when it hit the gauge.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Direction {
    Closing,
    Opening,
}

/// Which part of the leaf hits.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Hazard {
    /// Main closing edge against the counter edge.
    ClosingEdge,
    /// An edge other than the main closing edge.
    OtherEdge,
    /// A flat face of more than 0.1 m² with no side below 100 mm.
    FlatFace,
    /// A gap that narrows: hinge, ground, kerb.
    ReducingGap,
}

/// Where the gauge was held.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
pub struct TestPoint {
    /// Which way the leaf moves.
    pub direction: Direction,
    /// Which part of it hits.
    pub hazard: Hazard,
    /// Opening left between the edges at contact, in mm.
    pub gap_mm: f64,
    /// Height above the ground in mm; for a leaf that moves vertically, the place across the opening from its left side.
    pub height_mm: f64,
}

impl fmt::Display for TestPoint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let direction = match self.direction {
            Direction::Closing => "closing",
            Direction::Opening => "opening",
        };
        let part = match self.hazard {
            Hazard::ClosingEdge => "",
            Hazard::OtherEdge => ", other edge",
            Hazard::FlatFace => ", flat face",
            Hazard::ReducingGap => ", reducing gap",
        };
        write!(
            f,
            "{direction}{part}, gap {} mm, height {} mm",
            self.gap_mm, self.height_mm
        )
    }
}

/// A limit profile: one edition of one rule, in numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// `<designation>-<edition>`, as on the command line.
    pub name: String,
    /// The document in words.
    pub title: String,
    /// How a record is measured under it.
    pub method: Method,
    /// Low-pass, if prescribed.
    pub low_pass: Option<LowPass>,
    /// The limits.
    pub limits: Vec<Limit>,
}

/// One published limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// `<profile>/<readable-name>`
    pub name: String,
    /// What is held against it.
    pub measure: Measure,
    /// Its value, in the unit of the measure.
    pub value: f64,
    /// Whether the value itself is still within.
    pub bound: Bound,
    /// How it is known.
    pub known_from: KnownFrom,
    /// Clause, as far as known.
    pub clause: Option<String>,
}

/// Whether a limit includes its own value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Bound {
    /// Within if the value is at most the limit.
    AtMost,
    /// Within if the value is below the limit.
    Below,
}
