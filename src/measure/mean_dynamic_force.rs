//! Mean dynamic force.

use super::integral::force_time;
use super::zeroed::Zeroed;
use super::{Measured, Unmeasured, finite};
use crate::quantity::{Newton, Second};

/// The mean dynamic force F̄ (N): the time-mean of F over [t_c, t_c + T], F̄ = (1/T) ∫ F dt by trapezoids.
///
/// # Quantities
/// `contact` (s from the first sample), `period` T (s, positive).
///
/// # Holds when
/// no sample is missing in the period; an interval without samples adds nothing, so the mean is then a lower bound.
///
/// # Errors
/// [`Unmeasured`] if the record ends before t_c + T.
///
/// # Source
/// Definition of the mean; trapezoids against `scipy.integrate.trapezoid` in tests/reference/impulse.rs.
///
/// # Example
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{mean_dynamic_force, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// let record = Zeroed::raw(&trace)?;
/// assert_eq!(mean_dynamic_force(&record, Second(0.5), Second(1.0)), Ok(Newton(75.0)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mean_dynamic_force(
    record: &Zeroed<'_>,
    contact: Second,
    period: Second,
) -> Measured<Newton> {
    let to = (contact + period).get();
    if record.end() < to {
        return Err(Unmeasured::RecordTooShort {
            ends_s: record.end() - contact.get(),
            needs_s: period.get(),
        });
    }
    finite(force_time(record, contact.get(), to) / period.get()).map(Newton)
}
