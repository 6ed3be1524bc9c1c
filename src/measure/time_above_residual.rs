//! Time above the residual level.

use super::crossings::{stays, total};
use super::zeroed::Zeroed;
use crate::quantity::{Newton, Second};

/// The total time T_t (s) in which F is above the residual level, over the whole record, crossings interpolated.
///
/// T_t = Σ (to − from) over the stays above the level.
///
/// # Quantities
/// `level` (N). Intervals in which samples are missing add nothing.
///
/// # Holds when
/// the record covers the hit and ends below the level; else it is a lower bound.
///
/// # Source
/// EN 12445:2000, T_t (second-hand).
///
/// # Example
/// A rise from 0 to 100 N in 1 s and back is above 25 N for 1.5 s.
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{time_above_residual, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// assert_eq!(time_above_residual(&Zeroed::raw(&trace)?, Newton(25.0)), Second(1.5));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn time_above_residual(record: &Zeroed<'_>, level: Newton) -> Second {
    Second(total(record, &stays(record, level.get())))
}
