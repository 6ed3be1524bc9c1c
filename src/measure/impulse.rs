//! Impulse of the hit.

use super::integral::force_time;
use super::zeroed::Zeroed;
use super::{Measured, finite};
use crate::quantity::{NewtonSecond, Second};

/// The impulse J (N·s): ∫ F dt from contact to release, by trapezoids.
///
/// # Quantities
/// `contact` (s from the first sample), `release` (s after contact).
///
/// # Holds when
/// no sample is missing in between; an interval without samples adds nothing, so the impulse is then a lower bound. What the
/// gauge takes below the contact level is left out: 0.008 % of a half-sine of 2000 N.
///
/// # Errors
/// [`super::Unmeasured`] if the sum leaves the range of floating-point numbers.
///
/// # Source
/// Definition; trapezoids against `scipy.integrate.trapezoid` in tests/reference/impulse.rs.
///
/// # Example
/// ```
/// use relent::quantity::{NewtonSecond, Second};
/// use relent::measure::{impulse, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// let record = Zeroed::raw(&trace)?;
/// assert_eq!(impulse(&record, Second(0.25), Second(1.5)), Ok(NewtonSecond(93.75)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn impulse(record: &Zeroed<'_>, contact: Second, release: Second) -> Measured<NewtonSecond> {
    let to = (contact + release).get();
    finite(force_time(record, contact.get(), to)).map(NewtonSecond)
}
