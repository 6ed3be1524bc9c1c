//! Which test points a profile wants on a leaf at a visit.

use serde::{Deserialize, Serialize};

use super::scheme::{GapRule, PlaceRule, PointRule, Scheme, When};
use super::{Direction, Hazard, Motion, Profile, SourceKind, TestPoint};
use crate::fact::Fact;

/// The kinds of visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum VisitKind {
    /// Before first use.
    First,
    /// Yearly, half-yearly: nothing was changed since the last visit.
    Recurring,
    /// After a repair, a new setting or new firmware.
    AfterChange,
}

impl Fact for VisitKind {
    const FAMILY: &'static str = "visit-kind";
}

/// What must be known of a leaf to say where it is tested.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    /// How it moves.
    pub motion: Motion,
    /// Height of its top edge above the ground when closed; for a vertical leaf, height of the clear opening. In mm.
    pub height_mm: f64,
    /// Width of the leaf; for a vertical leaf, of the clear opening. In mm.
    pub width_mm: f64,
    /// Greatest opening between its closing edge and what it closes against, in mm; larger gaps are not wanted.
    pub opening_mm: f64,
    /// What stands in the way of the opening leaf.
    pub obstacle: Option<Obstacle>,
}

/// Something that stands in the way of the opening leaf: a post, a wall, a parked bin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Obstacle {
    /// Space left between it and the fully open leaf, in mm.
    pub space_mm: f64,
    /// Height of its most protruding point, in mm, where it has one.
    pub height_mm: Option<f64>,
}

/// A test point that a profile wants.
#[derive(Clone, Debug, PartialEq)]
pub struct WantedPoint {
    /// Where.
    pub point: TestPoint,
    /// Hits wanted there.
    pub repeats: usize,
    /// Why there.
    pub why: WantedBecause,
    /// How the rule is known.
    pub source: SourceKind,
    /// Whether the tester chose it, and not the profile.
    pub by_tester: bool,
}

impl WantedPoint {
    /// A point that the tester chose.
    #[must_use]
    pub const fn of_tester(point: TestPoint, repeats: usize) -> Self {
        let TestPoint {
            gap_mm, height_mm, ..
        } = point;
        Self {
            point,
            repeats,
            why: WantedBecause {
                at_gap: GapReason::Given { gap_mm },
                at_place: PlaceRule::AboveGroundMm(height_mm),
                brought_down_mm: None,
            },
            source: SourceKind::Chosen,
            by_tester: true,
        }
    }
}

/// The wanted test points of one visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The scheme it follows.
    pub scheme: String,
    /// Where the scheme comes from.
    pub reference: String,
    /// The points, in the order of the rules; gaps outside, places inside.
    pub points: Vec<WantedPoint>,
    /// What was left out, and why.
    pub notes: Vec<LeftOut>,
}

/// Why a test point is wanted where it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WantedBecause {
    /// Why at this gap.
    pub at_gap: GapReason,
    /// Why at this place.
    pub at_place: PlaceRule,
    /// The height to which the place was brought down, where it was.
    pub brought_down_mm: Option<f64>,
}

/// Why at a gap.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum GapReason {
    /// The rule names it.
    Given {
        /// The gap.
        gap_mm: f64,
    },
    /// It is so much below fully open.
    BelowOpen {
        /// How much.
        below_open_mm: f64,
    },
    /// It is the space to the obstacle, but at least so much.
    SpaceToObstacle {
        /// The space.
        space_mm: f64,
        /// The least gap.
        at_least_mm: f64,
    },
}

/// Points that a rule names and this leaf does not have.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum LeftOut {
    /// Nothing stands in the way of the opening leaf, or not within so many millimetres of it.
    NoObstacle {
        /// Way of the leaf.
        direction: Direction,
        /// Part of it.
        hazard: Hazard,
        /// How near it would have to be.
        within_mm: Option<f64>,
    },
    /// The leaf does not open as far, or the profile has no value for so small a gap.
    Gap {
        /// Way of the leaf.
        direction: Direction,
        /// Part of it.
        hazard: Hazard,
        /// The gap.
        gap_mm: f64,
        /// How far the leaf opens.
        opening_mm: f64,
        /// The smallest gap of the profile.
        smallest_mm: f64,
    },
    /// The leaf is not as long.
    Place {
        /// Way of the leaf.
        direction: Direction,
        /// Part of it.
        hazard: Hazard,
        /// The place.
        at_place: PlaceRule,
        /// Length of the leaf that way.
        along_mm: f64,
    },
}

impl Fact for WantedBecause {
    const FAMILY: &'static str = "wanted-because";
}

impl Fact for LeftOut {
    const FAMILY: &'static str = "left-out";
}

