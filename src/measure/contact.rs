//! Contact: the first instant at which the leaf counts as touching the gauge.

use super::crossings::Stay;
use super::zeroed::Zeroed;
use super::{Measured, Unmeasured};
use crate::quantity::{Newton, Second};

/// The instant of contact t_c (s from the first sample): the first upward crossing of the contact level after which the
/// force stays above it for at least 2 samples and 1 ms.
///
/// # Quantities
/// `touches`: the stays above the contact level that last, see [`touches`].
///
/// # Errors
/// [`Unmeasured`] if the level is never reached for long enough, or the record starts above it.
///
/// # Source
/// measured level and interpolation: common practice, no source; the least stay: this project's own rule against spikes.
///
/// # Example
/// A rise of 100 N in 4 ms from 0.1 s on passes 25 N at 0.101 s.
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{contact, touches, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 0.1, 0.104, 0.108], vec![0.0, 0.0, 100.0, 200.0])?;
/// let record = Zeroed::raw(&trace)?;
/// let Second(at) = contact(&touches(&record, Newton(25.0)))?;
/// assert!((at - 0.101).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn contact(touches: &[Stay]) -> Measured<Second> {
    match touches.first() {
        None => Err(Unmeasured::NoContact),
        Some(first) if first.starts_before_the_record() => Err(Unmeasured::StartsInContact),
        Some(first) => Ok(Second(first.from)),
    }
}

/// Every stay above the contact level that lasts for at least 2 samples and 1 ms: each time the leaf touches the gauge.
#[must_use]
pub fn touches(record: &Zeroed<'_>, level: Newton) -> Vec<Stay> {
    lasting(record, &super::crossings::stays(record, level.get()))
}

/// Those of the stays above the contact level that last.
pub(super) fn lasting(record: &Zeroed<'_>, stays: &[Stay]) -> Vec<Stay> {
    let lasts = |stay: &&Stay| stay.lasts(record);
    stays.iter().filter(lasts).copied().collect()
}
