//! Static force: what is left after the permitted dynamic period.

use super::zeroed::Zeroed;
use super::{Measured, Method, Unmeasured};
use crate::quantity::{Newton, Second};

/// The static force F_s (N): the greatest F in (t_c + T, t_c + R] with the longest permitted dynamic period T (0.75 s) and
/// the prescribed record R (5 s).
///
/// # Quantities
/// `contact` (s from the first sample); T, R and the static level from `method`.
///
/// # Errors
/// [`Unmeasured`] if the record ends before t_c + R and has not exceeded the static level after t_c + T by then: what it would
/// have shown is not known. Where it has, the value is a lower bound. Also if no sample lies in the window.
///
/// # Source
/// EN 12453, F_s (second-hand).
///
/// # Example
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{static_force, Method, Zeroed};
/// use relent::trace::Trace;
/// let method = Method {
///     profile: "example".to_owned(),
///     contact_level: Newton(25.0),
///     static_level: Newton(150.0),
///     residual_level: Newton(25.0),
///     effective_level: Newton(50.0),
///     dynamic_period: Second(0.75),
///     record: Second(5.0),
///     low_pass: None,
/// };
/// let trace = Trace::new(vec![0.0, 0.75, 1.0, 5.0, 5.5], vec![0.0, 400.0, 90.0, 80.0, 95.0])?;
/// assert_eq!(static_force(&Zeroed::raw(&trace)?, Second(0.0), &method), Ok(Newton(90.0)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn static_force(record: &Zeroed<'_>, contact: Second, method: &Method) -> Measured<Newton> {
    let from = contact + method.dynamic_period;
    let to = contact + method.record;
    let window = record.times().partition_point(|t| *t <= from.get())
        ..record.times().partition_point(|t| *t <= to.get());
    let force = record
        .greatest(window.start, window.end)
        .map(|i| Newton(record.forces()[i]));
    let complete = record.end() >= to.get();
    match force {
        Some(force) if complete || force > method.static_level => Ok(force),
        Some(_) | None if !complete => Err(Unmeasured::RecordTooShort {
            ends_s: record.end() - contact.get(),
            needs_s: method.record.get(),
        }),
        Some(_) | None => Err(Unmeasured::NoSampleBetween {
            from_s: method.dynamic_period.get(),
            to_s: method.record.get(),
        }),
    }
}