/// Why it is not known, or not wholly known, which test points are wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum PlanError {
    /// The gate file describes no visit.
    NoVisit,
    /// The gate file does not give a dimension of the leaf.
    NoLength {
        /// Which.
        key: String,
    },
    /// The gate file does not say what the opening leaf comes near: more points may be wanted.
    NoOpeningSide,
    /// The named scheme does not exist.
    UnknownScheme {
        /// The profile.
        profile: String,
        /// The name given.
        scheme: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// The named scheme is not for this kind of visit.
    WrongVisit {
        /// The profile.
        profile: String,
        /// The scheme.
        scheme: String,
        /// The visit.
        visit_kind: VisitKind,
        /// The visits it is for.
        visit_kinds: Vec<VisitKind>,
    },
    /// The profile has no scheme for this kind of visit.
    NoScheme {
        /// The profile.
        profile: String,
        /// The visit.
        visit_kind: VisitKind,
    },
    /// The scheme has no rule for this motion: which points must be tested is not known.
    NoRule {
        /// The profile.
        profile: String,
        /// The scheme.
        scheme: String,
        /// The motion.
        motion: Motion,
    },
    /// A dimension of the leaf is no length.
    BadLength {
        /// Which dimension.
        key: String,
        /// What was given.
        found_mm: f64,
    },
}

impl Fact for PlanError {
    const FAMILY: &'static str = "no-plan";
}

/// The test points a profile wants on a leaf at a visit: by the scheme that is named, else by the first that serves.
///
/// # Errors
/// [`PlanError`] if no scheme serves, the scheme has no rule for the motion, or a dimension is no length.
///
/// # Example
/// ```
/// use relent::limits::{Leaf, Motion, VisitKind, profile, wanted_points};
/// let leaf = Leaf { motion: Motion::Sliding, height_mm: 1800.0, width_mm: 4000.0, opening_mm: 4000.0, obstacle: None };
/// let plan = wanted_points(&profile("en12453-2017")?, &leaf, VisitKind::First, None).map_err(|why| format!("{why:?}"))?;
/// assert_eq!(plan.points.len(), 9);
/// assert_eq!(plan.points.iter().map(|wanted| wanted.repeats).sum::<usize>(), 27);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn wanted_points(
    profile: &Profile,
    leaf: &Leaf,
    visit: VisitKind,
    scheme: Option<&str>,
) -> Result<Plan, PlanError> {
    check_lengths(leaf)?;
    let scheme = choose_scheme(profile, visit, scheme)?;
    let mut rules = scheme
        .rules
        .iter()
        .filter(|rule| rule.motions.contains(&leaf.motion))
        .peekable();
    if rules.peek().is_none() {
        return Err(PlanError::NoRule {
            profile: profile.name.clone(),
            scheme: scheme.name.clone(),
            motion: leaf.motion,
        });
    }
    let mut plan = Plan {
        scheme: scheme.name.clone(),
        reference: scheme.reference.clone(),
        points: Vec::new(),
        notes: Vec::new(),
    };
    let smallest = profile
        .smallest_gap
        .as_ref()
        .map_or(0.0, |gap| gap.gap.get());
    for rule in rules {
        add_rule(&mut plan, rule, leaf, smallest);
    }
    Ok(plan)
}

fn check_lengths(leaf: &Leaf) -> Result<(), PlanError> {
    let lengths = [
        ("height_mm", leaf.height_mm),
        ("width_mm", leaf.width_mm),
        ("opening_mm", leaf.opening_mm),
    ];
    for (key, found) in lengths {
        if !(found.is_finite() && found > 0.0) {
            let key = key.to_owned();
            return Err(PlanError::BadLength {
                key,
                found_mm: found,
            });
        }
    }
    Ok(())
}

fn choose_scheme<'a>(
    profile: &'a Profile,
    visit: VisitKind,
    name: Option<&str>,
) -> Result<&'a Scheme, PlanError> {
    let Some(name) = name else {
        return profile
            .schemes
            .iter()
            .find(|scheme| scheme.visits.contains(&visit))
            .ok_or_else(|| PlanError::NoScheme {
                profile: profile.name.clone(),
                visit_kind: visit,
            });
    };
    let Some(scheme) = profile.schemes.iter().find(|scheme| scheme.name == name) else {
        let known = profile.schemes.iter().map(|scheme| scheme.name.clone());
        return Err(PlanError::UnknownScheme {
            profile: profile.name.clone(),
            scheme: name.to_owned(),
            known: known.collect(),
        });
    };
    if scheme.visits.contains(&visit) {
        return Ok(scheme);
    }
    Err(PlanError::WrongVisit {
        profile: profile.name.clone(),
        scheme: scheme.name.clone(),
        visit_kind: visit,
        visit_kinds: scheme.visits.clone(),
    })
}

