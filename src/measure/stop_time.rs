//! Stop time: when the leaf first stands still.

use super::motion::{STEADY_S, from, logged};
use super::zeroed::Zeroed;
use super::{Basis, Measured, Unmeasured};
use crate::quantity::Second;
use crate::trace::Trace;

/// The stop time t_stop (s after contact), and what it was read from.
///
/// With a speed channel: the first instant after contact at which the speed towards the gauge is ≤ 0. With a position channel:
/// the first instant after contact from which the leaf comes no further for 20 ms. From force alone: the first prominent local
/// maximum after contact, for a spring is deflected furthest where the leaf stands still.
///
/// # Quantities
/// `contact` (s from the first sample); `maxima`: indices of the maxima whose prominence is at least the greater of 6 × noise
/// and 5 % of F_d.
///
/// # Holds when
/// from force: the gauge is a spring and the support does not give way.
///
/// # Errors
/// [`Unmeasured`] if the leaf does not stop within the record.
///
/// # Source
/// Mechanics of a spring gauge. The 20 ms and the prominence: this project's own rules.
///
/// # Example
/// ```
/// use relent::quantity::Second;
/// use relent::measure::{stop_time, Basis, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 0.1, 0.2, 0.3], vec![0.0, 200.0, 400.0, 50.0])?;
/// let stop = stop_time(&trace, &Zeroed::raw(&trace)?, Second(0.05), &[2])?;
/// assert_eq!(stop, (Second(0.2 - 0.05), Basis::Force));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn stop_time(
    trace: &Trace,
    record: &Zeroed<'_>,
    contact: Second,
    maxima: &[usize],
) -> Measured<(Second, Basis)> {
    let Second(start) = contact;
    let speed = logged(record.times(), trace.speed_mm_s.as_ref());
    if let [first, .., _] = from(&speed, start) {
        return by_speed(&speed, first.0)
            .map(|t| (Second((t - start).max(0.0)), Basis::Speed))
            .ok_or(Unmeasured::NeverStops {
                basis: Basis::Speed,
            });
    }
    let position = logged(record.times(), trace.position_mm.as_ref());
    if let after @ [_, .., _] = from(&position, start) {
        return by_position(after)
            .map(|t| (Second(t - start), Basis::Position))
            .ok_or(Unmeasured::NeverStops {
                basis: Basis::Position,
            });
    }
    let first = record.index_at(start);
    let top = maxima
        .iter()
        .find(|i| **i >= first)
        .ok_or(Unmeasured::NeverStops {
            basis: Basis::Force,
        })?;
    Ok((Second(record.times()[*top] - start), Basis::Force))
}

/// First instant at or after `start` at which the speed is not positive, between the samples on a straight line.
fn by_speed(speed: &[(f64, f64)], start: f64) -> Option<f64> {
    let first = speed.partition_point(|(t, _)| *t < start);
    let i = first + speed[first..].iter().position(|(_, v)| *v <= 0.0)?;
    let (t, v) = speed[i];
    Some(match i.checked_sub(1).map(|before| speed[before]) {
        Some((t0, v0)) if v0 > 0.0 => t0 + v0 / (v0 - v) * (t - t0),
        _ => t,
    })
}

/// First instant from which no later position within 20 ms is greater.
fn by_position(position: &[(f64, f64)]) -> Option<f64> {
    let last = position.last()?.0;
    let mut i = 0;
    while position[i].0 + STEADY_S <= last {
        let (t, p) = position[i];
        let window = position[i..]
            .iter()
            .take_while(|(later, _)| *later <= t + STEADY_S);
        match window.enumerate().find(|(_, (_, further))| *further > p) {
            None => return Some(t),
            Some((run, _)) => i += run,
        }
    }
    None
}
