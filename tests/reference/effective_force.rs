//! Effective force.

use std::f64::consts::PI;

use crate::check::{Check, Tolerance, hold};
use crate::records::{RATES, measured, sampled};

/// Half-sines of 100 ms between their 50 N crossings.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for (peak, newtons) in [(150.0, 114.887), (200.0, 146.914), (300.0, 210.784)] {
        for rate in RATES {
            let pulse = |t: f64| match t - 0.2 {
                s if (0.0..0.1).contains(&s) => peak * (PI * s / 0.1).sin(),
                _ => 0.0,
            };
            all.push(Check {
                what: format!("half-sine of {peak} N, 50 N threshold, at {rate} Hz"),
                source: "closed form: peak * 2 cos(a) / (pi - 2a), a = asin(50/peak), printed digits",
                expected: newtons,
                computed: measured(&sampled(pulse, rate, 6.0)).effective_force.unwrap().get(),
                unit: "N",
                tolerance: Tolerance::Absolute(5e-4 + 0.03 * (1000.0 / rate).powi(2)),
            });
        }
    }
    all
}

#[test]
fn the_effective_force_is_the_mean_between_the_crossings() {
    hold(&checks(), 6);
}
