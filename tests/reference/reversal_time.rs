//! Reversal time.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// The final unloading of the hold passes 90 % of it.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!("hold of 80 N released in 50 ms: 72 N reached at {rate} Hz"),
                source: STRAIGHT,
                expected: 1.05 + 0.050 * 8.0 / 80.0 - 25.0 / 30_000.0,
                computed: response.reversal.unwrap().0.get(),
                unit: "s",
                tolerance: Tolerance::Absolute(1e-9),
            }
        })
        .into()
}

#[test]
fn the_reversal_is_where_the_hold_has_fallen_by_a_tenth() {
    hold(&checks(), 2);
}
