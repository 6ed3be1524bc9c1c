//! Time above the residual level.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// Up at 30 N/ms, down from 80 N in 50 ms, 1.1 s after first touch.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!("hit with a hold: time above 25 N at {rate} Hz"),
                source: STRAIGHT,
                expected: (1.1 - 0.050 * 25.0 / 80.0) - 25.0 / 30_000.0,
                computed: response.time_above_residual.unwrap().get(),
                unit: "s",
                tolerance: Tolerance::Absolute(1e-9),
            }
        })
        .into()
}

#[test]
fn the_time_above_25_newtons_includes_the_hold() {
    hold(&checks(), 2);
}
