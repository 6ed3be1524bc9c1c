//! Limit profiles as data: what may be measured, where, how often, against which published value, and how that value is known.

mod hazards;
mod overlay;
mod plan;
mod profile;
mod schema;
mod scheme;
mod shelf;

use serde::{Deserialize, Serialize};

use crate::fact::Fact;

pub use hazards::{MinimumGap, UnreadHazard, minimum_gaps, unread_hazards};
pub use plan::{
    GapReason, Leaf, LeftOut, Obstacle, Plan, PlanError, VisitKind, WantedBecause, WantedPoint,
    wanted_points,
};
pub use profile::{
    Assessed, Band, Bound, Confirmation, Disagreement, GaugeRules, Limit, LimitChange, NoLimit,
    NotAssessed, Profile, ProfileValue, SmallestGap,
};
pub use scheme::{GapRule, PlaceRule, PointRule, Scheme, When};
pub use shelf::{ProfileError, names, parse, parse_over, profile, source};

/// How a published value is known to this project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SourceKind {
    /// Confirmed by an owner of the document, in an overlay.
    Confirmed,
    /// Read in a stored text of the document or of public law.
    Read,
    /// From a page, guide or paper that describes the document.
    SecondHand,
    /// Recalled, unverified.
    Memory,
    /// No published value: chosen by this project, and said so wherever it is shown.
    Chosen,
}

impl Fact for SourceKind {
    const FAMILY: &'static str = "source";
}

/// How a leaf moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Motion {
    Sliding,
    Swing,
    Folding,
    Vertical,
    Boom,
}

impl Motion {
    /// Every motion.
    pub const ALL: [Self; 5] = [
        Self::Sliding,
        Self::Swing,
        Self::Folding,
        Self::Vertical,
        Self::Boom,
    ];
}

impl Fact for Motion {
    const FAMILY: &'static str = "motion";
}

/// Which way the leaf was moving when it hit the gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Direction {
    Closing,
    Opening,
}

impl Direction {
    /// Both directions.
    pub const ALL: [Self; 2] = [Self::Closing, Self::Opening];
}

impl Fact for Direction {
    const FAMILY: &'static str = "direction";
}

/// Which part of the leaf hits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

impl Hazard {
    /// Every hazard.
    pub const ALL: [Self; 4] = [
        Self::ClosingEdge,
        Self::OtherEdge,
        Self::FlatFace,
        Self::ReducingGap,
    ];
}

impl Fact for Hazard {
    const FAMILY: &'static str = "hazard";
}

/// Where the gauge was held.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

impl Fact for TestPoint {
    const FAMILY: &'static str = "test-point";
}

impl TestPoint {
    /// Its codes and numbers in one word, as names of logs have them: `closing-closing-edge-50-900`.
    #[must_use]
    pub fn key(&self) -> String {
        let (direction, hazard) = (self.direction.code(), self.hazard.code());
        format!("{direction}-{hazard}-{}-{}", self.gap_mm, self.height_mm)
    }
}
