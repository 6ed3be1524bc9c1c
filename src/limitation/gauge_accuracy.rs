//! A gauge that is less accurate than the profile demands.

use super::{ForceError, Limitation};
use crate::quantity::Newton;

/// How many times its stated error, or its usual expanded uncertainty, a gauge may be wrong that is not fit for the test. This
/// project's own rule: what was never checked can be worse than what was, and seldom by more.
const UNFIT: f64 = 3.0;

/// What a gauge of this error may be wrong by once nothing shows that it is fit.
#[must_use]
pub fn unfit(usual: ForceError) -> ForceError {
    usual.times(UNFIT)
}

/// The gauge's error at a force `at` is greater than the share of it that the profile permits, or is not known: then it counts as
/// three times that share.
#[must_use]
pub fn gauge_accuracy(
    stated: Option<ForceError>,
    required_share: f64,
    at: Newton,
) -> Option<Limitation> {
    let share = stated.map(|error| error.at(at).get() / at.get());
    if share.is_some_and(|share| share <= required_share) {
        return None;
    }
    let as_required = ForceError::of_share(required_share);
    Some(Limitation::GaugeAccuracy {
        accuracy_percent: share.map(|share| 100.0 * share),
        required_percent: as_required.percent,
        at_force_n: at.get(),
        may_err: unfit(stated.unwrap_or(as_required)),
    })
}
