//! Residual force: what still presses at the end.

use super::zeroed::Zeroed;
use super::{Measured, Unmeasured};
use crate::quantity::{Newton, Second};

/// The residual force F_e (N): the greatest F from t_c + R (5 s) to the end of the record.
///
/// # Quantities
/// `contact` (s from the first sample), `period` R (s).
///
/// # Errors
/// [`Unmeasured`] if no sample lies at or after t_c + R.
///
/// # Source
/// EN 12453, force after 5 s (second-hand).
///
/// # Example
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{residual_force, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 5.0, 6.0], vec![0.0, 300.0, 12.0, 14.0])?;
/// let record = Zeroed::raw(&trace)?;
/// assert_eq!(residual_force(&record, Second(0.0), Second(5.0)), Ok(Newton(14.0)));
/// assert!(residual_force(&record, Second(1.5), Second(5.0)).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn residual_force(record: &Zeroed<'_>, contact: Second, period: Second) -> Measured<Newton> {
    let from = record.index_at((contact + period).get());
    record
        .greatest(from, record.times().len())
        .map(|i| Newton(record.forces()[i]))
        .ok_or_else(|| Unmeasured::RecordTooShort {
            ends_s: record.end() - contact.get(),
            needs_s: period.get(),
        })
}
