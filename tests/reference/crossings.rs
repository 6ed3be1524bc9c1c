//! Crossings of a level.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, RATES, SCIPY, TOUCH_S, scipy};
use relent::measure::{Zeroed, crossings};

/// Roots of the piecewise straight line, and the instant at which the driven hit reaches 150 N.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for record in scipy().record {
        let trace = record.trace();
        let raw = Zeroed::raw(&trace).unwrap();
        let found: Vec<f64> = crossings::stays(&raw, 150.0)
            .iter()
            .flat_map(|stay| {
                (stay.first > 0)
                    .then_some(stay.from)
                    .into_iter()
                    .chain(stay.to)
            })
            .collect();
        assert_eq!(found.len(), record.crossings_s.len());
        for (expected, computed) in record.crossings_s.iter().zip(found) {
            all.push(Check {
                what: format!("random record {}: crossing of 150 N", record.seed),
                source: SCIPY,
                expected: *expected,
                computed,
                unit: "s",
                tolerance: Tolerance::Absolute(1e-12),
            });
        }
    }
    for rate in RATES {
        all.push(Check {
            what: format!("200 kg, 0.2 m/s, 300 N: 150 N reached after first touch at {rate} Hz"),
            source: CLOSED_FORM,
            expected: 0.001_493,
            computed: DRIVEN.measured(rate).static_crossings[0].get() - TOUCH_S,
            unit: "s",
            tolerance: Tolerance::Absolute(1.5e-6),
        });
    }
    all
}

#[test]
fn crossings_are_the_roots_of_the_straight_lines() {
    let count: usize = scipy()
        .record
        .iter()
        .map(|record| record.crossings_s.len())
        .sum();
    assert!(count > 20, "{count}");
    hold(&checks(), count + 2);
}
