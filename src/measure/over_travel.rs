//! Over-travel: how far the leaf goes into the gauge.

use super::motion::{at, from, logged};
use super::zeroed::Zeroed;
use super::{Basis, Measured, Unmeasured, finite};
use crate::quantity::{Millimetre, Newton, NewtonPerMillimetre, Second};
use crate::trace::Trace;

/// The over-travel x (mm), and what it was read from: with a position channel, the furthest position after contact less the
/// position at contact; else the deflection of the gauge's spring at the peak, x = F_d / k.
///
/// # Quantities
/// `contact` (s from the first sample), `peak` (N), `rate` k (N/mm).
///
/// # Holds when
/// from force: the spring is linear and the support does not give way.
///
/// # Errors
/// [`Unmeasured`] if there is neither a position channel nor a spring rate, or no peak.
///
/// # Source
/// Deflection of a linear spring, any text of mechanics.
///
/// # Example
/// ```
/// use relent::quantity::{Millimetre, Newton, NewtonPerMillimetre, Second};
/// use relent::measure::{over_travel, Basis, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0], vec![0.0, 2000.0])?;
/// let record = Zeroed::raw(&trace)?;
/// let travel = over_travel(&trace, &record, &Ok(Second(0.0)), &Ok(Newton(2000.0)), Some(NewtonPerMillimetre(500.0)));
/// assert_eq!(travel, Ok((Millimetre(4.0), Basis::Force)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn over_travel(
    trace: &Trace,
    record: &Zeroed<'_>,
    contact: &Measured<Second>,
    peak: &Measured<Newton>,
    rate: Option<NewtonPerMillimetre>,
) -> Measured<(Millimetre, Basis)> {
    let position = logged(record.times(), trace.position_mm.as_ref());
    if let Ok(Second(contact)) = contact
        && let Some(start) = at(&position, *contact)
        && let Some(furthest) = furthest(from(&position, *contact))
    {
        return finite((furthest - start).max(0.0)).map(|x| (Millimetre(x), Basis::Position));
    }
    let peak = (*peak)?;
    let rate = rate.ok_or(Unmeasured::NoPositionNorSpringRate)?;
    finite(peak.get() / rate.get()).map(|x| (Millimetre(x), Basis::Force))
}

fn furthest(position: &[(f64, f64)]) -> Option<f64> {
    position.iter().map(|(_, p)| *p).max_by(f64::total_cmp)
}
