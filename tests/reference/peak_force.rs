//! Peak force and its instant.

use std::f64::consts::PI;

use crate::check::{Check, Tolerance, hold};
use crate::records::{CLOSED_FORM, DRIVEN, FREE, HEAVY, LIGHT, RATES, measured, sampled};

/// The printed values of the closed forms (N, s after first touch), and records sampled at 1 and 10 kHz.
pub fn checks() -> Vec<Check> {
    let cases = [
        ("200 kg, 0.2 m/s", FREE, 2000.0, 0.031_415_9),
        ("200 kg, 0.2 m/s, 300 N", DRIVEN, 2322.375, 0.034_393_7),
        ("80 kg, 0.25 m/s, 150 N", LIGHT, 1738.238, LIGHT.peak_at()),
        ("500 kg, 0.15 m/s, 200 N", HEAVY, 2580.126, 0.052_333_3),
    ];
    let mut all = Vec::new();
    for (case, hit, newtons, at) in cases {
        for rate in RATES {
            let response = hit.measured(rate);
            let peak = response.peak.unwrap();
            all.push(Check {
                what: format!("{case}: peak force at {rate} Hz"),
                source: CLOSED_FORM,
                expected: newtons,
                computed: peak.force.get(),
                unit: "N",
                tolerance: Tolerance::Between {
                    below: hit.loss(rate) + 5e-4,
                    above: 5e-4,
                },
            });
            let contact = response.contact.unwrap().get() - crate::records::TOUCH_S;
            all.push(Check {
                what: format!("{case}: peak after first touch at {rate} Hz"),
                source: CLOSED_FORM,
                expected: at,
                computed: peak.at.unwrap().get() + contact,
                unit: "s",
                tolerance: Tolerance::Absolute(0.5 / rate + 5e-8),
            });
        }
    }
    all.extend(worst_phase());
    all
}

/// A half-sine of 20 ms whose top lies midway between two samples reads low by 1 − cos(π Δt / 2T).
fn worst_phase() -> Vec<Check> {
    [
        (200.0, -7.61, 0.005),
        (500.0, -1.23, 0.005),
        (1000.0, -0.308, 0.0005),
    ]
    .map(|(rate, percent, printed)| {
        let start = 0.2 - 0.01 + 0.5 / rate;
        let pulse = |t: f64| match t - start {
            s if (0.0..0.02).contains(&s) => 1000.0 * (PI * s / 0.02).sin(),
            _ => 0.0,
        };
        let peak = measured(&sampled(pulse, rate, 6.0)).peak.unwrap();
        Check {
            what: format!("half-sine of 20 ms at {rate} Hz, worst phase: loss at the top"),
            source: "closed form: 1 - cos(pi dt / 2T), printed digits",
            expected: percent,
            computed: (peak.force.get() - 1000.0) / 10.0,
            unit: "%",
            tolerance: Tolerance::Absolute(printed),
        }
    })
    .into()
}

#[test]
fn the_peak_is_the_closed_form_s_less_what_sampling_loses() {
    hold(&checks(), 19);
}

#[test]
fn the_half_sine_figure_covers_the_loss_of_the_worst_phase() {
    for rate in [200.0, 500.0, 1000.0] {
        let start = 0.2 - 0.01 + 0.5 / rate;
        let pulse = |t: f64| match t - start {
            s if (0.0..0.02).contains(&s) => 1000.0 * (PI * s / 0.02).sin(),
            _ => 0.0,
        };
        let peak = measured(&sampled(pulse, rate, 6.0)).peak.unwrap();
        let unseen = peak.unseen.get().max(peak.unseen_half_sine.get());
        assert!(
            peak.force.get() + unseen >= 1000.0 - 0.05,
            "{rate} Hz: {peak:?}"
        );
    }
}

#[test]
fn a_second_higher_hump_is_not_hidden_by_the_first() {
    let two = |t: f64| {
        300.0 * (-((t - 0.3) / 0.01).powi(2)).exp() + 420.0 * (-((t - 0.5) / 0.01).powi(2)).exp()
    };
    let peak = measured(&sampled(two, 1000.0, 6.0)).peak.unwrap();
    assert!((peak.force.get() - 420.0).abs() < 1e-9);
    assert_eq!(peak.others.len(), 1);
    assert!((peak.others[0].1.get() - 300.0).abs() < 1e-9);
}
