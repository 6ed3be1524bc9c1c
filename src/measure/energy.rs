//! Energy taken by the gauge.

use super::{Measured, finite};
use crate::quantity::{Joule, Newton, NewtonPerMillimetre};

/// The energy E (J) that the gauge's spring holds at the peak: E = F_d² / (2k).
///
/// # Quantities
/// `peak` (N), `rate` k (N/mm); N·mm are millijoules.
///
/// # Holds when
/// the spring is linear up to the peak.
///
/// # Errors
/// [`super::Unmeasured`] if the result is not finite, as for a rate of 0.
///
/// # Source
/// Work of a linear spring, any text of mechanics.
///
/// # Example
/// 400 N on 500 N/mm.
/// ```
/// use relent::quantity::{Joule, Newton, NewtonPerMillimetre};
/// use relent::measure::energy;
/// assert_eq!(energy(Newton(400.0), NewtonPerMillimetre(500.0)), Ok(Joule(0.16)));
/// ```
pub fn energy(peak: Newton, rate: NewtonPerMillimetre) -> Measured<Joule> {
    finite(peak.get() * peak.get() / (2.0 * rate.get()) / 1000.0).map(Joule)
}
