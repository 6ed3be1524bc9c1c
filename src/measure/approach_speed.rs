//! Approach speed: how fast the leaf came.

use super::motion::logged;
use super::zeroed::Zeroed;
use super::{Basis, Measured, Unmeasured, finite};
use crate::quantity::{MillimetrePerSecond, Second};
use crate::trace::Trace;

/// Time before contact over which the speed is taken.
const BEFORE_S: f64 = 0.100;

/// The approach speed v (mm/s), and what it was read from: over the last 100 ms before contact the mean of the speed channel,
/// or the slope of the straight line fitted to the position channel by least squares; else the speed that the gate file declares.
///
/// # Quantities
/// `contact` (s from the first sample), `declared` (mm/s).
///
/// # Errors
/// [`Unmeasured`] if there is neither a channel with two values in that time nor a declared speed.
///
/// # Source
/// Linear regression, any text of statistics. The 100 ms: this project's own rule.
///
/// # Example
/// ```
/// use relent::quantity::{MillimetrePerSecond, Second};
/// use relent::measure::{approach_speed, Basis, Zeroed};
/// use relent::trace::Trace;
/// let mut trace = Trace::new(vec![0.0, 0.05, 0.1], vec![0.0, 0.0, 50.0])?;
/// trace.position_mm = Some(vec![0.0, 10.0, 20.0].into());
/// let record = Zeroed::raw(&trace)?;
/// let (MillimetrePerSecond(speed), basis) = approach_speed(&trace, &record, &Ok(Second(0.1)), None)?;
/// assert!((speed - 200.0).abs() < 1e-9 && basis == Basis::Position);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn approach_speed(
    trace: &Trace,
    record: &Zeroed<'_>,
    contact: &Measured<Second>,
    declared: Option<MillimetrePerSecond>,
) -> Measured<(MillimetrePerSecond, Basis)> {
    if let Ok(Second(contact)) = contact {
        let speed = logged(record.times(), trace.speed_mm_s.as_ref());
        if let values @ [_, _, ..] = before(&speed, *contact) {
            let mean = values.iter().map(|(_, v)| v).sum::<f64>() / values.len() as f64;
            return finite(mean).map(|v| (MillimetrePerSecond(v), Basis::Speed));
        }
        let position = logged(record.times(), trace.position_mm.as_ref());
        if let values @ [_, _, ..] = before(&position, *contact) {
            return finite(slope(values)).map(|v| (MillimetrePerSecond(v), Basis::Position));
        }
    }
    declared
        .map(|speed| (speed, Basis::Declared))
        .ok_or(Unmeasured::NoSpeed)
}

/// The part of a channel in the last 100 ms up to contact.
fn before(channel: &[(f64, f64)], contact: f64) -> &[(f64, f64)] {
    let from = channel.partition_point(|(t, _)| *t < contact - BEFORE_S);
    let to = channel.partition_point(|(t, _)| *t <= contact);
    &channel[from..to]
}

/// Slope of the least-squares line.
fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (t_mean, p_mean) = points.iter().fold((0.0, 0.0), |(t, p), point| {
        (t + point.0 / n, p + point.1 / n)
    });
    let (above, below) = points.iter().fold((0.0, 0.0), |(above, below), (t, p)| {
        (
            above + (t - t_mean) * (p - p_mean),
            below + (t - t_mean).powi(2),
        )
    });
    above / below
}
