//! The zero moved between before and after the hit.

use super::{Limitation, Tolerances};
use crate::measure::Response;

/// The drift is more than the profile tolerates and the residual force is not clear of its level by more than the drift.
#[must_use]
pub fn drift(response: &Response, tolerances: &Tolerances) -> Option<Limitation> {
    let drift = response.zero.drift.as_ref().ok()?.get();
    let level = response.method.residual_level.get();
    if drift.abs() <= tolerances.drift_share_of_residual_level * level {
        return None;
    }
    let clear = |force: f64| (force - level).abs() > drift.abs();
    if response
        .residual_force
        .as_ref()
        .is_ok_and(|force| clear(force.get()))
    {
        return None;
    }
    Some(Limitation::Drift {
        drift_n: drift,
        residual_level_n: level,
    })
}
