//! Channel frequency class of SAE J211/1.

use crate::check::{Check, Tolerance, hold};
use crate::records::{SCIPY, scipy};
use relent::measure::low_pass::{cfc, two_pass};
use relent::quantity::Hertz;

const SAE: &str = "SAE J211/1 appendix C with the factor 2.0775, computed from the formulas (memory), printed digits";

/// Coefficients in the standard's letters (a0, b1, b2) at 10 and 1 kHz, and a two-pass run.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for (rate, expected) in [
        (
            10_000.0,
            [0.001_452_367_473_55, 1.889_343_224_22, -0.895_152_694_116],
        ),
        (
            1000.0,
            [0.097_184_625_279_4, 0.945_574_009_062, -0.334_312_510_179],
        ),
    ] {
        let section = cfc::section(60.0, Hertz(rate)).unwrap();
        let computed = [section.b[0], -section.a[0], -section.a[1]];
        for (name, (expected, computed)) in ["a0", "b1", "b2"]
            .iter()
            .zip(expected.into_iter().zip(computed))
        {
            all.push(Check {
                what: format!("CFC 60 at {rate} Hz: {name}"),
                source: SAE,
                expected,
                computed,
                unit: "",
                tolerance: Tolerance::Absolute(5e-12),
            });
        }
    }
    let frozen = scipy().low_pass;
    let computed = two_pass(
        &[cfc::section(60.0, Hertz(1000.0)).unwrap()],
        &frozen.signal_n,
    )
    .unwrap();
    let greatest = frozen
        .cfc_60
        .iter()
        .zip(&computed)
        .map(|(e, c)| (e - c).abs())
        .fold(0.0, f64::max);
    assert_eq!(frozen.cfc_60.len(), computed.len());
    all.push(Check {
        what: "CFC 60 forward and back at 1 kHz: greatest difference over 120 samples".to_owned(),
        source: SCIPY,
        expected: 0.0,
        computed: greatest,
        unit: "N",
        tolerance: Tolerance::Absolute(1e-9),
    });
    all
}

#[test]
fn the_channel_frequency_class_is_the_standard_s() {
    hold(&checks(), 7);
}
