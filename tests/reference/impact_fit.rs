//! The fit of a leaf to a measured pulse against SciPy's `curve_fit` on the same samples.
//!
//! `fixtures/reference/impact_fit.toml` holds samples and SciPy's results; the script that made it and the versions are named in
//! its head.

use relent::impact::fit::fit;
use relent::quantity::{MillimetrePerSecond, NewtonPerMillimetre};
use serde::Deserialize;

use crate::check::{Check, Tolerance, hold};

const SCIPY: &str = "SciPy 1.17.1 curve_fit on the same noisy samples";
const TRUTH: &str = "the numbers that the noisy samples were made from, closed form";

#[derive(Deserialize)]
struct File {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    rate_n_per_mm: f64,
    true_mass_kg: f64,
    true_speed_mm_s: f64,
    true_contact_s: f64,
    mass_kg: f64,
    speed_mm_s: f64,
    drive_n: f64,
    residual_n: f64,
    times_s: Vec<f64>,
    forces_n: Vec<f64>,
}

pub fn checks() -> Vec<Check> {
    let text = include_str!("../../fixtures/reference/impact_fit.toml");
    let file: File = toml::from_str(text).unwrap();
    file.case.iter().flat_map(of_case).collect()
}

fn of_case(case: &Case) -> Vec<Check> {
    let rate = NewtonPerMillimetre(case.rate_n_per_mm);
    let pulse = fit(&case.times_s, &case.forces_n).unwrap();
    let fitted = pulse.with_rate(rate).unwrap();
    let at_true_speed = pulse
        .with_speed(MillimetrePerSecond(case.true_speed_mm_s))
        .unwrap();
    let row = |what, source, (expected, unit), computed, tolerance| Check {
        what: format!("{}: {what}", case.name),
        source,
        expected,
        computed,
        unit,
        tolerance,
    };
    let same = Tolerance::Relative(1e-5);
    // Noise of 0.5 N on pulses of 500 N and more.
    let near = Tolerance::Relative(0.02);
    let (mass, speed) = (fitted.mass.get(), fitted.speed.get());
    vec![
        row("mass", SCIPY, (case.mass_kg, "kg"), mass, same),
        row("speed", SCIPY, (case.speed_mm_s, "mm/s"), speed, same),
        row(
            "push",
            SCIPY,
            (case.drive_n, "N"),
            pulse.push.get(),
            Tolerance::Absolute(1e-3),
        ),
        row(
            "residual",
            SCIPY,
            (case.residual_n, "N"),
            pulse.residual.get(),
            same,
        ),
        row("mass", TRUTH, (case.true_mass_kg, "kg"), mass, near),
        row("speed", TRUTH, (case.true_speed_mm_s, "mm/s"), speed, near),
        row(
            "spring rate from the speed",
            TRUTH,
            (case.rate_n_per_mm, "N/mm"),
            at_true_speed.rate.get(),
            near,
        ),
        row(
            "contact",
            TRUTH,
            (case.true_contact_s, "s"),
            pulse.contact.get(),
            Tolerance::Absolute(2e-4),
        ),
    ]
}

#[test]
fn a_fitted_leaf_is_the_one_that_scipy_finds() {
    hold(&checks(), 24);
}
