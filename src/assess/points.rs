//! The hits laid on the wanted test points.

use super::Hit;
use crate::gate::GateFile;
use crate::limits::{Leaf, Plan, PlanError, Profile, TestPoint, VisitKind, wanted_points};
use crate::quantity::Millimetre;
use crate::verdict::MissingPoint;

/// The test points that a profile wants on a gate.
#[derive(Clone, Debug, PartialEq)]
pub enum Planned {
    /// They are known.
    Known(Plan),
    /// The profile has no rule for them: the points of the logs are all there is, and the report says so.
    NotPrescribed(String),
    /// The profile has a rule, but the gate file does not say enough to apply it: nothing can be called complete.
    Unknown(String),
}

impl Planned {
    /// Hits wanted at a point; `None` where the point is not asked for.
    #[must_use]
    pub fn repeats_at(&self, point: &TestPoint) -> Option<usize> {
        let Self::Known(plan) = self else {
            return None;
        };
        plan.points
            .iter()
            .find(|wanted| wanted.point == *point)
            .map(|wanted| wanted.repeats)
    }

    /// The wanted points with fewer hits than wanted. A log that could not be read is no hit.
    #[must_use]
    pub fn missing(&self, hits: &[Hit]) -> Vec<MissingPoint> {
        let Self::Known(plan) = self else {
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
        return Planned::Unknown(
            "the gate file has no [visit]: which test points are wanted is unknown".to_owned(),
        );
    };
    plan_for(gate, profile, visit.kind)
}

/// The test points that the profile wants on this gate at a visit of a kind, whatever visit the gate file names.
#[must_use]
pub fn plan_for(gate: &GateFile, profile: &Profile, visit: VisitKind) -> Planned {
    let section = &gate.gate;
    let sizes = [
        ("leaf_height_mm", section.leaf_height),
        ("leaf_width_mm", section.leaf_width),
        ("clear_opening_mm", section.clear_opening),
    ];
    let prescribed = profile.schemes.iter().any(|scheme| {
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
        return Planned::Unknown(format!(
            "the gate file does not give {key}: which test points are wanted is unknown"
        ));
    }
    let size = |at: usize| sizes[at].1.map_or(f64::NAN, Millimetre::get);
    let leaf = Leaf {
        motion: section.motion,
        height_mm: size(0),
        width_mm: size(1),
        opening_mm: size(2),
        obstacle: section.obstacle(),
    };
    match wanted_points(profile, &leaf, visit, gate.judge.scheme.as_deref()) {
        Ok(plan) => Planned::Known(plan),
        // A scheme that was named and does not serve is a mistake, never a visit without prescribed points.
        Err(error) if gate.judge.scheme.is_some() => Planned::Unknown(error.to_string()),
        Err(error) if !prescribed => Planned::NotPrescribed(error.to_string()),
        Err(error @ (PlanError::NoScheme { .. } | PlanError::NoRule { .. })) => {
            Planned::NotPrescribed(error.to_string())
        }
        Err(error) => Planned::Unknown(error.to_string()),
    }
}

/// The points of the logs, each once, in their order.
pub(super) fn tested(hits: &[Hit]) -> Vec<TestPoint> {
    let mut points: Vec<TestPoint> = Vec::new();
    for hit in hits {
        if !points.contains(&hit.point) {
            points.push(hit.point);
        }
    }
    points
}
