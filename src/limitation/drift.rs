//! The zero moved between before and after the hit.

use super::{Limitation, Tolerances};
use crate::measure::Response;

/// The drift is more than the profile tolerates.
#[must_use]
pub fn drift(response: &Response, tolerances: &Tolerances) -> Option<Limitation> {
    let drift = response.zero.drift.as_ref().ok()?.get();
    let level = response.method.residual_level.get();
    if drift.abs() <= tolerances.drift_share_of_residual_level * level {
        return None;
    }
    Some(Limitation::Drift {
        drift_n: drift,
        residual_level_n: level,
    })
}
