//! Sampling too slow for the pulse.

use super::{Limitation, Tolerances};
use crate::measure::{Response, Zeroed};
use crate::trace;

/// The sampling may have missed more of the top than the profile tolerates, by the parabola through the highest sample and
/// its neighbours or by the half-sine of the pulse's length, whichever says more; or a lone sample before contact is higher
/// than the peak, too short to be told from a disturbance.
#[must_use]
pub fn slow_sampling(
    record: &Zeroed<'_>,
    response: &Response,
    tolerances: &Tolerances,
) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let force = peak.force.get();
    let unseen = peak.unseen.get().max(peak.unseen_half_sine.get());
    let lone = if unseen > tolerances.sampling_tolerance_share * force {
        None
    } else {
        Some(lone_before(record, response).filter(|lone| *lone > force)?)
    };
    Some(Limitation::SlowSampling {
        peak_n: force,
        unseen_n: unseen,
        lone_n: lone,
    })
}

/// Greatest force before the first touch.
fn lone_before(record: &Zeroed<'_>, response: &Response) -> Option<f64> {
    let first = response.touches.first()?;
    let before = &record.forces()[..record.index_at(first.from.get())];
    (!before.is_empty()).then(|| trace::extremes(before).1)
}