fn add_rule(plan: &mut Plan, rule: &PointRule, leaf: &Leaf, smallest: f64) {
    let (wanted, within_mm) = match rule.when {
        When::Always => (true, None),
        When::ObstacleInOpening => (leaf.obstacle.is_some(), None),
        When::ObstacleWithinMm(most) => (
            leaf.obstacle.is_some_and(|it| it.space_mm <= most),
            Some(most),
        ),
    };
    let PointRule {
        direction, hazard, ..
    } = *rule;
    if !wanted {
        plan.notes.push(LeftOut::NoObstacle {
            direction,
            hazard,
            within_mm,
        });
        return;
    }
    let gaps = gaps_of(rule, leaf, smallest, &mut plan.notes);
    let places = places_of(rule, leaf, &mut plan.notes);
    for (gap_mm, at_gap) in &gaps {
        for (height_mm, at_place, brought_down_mm) in &places {
            let point = TestPoint {
                direction,
                hazard,
                gap_mm: *gap_mm,
                height_mm: *height_mm,
            };
            if plan.points.iter().all(|wanted| wanted.point != point) {
                plan.points.push(WantedPoint {
                    point,
                    repeats: rule.repeats,
                    why: WantedBecause {
                        at_gap: *at_gap,
                        at_place: *at_place,
                        brought_down_mm: *brought_down_mm,
                    },
                    source: rule.source,
                    by_tester: false,
                });
            }
        }
    }
}

fn gaps_of(
    rule: &PointRule,
    leaf: &Leaf,
    smallest: f64,
    notes: &mut Vec<LeftOut>,
) -> Vec<(f64, GapReason)> {
    let mut gaps: Vec<(f64, GapReason)> = Vec::new();
    for gap in &rule.gaps {
        let (gap_mm, why) = match *gap {
            GapRule::LowerOf {
                at_mm,
                below_open_mm,
            } if leaf.opening_mm - below_open_mm < at_mm => (
                leaf.opening_mm - below_open_mm,
                GapReason::BelowOpen { below_open_mm },
            ),
            GapRule::AtMm(gap_mm) | GapRule::LowerOf { at_mm: gap_mm, .. } => {
                (gap_mm, GapReason::Given { gap_mm })
            }
            GapRule::SpaceToObstacle { at_least_mm } => {
                let space_mm = leaf.obstacle.map_or(at_least_mm, |it| it.space_mm);
                let why = GapReason::SpaceToObstacle {
                    space_mm,
                    at_least_mm,
                };
                (space_mm.max(at_least_mm), why)
            }
        };
        if gap_mm > leaf.opening_mm || gap_mm <= 0.0 || gap_mm < smallest {
            notes.push(LeftOut::Gap {
                direction: rule.direction,
                hazard: rule.hazard,
                gap_mm,
                opening_mm: leaf.opening_mm,
                smallest_mm: smallest,
            });
        } else if gaps.iter().all(|(other, _)| *other != gap_mm) {
            gaps.push((gap_mm, why));
        }
    }
    gaps
}

/// The places of a rule: where, by which part of the rule, and the height to which it was brought down.
fn places_of(
    rule: &PointRule,
    leaf: &Leaf,
    notes: &mut Vec<LeftOut>,
) -> Vec<(f64, PlaceRule, Option<f64>)> {
    let mut places: Vec<(f64, PlaceRule, Option<f64>)> = Vec::new();
    for place in &rule.places {
        let (at, along_mm) = place_of(*place, leaf);
        let brought_down = rule.highest_mm.filter(|highest| at > *highest);
        let at = brought_down.unwrap_or(at);
        if at <= 0.0 || at > along_mm {
            notes.push(LeftOut::Place {
                direction: rule.direction,
                hazard: rule.hazard,
                at_place: *place,
                along_mm,
            });
        } else if places.iter().all(|(other, ..)| *other != at) {
            places.push((at, *place, brought_down));
        }
    }
    places
}

/// Where a place is on this leaf, and how long the leaf is in that direction.
fn place_of(place: PlaceRule, leaf: &Leaf) -> (f64, f64) {
    let (height, width) = (leaf.height_mm, leaf.width_mm);
    let protruding = leaf.obstacle.and_then(|it| it.height_mm);
    match place {
        PlaceRule::AboveGroundMm(up) => (up, height),
        PlaceRule::HalfHeight => (height / 2.0, height),
        PlaceRule::BelowTopMm(down) => (height - down, height),
        PlaceRule::MidWidth => (width / 2.0, width),
        PlaceRule::FromLeftJambMm(from) => (from, width),
        PlaceRule::FromRightJambMm(from) => (width - from, width),
        PlaceRule::ObstacleOrMm(up) => (protruding.unwrap_or(up), height),
    }
}
