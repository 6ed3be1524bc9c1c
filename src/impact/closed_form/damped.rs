//! A leaf whose motion loses energy on the way in.

use crate::impact::{ImpactError, SpringHit};
use crate::quantity::Newton;

/// Greatest force on the spring when a viscous loss acts on the leaf.
///
/// With ω_d = ω √(1 − ζ²), standstill at t* = atan2(v ω_d, ζ ω v − F_m/m) / ω_d in (0, π/ω_d), and there
/// F = F_m + e^(−ζωt) ((k v/ω_d − F_m ζω/ω_d) sin ω_d t − F_m cos ω_d t). Without a push this is
/// v √(m k) exp(−ζ/√(1 − ζ²) · atan(√(1 − ζ²)/ζ)).
///
/// # Quantities
/// in: a [`SpringHit`], damping ratio ζ (0 ≤ ζ < 1, of critical, no unit); out: force in the spring (N), without that of the
/// damper.
///
/// # Holds when
/// the loss acts between leaf and ground (track, rollers, gear), so that the gauge feels the spring alone.
///
/// # Errors
/// [`ImpactError::OutOfRange`] for a damping ratio outside 0 ≤ ζ < 1.
///
/// # Source
/// m ẍ + 2 ζ √(m k) ẋ + k x = F_m, the step response of an underdamped oscillator with an initial speed; derived here.
///
/// # Example
/// ```
/// # use relent::impact::{SpringHit, closed_form};
/// # use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
/// # let (m, v, k) = (Kilogram(200.0), MillimetrePerSecond(200.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(300.0), k)?;
/// let undamped = closed_form::damped_peak_force(&hit, 0.0)?;
/// assert!((undamped - closed_form::peak_force(&hit)).get().abs() < 1e-9);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
pub fn damped_peak_force(hit: &SpringHit, damping_ratio: f64) -> Result<Newton, ImpactError> {
    check_damping_ratio(damping_ratio)?;
    let omega = hit.angular_frequency();
    let damped = omega * (1.0 - damping_ratio.powi(2)).sqrt();
    let (inertial, push) = (hit.inertial_force().get(), hit.drive().get());
    // Both arguments times √(m k), so that they are forces times a rate.
    let angle = (inertial * damped).atan2(omega * (damping_ratio * inertial - push));
    let sine = (inertial * omega - push * damping_ratio * omega) / damped;
    let decay = (-damping_ratio * omega * angle / damped).exp();
    Ok(Newton(
        push + decay * (sine * angle.sin() - push * angle.cos()),
    ))
}

/// Refuses a damping ratio at which nothing swings.
pub(in crate::impact) fn check_damping_ratio(value: f64) -> Result<(), ImpactError> {
    if (0.0..1.0).contains(&value) {
        return Ok(());
    }
    Err(ImpactError::OutOfRange {
        what: "damping ratio",
        unit: "of critical",
        value,
        least: 0.0,
        most: 1.0,
    })
}
