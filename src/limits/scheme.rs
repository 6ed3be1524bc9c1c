//! The rules that say which test points a profile wants, as data.

use std::fmt;

use serde::Deserialize;

use super::plan::VisitKind;
use super::{Direction, Hazard, KnownFrom, Motion};

/// A named set of rules for test points.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scheme {
    /// Its name, as the gate file uses it.
    pub name: String,
    /// Kinds of visit at which it may be used.
    pub visits: Vec<VisitKind>,
    /// Where it comes from.
    pub source: String,
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
    pub known_from: KnownFrom,
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
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
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
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
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

impl fmt::Display for GapRule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AtMm(at) => write!(f, "{at} mm"),
            Self::LowerOf {
                at_mm,
                below_open_mm,
            } => {
                write!(
                    f,
                    "{at_mm} mm, or {below_open_mm} mm below fully open if lower"
                )
            }
            Self::SpaceToObstacle { at_least_mm } => {
                write!(f, "the space to the obstacle, at least {at_least_mm} mm")
            }
        }
    }
}

impl fmt::Display for PlaceRule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AboveGroundMm(up) => write!(f, "{up} mm above the ground"),
            Self::HalfHeight => f.write_str("half height"),
            Self::BelowTopMm(down) => write!(f, "{down} mm below the top"),
            Self::MidWidth => f.write_str("mid width"),
            Self::FromLeftJambMm(from) => write!(f, "{from} mm from the left jamb"),
            Self::FromRightJambMm(from) => write!(f, "{from} mm from the right jamb"),
            Self::ObstacleOrMm(up) => {
                write!(
                    f,
                    "the most protruding point of the obstacle, else {up} mm above the ground"
                )
            }
        }
    }
}
