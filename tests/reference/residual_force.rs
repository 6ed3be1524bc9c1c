//! Residual force.

use crate::check::{Check, Tolerance, hold};
use crate::records::{RATES, STRAIGHT, measured, sampled, straight};

/// A force that falls from 60 N at 5 s after first touch to 0 at 6 s; read from 5 s after contact on.
pub fn checks() -> Vec<Check> {
    let corners = [
        (0.2, 0.0),
        (0.22, 600.0),
        (0.25, 60.0),
        (5.2, 60.0),
        (6.2, 0.0),
    ];
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&corners, t), rate, 6.5));
            // First sample at or after 5 s from contact at 25 N: within one step of 60 N/s below the line.
            let after = 25.0 / 30_000.0;
            Check {
                what: format!("residual force 5 s after contact on a falling force at {rate} Hz"),
                source: STRAIGHT,
                expected: 60.0 - 60.0 * after,
                computed: response.residual_force.unwrap().get(),
                unit: "N",
                tolerance: Tolerance::Between {
                    below: 60.0 / rate + 1e-9,
                    above: 1e-9,
                },
            }
        })
        .into()
}

#[test]
fn the_residual_force_is_the_greatest_from_5_s_on() {
    hold(&checks(), 2);
}
