//! The force that a sliding leaf asks for by rolling friction and slope.

use crate::quantity::{Kilogram, Newton, STANDARD_GRAVITY_M_S2};

/// The force that keeps a leaf moving up a slope: F = m·g·(μ·cos θ + sin θ), tan θ = slope.
///
/// # Quantities
/// `mass` in kg; `friction` μ, the resistance of the rollers as a share of the weight on them; `slope` as rise over run, positive
/// uphill, 0.01 for 1 %; out: N, negative where the leaf runs downhill by itself.
///
/// # Holds when
/// The speed is steady and nothing binds: no inertia, no wind, no seal.
///
/// # Source
/// Statics of a body on an inclined plane; standard gravity 9.806 65 m/s².
///
/// # Example
/// ```
/// use relent::quantity::Kilogram;
/// use relent::readiness::rolling_force;
/// assert_eq!(rolling_force(Kilogram(500.0), 0.02, 0.0).get(), 98.0665);
/// ```
#[must_use]
pub fn rolling_force(mass: Kilogram, friction: f64, slope: f64) -> Newton {
    let angle = slope.atan();
    Newton(mass.get() * STANDARD_GRAVITY_M_S2 * (friction * angle.cos() + angle.sin()))
}

/// The friction μ at which a leaf asks for a force: the model read backwards, μ = F/(m·g·cos θ) − tan θ.
#[must_use]
pub fn friction_of(mass: Kilogram, force: Newton, slope: f64) -> f64 {
    force.get() / (mass.get() * STANDARD_GRAVITY_M_S2 * slope.atan().cos()) - slope
}
