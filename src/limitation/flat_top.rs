//! Flat top: clipped by the gauge or the logger.

use super::plateau::{AtRest, Plateau, plateau};
use super::{Limitation, Tolerances};
use crate::measure::{Level, Response, Zeroed};
use crate::quantity::Newton;
use crate::trace::Trace;

/// The top is flat between two corners, as [`plateau`] finds it, for at least as many samples as the profile names.
#[must_use]
pub fn flat_top(
    trace: &Trace,
    record: &Zeroed<'_>,
    response: &Response,
    tolerances: &Tolerances,
) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let step = trace.resolution().map_or(0.0, Newton::get);
    let rest = AtRest::of(&record.forces()[..response.zero.samples], step);
    let samples = tolerances.equal_samples_at_top;
    let found = plateau(record.times(), record.forces(), peak.index, &rest, samples)?;
    Some(flat_for(response, &found))
}

fn flat_for(response: &Response, top: &Plateau) -> Limitation {
    let windows = [
        (Level::Static, response.static_force),
        (Level::Residual, response.residual_force),
    ];
    let reaching = windows
        .into_iter()
        .filter(|(_, held)| held.is_ok_and(|held| held.get() >= top.least_n));
    Limitation::FlatTop {
        samples: top.samples.clone().count(),
        lasts_ms: top.lasts_s * 1000.0,
        force_n: top.level_n,
        reaches: reaching.map(|(level, _)| level).collect(),
    }
}
