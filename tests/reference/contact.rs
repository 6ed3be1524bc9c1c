//! Contact.

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, FREE, TOUCH_S};

/// The 25 N crossing comes after first touch; at 1 kHz the straight line across first touch places it up to (1 − √q)² Δt off,
/// q the share of a step in which the force climbs to 25 N.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for (case, hit) in [
        ("200 kg, 0.2 m/s", FREE),
        ("200 kg, 0.2 m/s, 300 N", DRIVEN),
    ] {
        let climb = hit.up(25.0);
        for (rate, tolerance) in [
            (1000.0, (1.0 - (climb * 1000.0).sqrt()).powi(2) / 1000.0),
            (10_000.0, 1e-7),
        ] {
            all.push(Check {
                what: format!("{case}: contact (25 N) after first touch at {rate} Hz"),
                source: CLOSED_FORM,
                expected: climb,
                computed: hit.measured(rate).contact.unwrap().get() - TOUCH_S,
                unit: "s",
                tolerance: Tolerance::Absolute(tolerance),
            });
        }
    }
    all
}

#[test]
fn contact_is_the_first_lasting_crossing_of_25_newtons() {
    hold(&checks(), 4);
}

#[test]
fn a_spike_of_one_sample_is_not_a_contact() {
    let spiked = |t: f64| {
        if (t - 0.1).abs() < 1e-9 {
            500.0
        } else {
            FREE.force(t - TOUCH_S)
        }
    };
    let response = crate::records::measured(&crate::records::sampled(spiked, 1000.0, 6.0));
    assert!(response.contact.unwrap().get() > TOUCH_S);
    assert_eq!(response.touches.len(), 1);
}
