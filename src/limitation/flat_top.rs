//! Flat top: clipped by the gauge or the logger.

use super::{Limitation, Tolerances};
use crate::measure::{Level, Response, Zeroed};
use crate::quantity::Newton;

/// Share of the peak at whose width a rounded top is told from a flat one.
const SHOULDER: f64 = 0.9;

/// The top is flat if at least as many neighbouring samples as the profile names equal the greatest, the noise elsewhere is
/// not zero, and they last longer than a rounded top can stay within one step r of the log.
///
/// A parabola that is above 90 % of F_d for the time w stays within r of its top for w √(r / (0.1 F_d)). So a well-sampled
/// pulse in a log of coarse steps, whose top is equal for some samples by rounding, is not taken for a clipped one.
#[must_use]
pub fn flat_top(
    record: &Zeroed<'_>,
    response: &Response,
    tolerances: &Tolerances,
) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let noise = response.zero.noise.map_or(0.0, Newton::get);
    if peak.equal_samples < tolerances.equal_samples_at_top || noise == 0.0 {
        return None;
    }
    let (times, forces) = (record.times(), record.forces());
    let last = peak.index + peak.equal_samples - 1;
    let flat = times[last] - times[peak.index];
    let below = |f: &f64| *f < SHOULDER * forces[peak.index];
    let left = forces[..peak.index].iter().rposition(below).unwrap_or(0);
    let right = forces[last..]
        .iter()
        .position(below)
        .map_or(times.len() - 1, |run| last + run);
    let drop = (1.0 - SHOULDER) * forces[peak.index];
    let rounded = (times[right] - times[left]) * (step(forces, left, right) / drop).sqrt();
    (flat >= rounded).then(|| flat_for(response, peak.equal_samples, peak.force, flat))
}

fn flat_for(response: &Response, samples: usize, force: Newton, lasts: f64) -> Limitation {
    let windows = [
        (Level::Static, response.static_force),
        (Level::Residual, response.residual_force),
    ];
    let reaching = windows
        .into_iter()
        .filter(|(_, held)| held.is_ok_and(|held| held >= force));
    Limitation::FlatTop {
        samples,
        lasts_ms: lasts * 1000.0,
        force_n: force.get(),
        reaches: reaching.map(|(level, _)| level).collect(),
    }
}

/// Smallest step between neighbouring samples that differ, near the top.
fn step(forces: &[f64], left: usize, right: usize) -> f64 {
    let least = 1e-9
        * forces[left..=right]
            .iter()
            .fold(0.0_f64, |most, f| most.max(f.abs()));
    forces[left..=right]
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).abs())
        .filter(|step| *step > least)
        .fold(f64::INFINITY, f64::min)
}
