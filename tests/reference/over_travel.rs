//! Over-travel.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, FREE, RATES, TOUCH_S, measured, sampled};

/// 2000 N on 500 N/mm are 4 mm; with a position channel, the mass goes v/ω = 4 mm from first touch.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for rate in RATES {
        let mut trace = sampled(|t| FREE.force(t - TOUCH_S), rate, 6.0);
        let by_force = measured(&trace).over_travel.unwrap();
        trace.position_mm = Some(trace.times().mapv(|t| match t - TOUCH_S {
            s if s < 0.0 => 200.0 * s,
            s if s < FREE.stay() => FREE.force(s) / 500.0,
            s => -200.0 * (s - FREE.stay()),
        }));
        let by_position = measured(&trace).over_travel.unwrap();
        // From contact at 25 N (0.05 mm) on; where the line crosses first touch, contact is early by up to a quarter step.
        for (what, expected, below, above, computed) in [
            (
                "force",
                4.0,
                FREE.loss(rate) / 500.0,
                1e-9,
                by_force.0.get(),
            ),
            (
                "position",
                3.95,
                FREE.loss(rate) / 500.0 + 1e-5,
                0.06,
                by_position.0.get(),
            ),
        ] {
            all.push(Check {
                what: format!("200 kg, 0.2 m/s: over-travel from {what} at {rate} Hz"),
                source: CLOSED_FORM,
                expected,
                computed,
                unit: "mm",
                tolerance: Tolerance::Between { below, above },
            });
        }
    }
    all
}

#[test]
fn the_over_travel_is_the_deflection_of_the_spring() {
    hold(&checks(), 4);
}
