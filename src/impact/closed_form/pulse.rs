//! A leaf with a constant push on one linear spring.

use std::f64::consts::FRAC_PI_2;

use crate::impact::{ImpactError, SpringHit, metre_per_second, newton_per_metre, positive};
use crate::quantity::{
    Joule, Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre, NewtonSecond, Second,
};

/// Greatest force on the spring.
///
/// F_d = F_m + √(F_m² + v² m k)
///
/// # Quantities
/// in: a [`SpringHit`]; out: force (N, ≥ 2 F_m).
///
/// # Holds when
/// the drive pushes with F_m until the peak, the spring is linear and nothing is lost on the way in.
///
/// # Source
/// Energy balance ½ m v² + F_m x = ½ k x² at standstill; derived here.
///
/// # Example
/// ```
/// # use relent::impact::{SpringHit, closed_form};
/// # use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
/// # let (m, v, k) = (Kilogram(200.0), MillimetrePerSecond(200.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(300.0), k)?;
/// let by_hand = 300.0 + (300.0_f64.powi(2) + 0.2 * 0.2 * 200.0 * 500e3).sqrt();
/// assert!((closed_form::peak_force(&hit).get() - by_hand).abs() < 1e-9);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
#[must_use]
pub fn peak_force(hit: &SpringHit) -> Newton {
    hit.drive() + hit.amplitude()
}

/// Time from contact to the greatest force.
///
/// t = (π/2 + φ) / ω, φ = atan(F_m / (v √(m k)))
///
/// # Quantities
/// in: a [`SpringHit`]; out: time (s).
///
/// # Holds when
/// as for [`peak_force`].
///
/// # Source
/// F(t) = F_m + R sin(ωt − φ) is greatest at ωt − φ = π/2; derived here.
///
/// # Example
/// ```
/// # use relent::impact::{SpringHit, closed_form};
/// # use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
/// # let (m, v, k) = (Kilogram(200.0), MillimetrePerSecond(200.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(0.0), k)?;
/// assert!((closed_form::time_to_peak(&hit).get() - std::f64::consts::PI / 100.0).abs() < 1e-12);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
#[must_use]
pub fn time_to_peak(hit: &SpringHit) -> Second {
    Second((FRAC_PI_2 + hit.phase()) / hit.angular_frequency())
}

/// Time from contact until the leaf leaves the spring again for the first time.
///
/// T = (π + 2 φ) / ω: twice the time to the peak, as the pulse is symmetric.
///
/// # Quantities
/// in: a [`SpringHit`]; out: time (s).
///
/// # Holds when
/// as for [`peak_force`], and the drive pushes to the end of the contact.
///
/// # Source
/// Zeros of F_m + R sin(ωt − φ); derived here.
#[must_use]
pub fn contact_time(hit: &SpringHit) -> Second {
    time_to_peak(hit) * 2.0
}

/// Time from contact until the force first reaches a level; `None` if the pulse stays below it.
///
/// t = (φ + asin((F* − F_m) / R)) / ω
///
/// # Quantities
/// in: a [`SpringHit`], level F* (N, ≥ 0); out: time (s).
///
/// # Holds when
/// as for [`peak_force`]; a level of 0 or less is reached at contact.
///
/// # Source
/// F(t) = F* solved on the rising side; derived here.
#[must_use]
pub fn time_to_level(hit: &SpringHit, level: Newton) -> Option<Second> {
    if level > peak_force(hit) {
        return None;
    }
    let share = (level - hit.drive()) / hit.amplitude();
    let angle = hit.phase() + share.clamp(-1.0, 1.0).asin();
    Some(Second(angle.max(0.0) / hit.angular_frequency()))
}

/// Time for which one contact stays above a level; 0 if the pulse stays below it.
///
/// T = (π − 2 asin((F* − F_m) / R)) / ω
///
/// # Quantities
/// in: a [`SpringHit`], level F* (N, ≥ 0); out: time (s).
///
/// # Holds when
/// as for [`contact_time`], which it equals for a level of 0.
///
/// # Source
/// F(t) = F* solved on both sides of the peak; derived here.
///
/// # Example
/// A drive force equal to the level gives half a period, whatever the speed:
/// ```
/// # use relent::impact::{SpringHit, closed_form};
/// # use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
/// # let (m, v, k) = (Kilogram(80.0), MillimetrePerSecond(250.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(150.0), k)?;
/// let half_period = std::f64::consts::PI / hit.angular_frequency();
/// let above = closed_form::time_above(&hit, Newton(150.0));
/// assert!((above.get() - half_period).abs() < 1e-12);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
#[must_use]
pub fn time_above(hit: &SpringHit, level: Newton) -> Second {
    match time_to_level(hit, level) {
        Some(reached) => contact_time(hit) - reached * 2.0,
        None => Second(0.0),
    }
}

/// Energy stored in a spring under a force.
///
/// E = F² / (2 k)
///
/// # Quantities
/// in: force (N), spring rate (N/mm, > 0); out: energy (J, ≥ 0).
///
/// # Holds when
/// the spring is linear from 0.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a rate of 0 or less.
///
/// # Source
/// ∫ F dx of a linear spring.
pub fn energy_in_spring(force: Newton, rate: NewtonPerMillimetre) -> Result<Joule, ImpactError> {
    positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
    Ok(Joule(force.get().powi(2) / (2.0 * newton_per_metre(rate))))
}

