//! Reversal time: when the leaf starts to move away.

use super::median::median;
use super::motion::{STEADY_S, from, logged};
use super::zeroed::Zeroed;
use super::{Basis, Measured, Unmeasured};
use crate::quantity::{Newton, Second};
use crate::trace::Trace;

/// Least time from stop to release that counts as a hold.
const LEAST_HOLD_S: f64 = 0.050;
/// Share of the hold level at which the final unloading starts.
const UNLOADING_SHARE: f64 = 0.9;

/// The reversal time t_rev (s after contact), and what it was read from.
///
/// With a speed or position channel: the first instant after the stop from which the leaf moves away for at least 20 ms. From
/// force alone: the start of the final unloading, the last instant before release at which F ≥ 90 % of the hold level. Hold
/// level: median of F over the middle half of the time from stop to release. Where that time is under 50 ms or the level is
/// not above the contact level there is no hold, and the reversal is the stop.
///
/// # Quantities
/// `contact` (s from the first sample), `stop` and `release` (s after contact), `contact_level` (N).
///
/// # Errors
/// [`Unmeasured`] if the leaf is never released (from force), or never moves away for 20 ms (from a channel), or never stops.
///
/// # Source
/// This project's own rule.
///
/// # Example
/// A hold of 100 N that falls to zero in 10 ms from 0.31 s on is at 90 N after 1 ms.
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{reversal_time, Basis, Zeroed};
/// use relent::trace::Trace;
/// let times = vec![0.0, 0.01, 0.02, 0.11, 0.21, 0.31, 0.32, 0.4];
/// let trace = Trace::new(times, vec![0.0, 400.0, 100.0, 100.0, 100.0, 100.0, 0.0, 0.0])?;
/// let record = Zeroed::raw(&trace)?;
/// let stop = Ok((Second(0.01), Basis::Force));
/// let (Second(at), _) = reversal_time(&trace, &record, Second(0.0), &stop, &Ok(Second(0.3175)), Newton(25.0))?;
/// assert!((at - 0.311).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn reversal_time(
    trace: &Trace,
    record: &Zeroed<'_>,
    contact: Second,
    stop: &Measured<(Second, Basis)>,
    release: &Measured<Second>,
    contact_level: Newton,
) -> Measured<(Second, Basis)> {
    let (stop, basis) = (*stop)?;
    let stands = (contact + stop).get();
    let away = match basis {
        Basis::Speed => {
            let speed = logged(record.times(), trace.speed_mm_s.as_ref());
            Some(speed_away(from(&speed, stands)))
        }
        Basis::Position => {
            let position = logged(record.times(), trace.position_mm.as_ref());
            Some(position_away(from(&position, stands)))
        }
        Basis::Force | Basis::Declared => None,
    };
    if let Some(away) = away {
        return away
            .map(|t| (Second(t) - contact, basis))
            .ok_or(Unmeasured::NeverReverses);
    }
    let released = (contact + (*release)?).get();
    let at = match hold_level(record, stands, released, contact_level.get()) {
        None => stands,
        Some(hold) => unloading(record, released, UNLOADING_SHARE * hold).max(stands),
    };
    Ok((Second(at) - contact, Basis::Force))
}

/// Median of F over the middle half of the time from stop to release; `None` where there is no hold.
fn hold_level(record: &Zeroed<'_>, stop: f64, release: f64, contact_level: f64) -> Option<f64> {
    let length = release - stop;
    if length < LEAST_HOLD_S {
        return None;
    }
    let from = record.index_at(stop + length / 4.0);
    let to = record.index_at(release - length / 4.0);
    let level = median(record.forces().get(from..to)?, &mut Vec::new())?;
    (level > contact_level).then_some(level)
}

/// The last instant up to `release` at which F is at least `level`.
fn unloading(record: &Zeroed<'_>, release: f64, level: f64) -> f64 {
    let (times, forces) = (record.times(), record.forces());
    let end = record.index_at(release);
    match forces[..end].iter().rposition(|f| *f >= level) {
        Some(i) if i + 1 < forces.len() => {
            super::crossings::instant(times, forces, i, level).min(release)
        }
        _ => release,
    }
}

/// First instant from which every speed is negative for 20 ms.
fn speed_away(speed: &[(f64, f64)]) -> Option<f64> {
    let mut start: Option<f64> = None;
    for (t, v) in speed {
        if *v >= 0.0 {
            start = None;
            continue;
        }
        let began = *start.get_or_insert(*t);
        if t - began >= STEADY_S {
            return Some(began);
        }
    }
    None
}

/// First instant from which the position falls and does not rise again for 20 ms.
fn position_away(position: &[(f64, f64)]) -> Option<f64> {
    let mut start: Option<f64> = None;
    for pair in position.windows(2) {
        let ((t, p), (later, next)) = (pair[0], pair[1]);
        if next > p {
            start = None;
        } else if next < p {
            start.get_or_insert(t);
        }
        if let Some(began) = start
            && later - began >= STEADY_S
        {
            return Some(began);
        }
    }
    None
}
