//! Dynamic period: reading (b), from contact to the last fall below the static level.

use super::crossings::Stay;
use super::zeroed::Zeroed;
use crate::quantity::Second;

/// The dynamic period T_d (s): from contact to the last downward crossing of the static level; 0 if it is never exceeded.
///
/// # Quantities
/// `contact` (s from the first sample); `stays`: every stay above the static level. A record that ends above the level gives
/// the time to its last sample, a lower bound.
///
/// # Holds when
/// the record covers what the profile prescribes. A leaf that bounces has one period over all its touches, longer than the
/// time above the level.
///
/// # Source
/// EN 12445:2000, T_d read as "below 150 N within 0.75 s of contact" (second-hand).
///
/// # Example
/// ```
/// use relent::quantity::Second;
/// use relent::measure::{crossings, dynamic_period, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 300.0, 0.0])?;
/// let record = Zeroed::raw(&trace)?;
/// let stays = crossings::stays(&record, 150.0);
/// assert_eq!(dynamic_period(&record, Second(0.25), &stays), Second(1.25));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn dynamic_period(record: &Zeroed<'_>, contact: Second, stays: &[Stay]) -> Second {
    let last = stays
        .last()
        .map_or(f64::NEG_INFINITY, |stay| stay.end(record));
    Second((last - contact.get()).max(0.0))
}
