//! Time above the static level: reading (a) of the dynamic period.

use super::crossings::{Stay, total};
use super::zeroed::Zeroed;
use crate::quantity::Second;

/// The total time T_above (s) in which F is above the static level, over the whole record, crossings interpolated.
///
/// T_above = Σ (to − from) over the stays above the level.
///
/// # Quantities
/// `stays`: every stay above the static level, see [`super::crossings::stays`]. Intervals in which samples are missing add nothing.
///
/// # Holds when
/// the record covers the hit; else it is a lower bound. A straight flank is timed exactly, a half-sine of 62.8 ms at 1 kHz
/// within 0.05 ms (tests/reference/time_above_static.rs).
///
/// # Source
/// EN 12445:2000, T_d read as time above 150 N (second-hand).
///
/// # Example
/// A rise from 0 to 300 N in 1 s and back is above 150 N for 1 s.
/// ```
/// use relent::quantity::Second;
/// use relent::measure::{crossings, time_above_static, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 300.0, 0.0])?;
/// let record = Zeroed::raw(&trace)?;
/// assert_eq!(time_above_static(&record, &crossings::stays(&record, 150.0)), Second(1.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn time_above_static(record: &Zeroed<'_>, stays: &[Stay]) -> Second {
    Second(total(record, stays))
}
