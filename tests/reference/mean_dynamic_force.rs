//! Mean dynamic force.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// Area of the straight lines over 0.75 s from contact.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!("hit with a hold of 80 N: mean over 0.75 s at {rate} Hz"),
                source: STRAIGHT,
                expected: {
                    // from 25 N on: climb, fall, hold to 0.75 s after contact
                    let climb = (25.0 + 600.0) / 2.0 * 575.0 / 30_000.0;
                    let fall = (600.0 + 80.0) / 2.0 * 0.030;
                    let held = 80.0 * (0.75 - 575.0 / 30_000.0 - 0.030);
                    (climb + fall + held) / 0.75
                },
                computed: response.mean_dynamic_force.unwrap().get(),
                unit: "N",
                tolerance: Tolerance::Absolute(1e-6),
            }
        })
        .into()
}

#[test]
fn the_mean_dynamic_force_is_the_area_over_the_period() {
    hold(&checks(), 2);
}
