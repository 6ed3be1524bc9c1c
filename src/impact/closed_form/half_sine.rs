//! The half-sine pulse: a hit without a push.

use std::f64::consts::PI;

use crate::impact::{ImpactError, positive};
use crate::quantity::Newton;

/// Time-mean of a half-sine pulse between its two crossings of a level; `None` if the pulse stays below it.
///
/// F̄ = 2 P cos θ / (π − 2 θ), θ = asin(L / P)
///
/// # Quantities
/// in: peak P (N, > 0), level L (N, ≥ 0); out: mean force (N). The length of the pulse does not matter.
///
/// # Holds when
/// the pulse is a half-sine; at L = P it tends to P, which is returned.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a peak of 0 or less.
///
/// # Source
/// ∫ P sin dθ between the crossings over their distance; derived here. "Effective force" of the bus-door rules (UN R107, from
/// memory) is this mean with L = 50 N.
pub fn half_sine_effective_force(
    peak: Newton,
    level: Newton,
) -> Result<Option<Newton>, ImpactError> {
    positive("peak force", Newton::SYMBOL, peak.get())?;
    if level > peak {
        return Ok(None);
    }
    if level == peak {
        return Ok(Some(peak));
    }
    let angle = (level / peak).max(0.0).asin();
    Ok(Some(Newton(
        2.0 * peak.get() * angle.cos() / (PI - 2.0 * angle),
    )))
}
