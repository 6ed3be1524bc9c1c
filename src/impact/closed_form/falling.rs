//! A weight that falls on a spring: a leaf that comes down, and the textbook check of the model.

use crate::impact::{ImpactError, not_negative, positive};
use crate::quantity::{Millimetre, Newton, NewtonPerMillimetre};

/// Greatest deflection over the one under the weight at rest.
///
/// n = 1 + √(1 + 2 h / δ), δ = W / k
///
/// # Quantities
/// in: weight W (N, > 0), height of fall h (mm, ≥ 0), spring rate k (N/mm, > 0); out: impact factor (no unit, ≥ 2).
///
/// # Holds when
/// nothing is lost and the spring has no mass. The greatest force is n W.
///
/// # Errors
/// [`ImpactError`] for a weight or rate that is not positive or a negative height.
///
/// # Source
/// Gere and Goodno, Mechanics of Materials, section on impact loading (from memory of the book); the same as a
/// hit with F_m = W and v² = 2 g h.
pub fn impact_factor(
    weight: Newton,
    height: Millimetre,
    rate: NewtonPerMillimetre,
) -> Result<f64, ImpactError> {
    positive("weight", Newton::SYMBOL, weight.get())?;
    not_negative("height of fall", Millimetre::SYMBOL, height.get())?;
    positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
    let at_rest = weight.get() / rate.get();
    Ok(1.0 + (1.0 + 2.0 * height.get() / at_rest).sqrt())
}

/// Greatest deflection of a spring under a weight that falls on it.
///
/// δ_max = n W / k
///
/// # Quantities
/// as for [`impact_factor`]; out: deflection (mm).
///
/// # Holds when
/// as for [`impact_factor`].
///
/// # Errors
/// as for [`impact_factor`].
///
/// # Source
/// as for [`impact_factor`].
pub fn falling_weight_deflection(
    weight: Newton,
    height: Millimetre,
    rate: NewtonPerMillimetre,
) -> Result<Millimetre, ImpactError> {
    let factor = impact_factor(weight, height, rate)?;
    Ok(Millimetre(factor * weight.get() / rate.get()))
}
