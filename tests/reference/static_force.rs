//! Static force.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// A hold of 80 N from 50 ms to 1.05 s after first touch.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!("hit with a hold of 80 N: static force at {rate} Hz"),
                source: STRAIGHT,
                expected: 80.0,
                computed: response.static_force.unwrap().get(),
                unit: "N",
                tolerance: Tolerance::Absolute(1e-9),
            }
        })
        .into()
}

#[test]
fn the_static_force_is_that_of_the_hold() {
    hold(&checks(), 2);
}
