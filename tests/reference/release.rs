//! Release.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, FREE};

/// From the upward to the last downward crossing of 25 N.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for (case, hit) in [
        ("200 kg, 0.2 m/s", FREE),
        ("200 kg, 0.2 m/s, 300 N", DRIVEN),
    ] {
        for (rate, tolerance) in [(1000.0, 5e-4), (10_000.0, 1e-6)] {
            all.push(Check {
                what: format!("{case}: release after contact at {rate} Hz"),
                source: CLOSED_FORM,
                expected: hit.down(25.0) - hit.up(25.0),
                computed: hit.measured(rate).release.unwrap().get(),
                unit: "s",
                tolerance: Tolerance::Absolute(tolerance),
            });
        }
    }
    all
}

#[test]
fn release_is_the_last_crossing_of_25_newtons() {
    hold(&checks(), 4);
}
