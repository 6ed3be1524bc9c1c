//! Stop time.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, RATES, STRAIGHT, measured, sampled, straight};

/// The leaf stands still where the spring is deflected most.
pub fn checks() -> Vec<Check> {
    RATES
        .map(|rate| {
            let response = measured(&sampled(|t| straight(&HOLD, t), rate, 6.0));
            Check {
                what: format!("hit of 600 N: first maximum after contact at {rate} Hz"),
                source: STRAIGHT,
                expected: 0.020 - 25.0 / 30_000.0,
                computed: response.stop.unwrap().0.get(),
                unit: "s",
                tolerance: Tolerance::Absolute(1e-9),
            }
        })
        .into()
}

#[test]
fn the_stop_is_the_first_maximum() {
    hold(&checks(), 2);
}
