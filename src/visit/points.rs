//! The hits laid on the wanted test points.

use super::Hit;
use crate::gate::GateFile;
use crate::limits::{
    Hazard, Leaf, Plan, PlanError, Profile, TestPoint, VisitKind, WantedPoint, When, wanted_points,
};
use crate::quantity::Millimetre;
use crate::verdict::MissingPoint;

/// The scheme of a visit at which the tester chose every point.
const CHOSEN: &str = "chosen";

/// The test points that a profile wants on a gate.
#[derive(Clone, Debug, PartialEq)]
pub enum Planned {
    /// They are known.
    Known(Plan),
    /// These are known, but the gate file leaves open whether more are wanted, and why: nothing can be called complete.
    InPart(Plan, PlanError),
    /// The profile has no rule for them, and the tester has chosen none: nothing can be called complete.
    NotPrescribed(PlanError),
    /// The profile has a rule, but the gate file does not say enough to apply it: nothing can be called complete.
    Unknown(PlanError),
}

impl Planned {
    /// The plan, as far as it is known.
    #[must_use]
    pub const fn plan(&self) -> Option<&Plan> {
        match self {
            Self::Known(plan) | Self::InPart(plan, _) => Some(plan),
            Self::NotPrescribed(_) | Self::Unknown(_) => None,
        }
    }

    /// Why it is not known that all wanted points are there; `None` where it is.
    #[must_use]
    pub const fn open(&self) -> Option<&PlanError> {
        match self {
            Self::InPart(_, why) | Self::Unknown(why) | Self::NotPrescribed(why) => Some(why),
            Self::Known(_) => None,
        }
    }

    /// Hits wanted at a point; `None` where the point is not asked for.
    #[must_use]
    pub fn repeats_at(&self, point: &TestPoint) -> Option<usize> {
        let wanted = self.plan()?.points.iter();
        let mut at = wanted.filter(|wanted| wanted.point == *point);
        at.next().map(|wanted| wanted.repeats)
    }

    /// The wanted points with fewer hits than wanted. A log that could not be read is no hit.
    #[must_use]
    pub fn missing(&self, hits: &[Hit]) -> Vec<MissingPoint> {
        let Some(plan) = self.plan() else {
            return Vec::new();
        };
        let found = |point: &TestPoint| {
            hits.iter()
                .filter(|hit| hit.point == *point && hit.measurement.is_ok())
                .count()
        };
        plan.points
            .iter()
            .map(|wanted| MissingPoint {
                point: wanted.point,
                wanted: wanted.repeats,
                found: found(&wanted.point),
            })
            .filter(|missing| missing.found < missing.wanted)
            .collect()
    }
}

/// The test points that the profile wants on this gate at this visit.
#[must_use]
pub fn plan(gate: &GateFile, profile: &Profile) -> Planned {
    let Some(visit) = &gate.visit else {
        return Planned::Unknown(PlanError::NoVisit);
    };
    plan_for(gate, profile, visit.kind)
}

/// The test points that the profile wants on this gate at a visit of a kind, whatever visit the gate file names, and those that the
/// tester has chosen.
#[must_use]
pub fn plan_for(gate: &GateFile, profile: &Profile, visit: VisitKind) -> Planned {
    with_chosen(prescribed(gate, profile, visit), gate, profile)
}

/// A plan with the points of the tester. Where the profile prescribes none they are the plan.
fn with_chosen(planned: Planned, gate: &GateFile, profile: &Profile) -> Planned {
    let chosen = gate.points.iter().map(|chosen| {
        WantedPoint::of_tester(chosen.point(), chosen.hits.max(profile.hits_at_least))
    });
    let add = |mut plan: Plan| {
        for one in chosen.clone() {
            if plan.points.iter().all(|wanted| wanted.point != one.point) {
                plan.points.push(one);
            }
        }
        plan
    };
    match planned {
        Planned::Known(plan) => Planned::Known(add(plan)),
        Planned::InPart(plan, why) => Planned::InPart(add(plan), why),
        Planned::NotPrescribed(_) if !gate.points.is_empty() => Planned::Known(add(Plan {
            scheme: CHOSEN.to_owned(),
            reference: String::new(),
            points: Vec::new(),
            notes: Vec::new(),
        })),
        open => open,
    }
}

