//! Zero, noise and drift.

use crate::check::{Check, Tolerance, hold};
use crate::records::{HOLD, SCIPY, STRAIGHT, measured, sampled, scipy, straight};
use relent::measure::{Unmeasured, Zeroed, Zeroing, zero};
use relent::quantity::Newton;
use relent::trace::Trace;

/// Median and noise of random values as SciPy has them; offset and drift of straight lines.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for record in scipy().record {
        let trace = opening(&record.forces_n);
        let zero = zero(
            &trace,
            &Zeroed::raw(&trace).unwrap(),
            Newton(25.0),
            Zeroing::NotDeclared,
        );
        for (what, expected, computed) in [
            (
                "median",
                record.median_n,
                1000.0 * zero.value.unwrap().get(),
            ),
            (
                "1.4826 x median absolute deviation",
                record.noise_n,
                1000.0 * zero.noise.unwrap().get(),
            ),
        ] {
            all.push(Check {
                what: format!("random record {}: {what}", record.seed),
                source: SCIPY,
                expected,
                computed,
                unit: "N",
                tolerance: Tolerance::Relative(1e-12),
            });
        }
    }
    let drifting = |t: f64| straight(&HOLD, t) + if t < 0.8 { 3.5 } else { 5.0 };
    let response = measured(&sampled(drifting, 1000.0, 6.0));
    for (what, expected, computed) in [
        (
            "offset of 3.5 N: zero",
            3.5,
            response.zero.value.unwrap().get(),
        ),
        (
            "offset of 3.5 N, later 5 N: drift",
            1.5,
            response.zero.drift.unwrap().get(),
        ),
    ] {
        all.push(Check {
            what: what.to_owned(),
            source: STRAIGHT,
            expected,
            computed,
            unit: "N",
            tolerance: Tolerance::Absolute(1e-12),
        });
    }
    all
}

/// A thousandth of the values as the quiet stretch of a record: 300 samples within 50 ms, so that all of them are the opening, and a hit 20 ms later.
fn opening(values: &[f64]) -> Trace {
    let quiet = (0..values.len()).map(|i| i as f64 * 0.050 / 299.0);
    let times: Vec<f64> = quiet.chain([0.071, 0.072, 0.073]).collect();
    let forces: Vec<f64> = values.iter().map(|f| f / 1000.0).chain([1e5; 3]).collect();
    Trace::new(times, forces).unwrap()
}

#[test]
fn zero_noise_and_drift_are_median_statistics() {
    hold(&checks(), 8);
}

#[test]
fn a_record_without_a_quiet_stretch_has_no_zero_and_its_forces_are_lower_bounds() {
    let late = sampled(|t| straight(&HOLD, t + 0.19) + 2.0, 1000.0, 6.0);
    let response = measured(&late);
    assert!(response.zero.value.is_err());
    assert_eq!(response.zero.subtracted, Newton(2.0));
    assert!((response.peak.unwrap().force.get() - 600.0).abs() < 1e-9);
}

#[test]
fn a_record_that_opens_on_a_leaf_at_rest_against_the_gauge_takes_no_zero_from_it() {
    let pressing = sampled(|t| if t < 1.0 { 300.0 } else { 0.0 }, 1000.0, 6.0);
    let response = measured(&pressing);
    let opened = Unmeasured::RestsLower {
        opens_n: 300.0,
        rests_n: 0.0,
    };
    assert_eq!(response.zero.value, Err(opened));
    assert_eq!(response.contact, Err(Unmeasured::StartsInContact));
    assert_eq!(response.peak.unwrap().force, Newton(300.0));
}
