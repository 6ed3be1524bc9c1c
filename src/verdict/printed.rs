//! Numbers as they are printed: with digits that fit the uncertainty, and never against the verdict.

use super::decide::{over, within};
use crate::limits::Limit;

/// Decimals beyond which a double has none of its own.
const MOST_DECIMALS: usize = 17;

/// A value held against a limit, with as many decimals as its expanded uncertainty has in two significant digits (without
/// an uncertainty: to a hundredth of the limit's leading digit), and as many more as are needed so that the printed number
/// stands on the same side of the limit as the value itself.
///
/// # Source
/// JCGM 100:2008, 7.2.6, for the two significant digits.
///
/// # Example
/// ```
/// use relent::limits::profile;
/// use relent::verdict::printed;
/// let profile = profile("en12453-2017")?;
/// let limit = &profile.limits[0]; // 400 N
/// assert_eq!(printed(380.412, limit, Some(21.2)), "380");
/// assert_eq!(printed(400.04, limit, Some(21.2)), "400.04");
/// # Ok::<(), relent::limits::ProfileError>(())
/// ```
#[must_use]
pub fn printed(value: f64, limit: &Limit, expanded: Option<f64>) -> String {
    fixed(value, decimals(value, limit, expanded))
}

/// The decimals with which [`printed`] prints.
pub(super) fn decimals(value: f64, limit: &Limit, expanded: Option<f64>) -> usize {
    let side = |number: f64| {
        (
            over(number, limit.value, limit.bound),
            within(number, limit.value, limit.bound),
        )
    };
    let usable = expanded.filter(|expanded| expanded.is_finite() && *expanded > 0.0);
    let first = match usable {
        Some(expanded) => decimals_of(expanded, 1),
        None => decimals_of(limit.value, 2),
    };
    let agrees = |decimals: &usize| {
        let text = fixed(value, *decimals);
        text.parse().is_ok_and(|number| side(number) == side(value))
    };
    (first..=MOST_DECIMALS)
        .find(agrees)
        .unwrap_or(MOST_DECIMALS)
}

/// A number that is held against nothing, to the decimal place of the leading digit of `step`.
#[must_use]
pub fn printed_plain(value: f64, step: f64) -> String {
    if step.is_finite() && step != 0.0 {
        fixed(value, decimals_of(step.abs(), 0))
    } else {
        value.to_string()
    }
}

/// Decimals that show the leading digit of a number and `further` digits after it.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0..=17 before the cast"
)]
fn decimals_of(number: f64, further: i32) -> usize {
    let decimals = f64::from(further) - number.log10().floor();
    decimals.clamp(0.0, MOST_DECIMALS as f64) as usize
}

/// Fixed decimals, without a negative zero.
pub(super) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.parse() {
        Ok(0.0) => format!("{:.decimals$}", 0.0),
        _ => text,
    }
}
