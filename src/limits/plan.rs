//! Which test points a profile wants on a leaf at a visit.

use std::fmt;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::scheme::{GapRule, PlaceRule, PointRule, Scheme, When};
use super::{KnownFrom, Motion, Profile, TestPoint};
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

impl fmt::Display for VisitKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::First => "first",
            Self::Recurring => "recurring",
            Self::AfterChange => "after-change",
        })
    }
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
    /// Why there, in plain words.
    pub why: String,
    /// How the rule is known.
    pub known_from: KnownFrom,
}

/// The wanted test points of one visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The scheme it follows.
    pub scheme: String,
    /// Where the scheme comes from.
    pub source: String,
    /// The points, in the order of the rules; gaps outside, places inside.
    pub points: Vec<WantedPoint>,
    /// What was left out or moved, and why.
    pub notes: Vec<String>,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanError {
    /// The named scheme does not exist.
    #[error("profile {profile} has no test-point scheme {found:?}, expected one of {known}")]
    UnknownScheme {
        /// The profile.
        profile: String,
        /// The name given.
        found: String,
        /// The names there are.
        known: String,
    },
    /// The named scheme is not for this kind of visit.
    #[error(
        "test-point scheme {scheme} of {profile} is not for a {visit} visit, expected one of {permitted}"
    )]
    WrongVisit {
        /// The profile.
        profile: String,
        /// The scheme.
        scheme: String,
        /// The visit.
        visit: VisitKind,
        /// The visits it is for.
        permitted: String,
    },
    /// The profile has no scheme for this kind of visit.
    #[error("profile {profile} prescribes no test points for this kind of visit ({visit})")]
    NoScheme {
        /// The profile.
        profile: String,
        /// The visit.
        visit: VisitKind,
    },
    /// The scheme has no rule for this motion: which points must be tested is not known.
    #[error(
        "test-point scheme {scheme} of {profile} has no rule for a {motion} leaf: the points must be named in the gate file"
    )]
    NoRule {
        /// The profile.
        profile: String,
        /// The scheme.
        scheme: String,
        /// The motion.
        motion: Motion,
    },
    /// A dimension of the leaf is no length.
    #[error("{key} of the leaf is {found} mm, expected a length above 0 mm")]
    BadLength {
        /// Which dimension.
        key: &'static str,
        /// What was given.
        found: f64,
    },
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
/// let plan = wanted_points(&profile("en12453-2017")?, &leaf, VisitKind::First, None)?;
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
        source: scheme.source.clone(),
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
            return Err(PlanError::BadLength { key, found });
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
                visit,
            });
    };
    let Some(scheme) = profile.schemes.iter().find(|scheme| scheme.name == name) else {
        let known: Vec<&str> = profile.schemes.iter().map(|scheme| &*scheme.name).collect();
        return Err(PlanError::UnknownScheme {
            profile: profile.name.clone(),
            found: name.to_owned(),
            known: known.join(", "),
        });
    };
    if scheme.visits.contains(&visit) {
        return Ok(scheme);
    }
    let permitted: Vec<String> = scheme.visits.iter().map(ToString::to_string).collect();
    Err(PlanError::WrongVisit {
        profile: profile.name.clone(),
        scheme: scheme.name.clone(),
        visit,
        permitted: permitted.join(", "),
    })
}

