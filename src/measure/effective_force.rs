//! Effective force: the mean over the pulse.

use super::crossings::stays;
use super::integral::force_time;
use super::zeroed::Zeroed;
use super::{Measured, Unmeasured, finite};
use crate::quantity::Newton;

/// The effective force (N): the time-mean of F over a pulse, from its upward to its downward crossing of the level,
/// (1/T) ∫ F dt by trapezoids. Of several pulses, the greatest.
///
/// # Quantities
/// `level` (N; 50 N in UN R107).
///
/// # Holds when
/// the pulse lasts at least 2 samples and 1 ms. A pulse that is cut by the start or the end of the record has no mean.
///
/// # Errors
/// [`Unmeasured`] if no pulse is complete.
///
/// # Source
/// UN Regulation No. 107, effective force between the 50 N crossings (memory). A greatest of several pulses is this
/// project's reading: the regulation speaks of one.
///
/// # Example
/// A triangle of 200 N has, between its 50 N crossings, the mean (50 + 200)/2 N.
/// ```
/// use relent::quantity::Newton;
/// use relent::measure::{effective_force, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0, 3.0, 4.0], vec![0.0, 100.0, 200.0, 100.0, 0.0])?;
/// assert_eq!(effective_force(&Zeroed::raw(&trace)?, Newton(50.0)), Ok(Newton(125.0)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn effective_force(record: &Zeroed<'_>, level: Newton) -> Measured<Newton> {
    let greatest = stays(record, level.get())
        .iter()
        .filter(|stay| stay.lasts(record) && !stay.starts_before_the_record())
        .filter_map(|stay| Some((stay.from, stay.to?)))
        .map(|(from, to)| force_time(record, from, to) / (to - from))
        .max_by(f64::total_cmp)
        .ok_or(Unmeasured::NoCompletePulse {
            level_n: level.get(),
        })?;
    finite(greatest).map(Newton)
}
