//! Sampling too slow for the pulse.

use super::{Kind, Limitation, Tolerances};
use crate::measure::{Measure, Response, Zeroed};
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
    let text = if unseen > tolerances.sampling_tolerance_share * force {
        format!(
            "The logger took too few samples on the top of the hit: the true peak may be up to {unseen:.1} N ({:.1} %) above the \
             highest sample. Repeat the hit with a higher sampling rate.",
            100.0 * unseen / force
        )
    } else {
        let lone = lone_before(record, response)?;
        if lone <= force {
            return None;
        }
        format!(
            "A lone sample of {lone:.1} N stands before the contact, higher than the peak of {force:.1} N and too short to be told \
             from a disturbance. Repeat the hit with a higher sampling rate."
        )
    };
    Some(Limitation {
        kind: Kind::SlowSampling,
        text,
        bounds: vec![Measure::PeakForce, Measure::OverTravel, Measure::Energy],
        voids: Vec::new(),
    })
}

/// Greatest force before the first touch.
fn lone_before(record: &Zeroed<'_>, response: &Response) -> Option<f64> {
    let first = response.touches.first()?;
    let before = &record.forces()[..record.index_at(first.from.get())];
    (!before.is_empty()).then(|| trace::extremes(before).1)
}