fn prescribed(gate: &GateFile, profile: &Profile, visit: VisitKind) -> Planned {
    let section = &gate.gate;
    let sizes = [
        ("leaf_height_mm", section.leaf_height),
        ("leaf_width_mm", section.leaf_width),
        ("clear_opening_mm", section.clear_opening),
    ];
    let scheme = gate
        .visit
        .as_ref()
        .and_then(|visit| visit.scheme.as_deref());
    let prescribed = scheme.is_some()
        || profile.schemes.iter().any(|scheme| {
            scheme.visits.contains(&visit)
                && scheme
                    .rules
                    .iter()
                    .any(|rule| rule.motions.contains(&section.motion))
        });
    if let Some((key, _)) = sizes
        .iter()
        .find(|(_, size)| size.is_none())
        .filter(|_| prescribed)
    {
        return Planned::Unknown(PlanError::NoLength {
            key: (*key).to_owned(),
        });
    }
    let size = |at: usize| sizes[at].1.map_or(f64::NAN, Millimetre::get);
    let leaf = Leaf {
        motion: section.motion,
        height_mm: size(0),
        width_mm: size(1),
        opening_mm: size(2),
        obstacle: section.obstacle(),
    };
    match wanted_points(profile, &leaf, visit, scheme) {
        Ok(plan) if opening_side_matters(&plan, gate, profile) => {
            Planned::InPart(plan, PlanError::NoOpeningSide)
        }
        Ok(plan) => Planned::Known(plan),
        // A scheme that was named and does not serve is a mistake, never a visit without prescribed points.
        Err(error) if scheme.is_some() => Planned::Unknown(error),
        Err(error) if !prescribed => Planned::NotPrescribed(error),
        Err(error @ (PlanError::NoScheme { .. } | PlanError::NoRule { .. })) => {
            Planned::NotPrescribed(error)
        }
        Err(error) => Planned::Unknown(error),
    }
}

/// Whether a rule asks what the opening leaf comes near, and the gate file is silent.
fn opening_side_matters(plan: &Plan, gate: &GateFile, profile: &Profile) -> bool {
    let section = &gate.gate;
    let schemes = profile.schemes.iter();
    let mut rules = schemes
        .filter(|scheme| scheme.name == plan.scheme)
        .flat_map(|scheme| &scheme.rules)
        .filter(|rule| rule.motions.contains(&section.motion));
    section.opening_side.is_none() && rules.any(|rule| rule.when != When::Always)
}

/// Hazards that the gate file declares and for which no test point is wanted.
pub(super) fn untested_hazards(gate: &GateFile, planned: &Planned) -> Vec<Hazard> {
    let points = planned.plan().map_or(&[][..], |plan| &plan.points);
    let mut hazards = gate.gate.hazards.clone();
    hazards.retain(|hazard| points.iter().all(|wanted| wanted.point.hazard != *hazard));
    hazards
}

/// The hits that a test point lacks up to the greatest number that one of its logs has.
pub(super) fn unaccounted(hits: &[&Hit], point: TestPoint) -> Vec<u32> {
    let here = || {
        hits.iter()
            .filter(|hit| hit.point == point)
            .map(|hit| hit.repeat)
    };
    let last = here().max().unwrap_or(0);
    (1..last)
        .filter(|number| here().all(|one| one != *number))
        .collect()
}

/// Lays every hit on the wanted test point that it stands for: the nearest that is no farther than the profile's place
/// tolerance in gap and in place, and at which the same limits apply. Any other hit stays where it was held.
pub(super) fn lay(hits: &mut [Hit], planned: &Planned, gate: &GateFile, profile: &Profile) {
    let Some(plan) = planned.plan() else { return };
    let tolerance = profile.place_tolerance.get();
    let motion = gate.gate.motion;
    for hit in hits {
        let held = hit.point;
        let limits = profile.limits_at(motion, &held);
        let far = |wanted: &TestPoint| {
            let gap = (wanted.gap_mm - held.gap_mm).abs();
            gap.max((wanted.height_mm - held.height_mm).abs())
        };
        let nearest = plan
            .points
            .iter()
            .map(|wanted| wanted.point)
            .filter(|wanted| wanted.direction == held.direction && wanted.hazard == held.hazard)
            .filter(|wanted| far(wanted) <= tolerance)
            .filter(|wanted| profile.limits_at(motion, wanted) == limits)
            .min_by(|one, other| far(one).total_cmp(&far(other)));
        hit.point = nearest.unwrap_or(held);
    }
}

/// The points of the logs, each once, in their order.
pub(super) fn tested<'a>(hits: impl IntoIterator<Item = &'a Hit>) -> Vec<TestPoint> {
    let mut points: Vec<TestPoint> = Vec::new();
    for hit in hits {
        if !points.contains(&hit.point) {
            points.push(hit.point);
        }
    }
    points
}