/// Impulse on the spring from contact to release.
///
/// J = ∫ F dt = 2 m v + F_m T
///
/// # Quantities
/// in: a [`SpringHit`]; out: impulse (N·s).
///
/// # Holds when
/// as for [`contact_time`]: the leaf leaves as fast as it came.
///
/// # Source
/// Balance of momentum over one contact; derived here.
///
/// # Example
/// ```
/// # use relent::impact::{SpringHit, closed_form};
/// # use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
/// # let (m, v, k) = (Kilogram(200.0), MillimetrePerSecond(200.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(0.0), k)?;
/// assert!((closed_form::impulse(&hit).get() - 80.0).abs() < 1e-12);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
#[must_use]
pub fn impulse(hit: &SpringHit) -> NewtonSecond {
    let bounced = 2.0 * hit.mass().get() * metre_per_second(hit.speed());
    NewtonSecond(bounced + hit.drive().get() * contact_time(hit).get())
}

/// Greatest approach speed that keeps the peak at a limit; `None` if the push alone exceeds it.
///
/// v = √((L² − 2 L F_m) / (m k))
///
/// # Quantities
/// in: mass m (kg), drive force F_m (N), spring rate k (N/mm), limit L (N, > 0); out: speed (mm/s).
///
/// # Holds when
/// as for [`peak_force`], of which it is the inverse. A push of more than L/2 passes the limit from standstill already.
///
/// # Errors
/// [`ImpactError`] for a mass, rate or limit that is not positive or a negative drive force.
///
/// # Source
/// (L − F_m)² = F_m² + v² m k; derived here.
///
/// # Example
/// ```
/// # use relent::impact::closed_form::greatest_speed;
/// # use relent::quantity::{Kilogram, Newton, NewtonPerMillimetre};
/// let speed = greatest_speed(Kilogram(200.0), Newton(0.0), NewtonPerMillimetre(500.0), Newton(400.0))?;
/// assert!(speed.is_some_and(|v| (v.get() - 40.0).abs() < 1e-9));
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
pub fn greatest_speed(
    mass: Kilogram,
    drive: Newton,
    rate: NewtonPerMillimetre,
    limit: Newton,
) -> Result<Option<MillimetrePerSecond>, ImpactError> {
    let hit = SpringHit::new(mass, MillimetrePerSecond(0.0), drive, rate)?;
    positive("limit", Newton::SYMBOL, limit.get())?;
    let left = limit.get() * (limit.get() - 2.0 * hit.drive().get());
    let stiff = mass.get() * newton_per_metre(rate);
    Ok((left >= 0.0).then(|| MillimetrePerSecond((left / stiff).sqrt() * 1e3)))
}

/// Greatest drive force that keeps the peak at a limit; `None` if inertia alone exceeds it.
///
/// F_m = (L² − v² m k) / (2 L)
///
/// # Quantities
/// in: a [`SpringHit`] (its drive force is not used), limit L (N, > 0); out: force (N).
///
/// # Holds when
/// as for [`peak_force`], of which it is the inverse.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a limit of 0 or less.
///
/// # Source
/// (L − F_m)² = F_m² + v² m k; derived here.
pub fn greatest_drive(hit: &SpringHit, limit: Newton) -> Result<Option<Newton>, ImpactError> {
    positive("limit", Newton::SYMBOL, limit.get())?;
    let left = limit.get().powi(2) - hit.inertial_force().get().powi(2);
    Ok((left >= 0.0).then(|| Newton(left / (2.0 * limit.get()))))
}

/// Spring rate of all that gives way that explains a peak of a leaf of known mass; `None` if the push alone explains more.
///
/// k = F_d (F_d − 2 F_m) / (m v²)
///
/// # Quantities
/// in: peak (N, > 0), a [`SpringHit`] (its rate is not used; its speed must be > 0); out: spring rate (N/mm).
///
/// # Holds when
/// as for [`peak_force`], of which it is the inverse. An edge that has gone solid makes it come out between soft and stiff.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a peak or a speed of 0 or less.
///
/// # Source
/// (F_d − F_m)² = F_m² + v² m k; derived here.
pub fn rate_from_peak(
    peak: Newton,
    hit: &SpringHit,
) -> Result<Option<NewtonPerMillimetre>, ImpactError> {
    positive("peak force", Newton::SYMBOL, peak.get())?;
    positive(
        "approach speed",
        MillimetrePerSecond::SYMBOL,
        hit.speed().get(),
    )?;
    let left = peak.get() * (peak.get() - 2.0 * hit.drive().get());
    let per_rate = hit.mass().get() * metre_per_second(hit.speed()).powi(2);
    Ok((left > 0.0).then(|| NewtonPerMillimetre(left / per_rate / 1e3)))
}

/// Relative change of the peak when the gauge's spring is stiffer or softer than it should be.
///
/// (F_m + √(F_m² + v² m k (1 + ε))) / F_d − 1; for an inertial peak √(1 + ε) − 1
///
/// # Quantities
/// in: a [`SpringHit`], relative change ε of the rate (0.1 for +10 %, > −1); out: relative change of the peak.
///
/// # Holds when
/// as for [`peak_force`], with a peak greater than 0.
///
/// # Errors
/// [`ImpactError`] for ε of −1 or less.
///
/// # Source
/// [`peak_force`] at two rates.
pub fn peak_change_with_rate(hit: &SpringHit, relative_change: f64) -> Result<f64, ImpactError> {
    let changed = hit.on_spring(hit.rate() * (1.0 + relative_change))?;
    Ok(peak_force(&changed) / peak_force(hit) - 1.0)
}
