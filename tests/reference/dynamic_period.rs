//! Dynamic period from contact to the last fall below 150 N.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// The force climbs 30 N/ms and falls 520 N in 30 ms.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!(
                    "600 N falling to 80 N in 30 ms: from 25 N up to 150 N down at {rate} Hz"
                ),
                source: STRAIGHT,
                expected: (0.05 - 0.030 * 70.0 / 520.0) - 25.0 / 30_000.0,
                computed: response.dynamic_period.unwrap().get(),
                unit: "s",
                tolerance: Tolerance::Absolute(1e-9),
            }
        })
        .into()
}

#[test]
fn the_dynamic_period_ends_at_the_last_fall_below_150_newtons() {
    hold(&checks(), 2);
}
