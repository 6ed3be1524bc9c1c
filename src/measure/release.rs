//! Release: the leaf leaves the gauge for good.

use super::crossings::Stay;
use super::{Measured, Unmeasured};
use crate::quantity::Second;

/// The release t_r (s after contact): the last downward crossing of the contact level, after which F stays below it to the
/// end of the record.
///
/// # Quantities
/// `contact` (s from the first sample); `stays`: every stay above the contact level, short ones too.
///
/// # Errors
/// [`Unmeasured`] if the record ends above the level.
///
/// # Source
/// common practice, no source.
///
/// # Example
/// ```
/// use relent::quantity::Second;
/// use relent::measure::{crossings, release, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// let stays = crossings::stays(&Zeroed::raw(&trace)?, 25.0);
/// assert_eq!(release(Second(0.25), &stays), Ok(Second(1.5)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn release(contact: Second, stays: &[Stay]) -> Measured<Second> {
    stays
        .last()
        .and_then(|stay| stay.to)
        .map(|to| Second(to) - contact)
        .ok_or(Unmeasured::NotReleased)
}
