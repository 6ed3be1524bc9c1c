//! Time above the static level.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, FREE, LIGHT, RATES, SCIPY, scipy};
use relent::measure::{Zeroed, crossings, time_above_static};

/// The printed values of the closed forms, at 1 and 10 kHz; and random smooth records on uneven instants.
pub fn checks() -> Vec<Check> {
    let cases = [
        ("200 kg, 0.2 m/s, 300 N", DRIVEN, 0.065_801_4),
        ("80 kg, 0.25 m/s, 150 N (pi / omega)", LIGHT, 0.039_738_4),
        ("200 kg, 0.2 m/s", FREE, FREE.down(150.0) - FREE.up(150.0)),
    ];
    let mut all = Vec::new();
    for (case, hit, seconds) in cases {
        for rate in RATES {
            all.push(Check {
                what: format!("{case}: time above 150 N at {rate} Hz"),
                source: CLOSED_FORM,
                expected: seconds,
                computed: hit.measured(rate).time_above_static.unwrap().get(),
                unit: "s",
                tolerance: Tolerance::Absolute(2e-9 * (10_000.0 / rate).powi(3) + 5e-8),
            });
        }
    }
    for record in scipy().record {
        let trace = record.trace();
        let raw = Zeroed::raw(&trace).unwrap();
        all.push(Check {
            what: format!("random record {}: time above 150 N", record.seed),
            source: SCIPY,
            expected: record.time_above_s,
            computed: time_above_static(&raw, &crossings::stays(&raw, 150.0)).get(),
            unit: "s",
            tolerance: Tolerance::Absolute(1e-12),
        });
    }
    all
}

#[test]
fn the_time_above_the_static_level_is_the_closed_form_s() {
    hold(&checks(), 9);
}

#[test]
fn a_missing_stretch_above_the_level_is_not_counted() {
    let times = vec![0.0, 0.1, 0.2, 0.3, 1.3, 1.4, 1.5];
    let mut trace =
        relent::trace::Trace::new(times, vec![0.0, 300.0, 300.0, 300.0, 300.0, 300.0, 0.0])
            .unwrap();
    trace.lost.push(relent::trace::Lost {
        after: Some(3),
        line: 5,
        text: "###".to_owned(),
    });
    let raw = Zeroed::raw(&trace).unwrap();
    let time = time_above_static(&raw, &crossings::stays(&raw, 150.0)).get();
    assert!((time - 0.4).abs() < 1e-12, "{time}");
}
