//! The rules that say which test points a profile wants, as data.

use serde::{Deserialize, Serialize};

use super::plan::VisitKind;
use super::{Direction, Hazard, Motion, SourceKind};
use crate::fact::Fact;

/// A named set of rules for test points.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scheme {
    /// Its name, as the gate file uses it.
    pub name: String,
    /// Kinds of visit at which it may be used.
    pub visits: Vec<VisitKind>,
    /// Where it comes from.
    pub reference: String,
    /// Its rules.
    #[serde(rename = "rule")]
    pub rules: Vec<PointRule>,
}

/// A grid of test points: every gap at every place.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointRule {
    /// Leaves it is for.
    pub motions: Vec<Motion>,
    /// Way of the leaf.
    pub direction: Direction,
    /// Part of the leaf.
    pub hazard: Hazard,
    /// When it is wanted.
    pub when: When,
    /// Openings at contact.
    pub gaps: Vec<GapRule>,
    /// Places along the edge.
    pub places: Vec<PlaceRule>,
    /// Places above this height are brought down to it.
    pub highest_mm: Option<f64>,
    /// Hits at each point.
    pub repeats: usize,
    /// How the rule is known.
    pub source: SourceKind,
    /// What a reader should know.
    pub note: Option<String>,
}

/// When a rule wants its points.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum When {
    /// On every leaf of its motion.
    Always,
    /// Where something stands in the way of the opening leaf.
    ObstacleInOpening,
    /// Where something stands within so many millimetres of the fully open leaf.
    ObstacleWithinMm(f64),
}

/// An opening at contact.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields, into = "Told")]
pub enum GapRule {
    /// This many millimetres.
    AtMm(f64),
    /// The lower of a gap and so many millimetres below fully open.
    LowerOf {
        /// The gap.
        at_mm: f64,
        /// Below fully open.
        below_open_mm: f64,
    },
    /// The space left between the fully open leaf and the obstacle, but at least this many millimetres.
    SpaceToObstacle {
        /// The least gap.
        at_least_mm: f64,
    },
}

/// A place along the edge.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields, into = "Told")]
pub enum PlaceRule {
    /// So many millimetres above the ground.
    AboveGroundMm(f64),
    /// Half way up.
    HalfHeight,
    /// So many millimetres below the top of the leaf.
    BelowTopMm(f64),
    /// Half way across.
    MidWidth,
    /// So many millimetres from the left jamb.
    FromLeftJambMm(f64),
    /// So many millimetres from the right jamb.
    FromRightJambMm(f64),
    /// The most protruding point of the obstacle, or this height where it has none.
    ObstacleOrMm(f64),
}

/// A rule as a fact: its code and its lengths.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Told {
    code: &'static str,
    mm: f64,
    other_mm: f64,
}

impl From<GapRule> for Told {
    fn from(rule: GapRule) -> Self {
        let (code, mm, other_mm) = match rule {
            GapRule::AtMm(at) => ("at", at, 0.0),
            GapRule::LowerOf {
                at_mm,
                below_open_mm,
            } => ("lower-of", at_mm, below_open_mm),
            GapRule::SpaceToObstacle { at_least_mm } => ("space-to-obstacle", at_least_mm, 0.0),
        };
        Self { code, mm, other_mm }
    }
}

impl From<PlaceRule> for Told {
    fn from(rule: PlaceRule) -> Self {
        let (code, mm) = match rule {
            PlaceRule::AboveGroundMm(up) => ("above-ground", up),
            PlaceRule::HalfHeight => ("half-height", 0.0),
            PlaceRule::BelowTopMm(down) => ("below-top", down),
            PlaceRule::MidWidth => ("mid-width", 0.0),
            PlaceRule::FromLeftJambMm(from) => ("from-left-jamb", from),
            PlaceRule::FromRightJambMm(from) => ("from-right-jamb", from),
            PlaceRule::ObstacleOrMm(up) => ("obstacle-or", up),
        };
        let other_mm = 0.0;
        Self { code, mm, other_mm }
    }
}

impl Fact for GapRule {
    const FAMILY: &'static str = "gap-rule";
}

impl Fact for PlaceRule {
    const FAMILY: &'static str = "at-place";
}