fn add_rule(plan: &mut Plan, rule: &PointRule, leaf: &Leaf, smallest: f64) {
    let (wanted, what) = match rule.when {
        When::Always => (true, String::new()),
        When::ObstacleInOpening => (
            leaf.obstacle.is_some(),
            "post or obstacle in the way of the opening leaf".to_owned(),
        ),
        When::ObstacleWithinMm(most) => (
            leaf.obstacle.is_some_and(|it| it.space_mm <= most),
            format!("obstacle within {most} mm of the fully open leaf"),
        ),
    };
    if !wanted {
        plan.notes.push(format!(
            "{}, {}: no points, because there is no {what}",
            rule.direction, rule.hazard
        ));
        return;
    }
    let gaps = gaps_of(rule, leaf, smallest, &mut plan.notes);
    let places = places_of(rule, leaf, &mut plan.notes);
    for (gap_mm, gap_why) in &gaps {
        for (height_mm, place_why) in &places {
            let point = TestPoint {
                direction: rule.direction,
                hazard: rule.hazard,
                gap_mm: *gap_mm,
                height_mm: *height_mm,
            };
            if plan.points.iter().all(|wanted| wanted.point != point) {
                plan.points.push(WantedPoint {
                    point,
                    repeats: rule.repeats,
                    why: format!("{gap_why}; {place_why}"),
                    known_from: rule.known_from,
                });
            }
        }
    }
}

fn gaps_of(
    rule: &PointRule,
    leaf: &Leaf,
    smallest: f64,
    notes: &mut Vec<String>,
) -> Vec<(f64, String)> {
    let mut gaps: Vec<(f64, String)> = Vec::new();
    for gap in &rule.gaps {
        let (gap_mm, why) = match *gap {
            GapRule::AtMm(at) => (at, format!("gap {at} mm")),
            GapRule::LowerOf {
                at_mm,
                below_open_mm,
            } if leaf.opening_mm - below_open_mm < at_mm => (
                leaf.opening_mm - below_open_mm,
                format!("{below_open_mm} mm below fully open"),
            ),
            GapRule::LowerOf { at_mm, .. } => (at_mm, format!("gap {at_mm} mm")),
            GapRule::SpaceToObstacle { at_least_mm } => {
                let space = leaf.obstacle.map_or(at_least_mm, |it| it.space_mm);
                (
                    space.max(at_least_mm),
                    format!("the space of {space} mm to the obstacle, at least {at_least_mm} mm"),
                )
            }
        };
        if gap_mm > leaf.opening_mm || gap_mm <= 0.0 || gap_mm < smallest {
            notes.push(format!(
                "{}, {}: no points at a gap of {gap_mm} mm, because the leaf opens {} mm",
                rule.direction, rule.hazard, leaf.opening_mm
            ));
        } else if gaps.iter().all(|(other, _)| *other != gap_mm) {
            gaps.push((gap_mm, why));
        }
    }
    gaps
}

fn places_of(rule: &PointRule, leaf: &Leaf, notes: &mut Vec<String>) -> Vec<(f64, String)> {
    let mut places: Vec<(f64, String)> = Vec::new();
    for place in &rule.places {
        let (mut at, mut why, along) = place_of(*place, leaf);
        if let Some(highest) = rule.highest_mm
            && at > highest
        {
            at = highest;
            why = format!("{why}, brought down to {highest} mm");
        }
        if at <= 0.0 || at > along {
            notes.push(format!(
                "{}, {}: no point {why}, because the leaf measures {along} mm",
                rule.direction, rule.hazard
            ));
        } else if places.iter().all(|(other, _)| *other != at) {
            places.push((at, why));
        }
    }
    places
}

/// Where a place is on this leaf, in words, and how long the leaf is in that direction.
fn place_of(place: PlaceRule, leaf: &Leaf) -> (f64, String, f64) {
    let (height, width) = (leaf.height_mm, leaf.width_mm);
    let protruding = leaf.obstacle.and_then(|it| it.height_mm);
    let (at, along) = match place {
        PlaceRule::AboveGroundMm(up) => (up, height),
        PlaceRule::HalfHeight => (height / 2.0, height),
        PlaceRule::BelowTopMm(down) => (height - down, height),
        PlaceRule::MidWidth => (width / 2.0, width),
        PlaceRule::FromLeftJambMm(from) => (from, width),
        PlaceRule::FromRightJambMm(from) => (width - from, width),
        PlaceRule::ObstacleOrMm(up) => (protruding.unwrap_or(up), height),
    };
    (at, place.to_string(), along)
}
