//! Impulse.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, FREE, RATES, SCIPY, scipy};
use relent::measure::{Zeroed, impulse};
use relent::quantity::Second;

/// Between the crossings of 25 N the free hit gives 80 N·s · cos(asin(25/2000)); SciPy's trapezoids on random records.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for (case, hit) in [
        ("200 kg, 0.2 m/s", FREE),
        ("200 kg, 0.2 m/s, 300 N", DRIVEN),
    ] {
        for rate in RATES {
            all.push(Check {
                what: format!("{case}: impulse between the crossings of 25 N at {rate} Hz"),
                source: CLOSED_FORM,
                expected: hit.impulse_above(25.0),
                computed: hit.measured(rate).impulse.unwrap().get(),
                unit: "N·s",
                tolerance: Tolerance::Absolute(0.02 * 1000.0 / rate),
            });
        }
    }
    for record in scipy().record {
        let trace = record.trace();
        let raw = Zeroed::raw(&trace).unwrap();
        all.push(Check {
            what: format!("random record {}: trapezoidal integral", record.seed),
            source: SCIPY,
            expected: record.trapezoid_ns,
            computed: impulse(&raw, Second(0.0), trace.duration()).unwrap().get(),
            unit: "N·s",
            tolerance: Tolerance::Relative(1e-12),
        });
    }
    all
}

#[test]
fn the_impulse_is_the_closed_form_s() {
    hold(&checks(), 7);
}

#[test]
fn without_the_level_the_free_hit_gives_the_momentum_turned_round() {
    // 2 m v = 80 N·s; the level leaves out 80 · (1 − cos(asin(25/2000))).
    let left_out = 80.0 - FREE.impulse_above(25.0);
    assert!((left_out - 80.0 * (1.0 - (25.0_f64 / 2000.0).asin().cos())).abs() < 1e-12);
    assert!(left_out < 0.0001 * 80.0);
}
