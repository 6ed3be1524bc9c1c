//! The force to move a leaf by rolling friction and slope.

use relent::quantity::{Kilogram, Newton};
use relent::readiness::{friction_of, rolling_force};

use crate::check::{Check, Tolerance, hold};

/// Body on an inclined plane, F = m·g·(μ·cos θ + sin θ), g = 9.806 65 m/s²; figures computed by hand from the formula.
const STATICS: &str =
    "statics of a body on an inclined plane, m·g·(μ cos θ + sin θ), g = 9.806 65 m/s²";

pub fn checks() -> Vec<Check> {
    let leaf = Kilogram(500.0);
    let cases = [(0.0, 98.067), (0.01, 147.092), (0.04, 293.964)];
    let forces = cases.into_iter().map(|(slope, expected)| Check {
        what: format!("500 kg, μ 0.02, slope {} %", 100.0 * slope),
        source: STATICS,
        expected,
        computed: rolling_force(leaf, 0.02, slope).get(),
        unit: "N",
        tolerance: Tolerance::Absolute(0.0005),
    });
    let back = Check {
        what: "friction of 500 kg that asks for 147.092 N on 1 %".to_owned(),
        source: STATICS,
        expected: 0.02,
        computed: friction_of(leaf, Newton(147.092), 0.01),
        unit: "",
        tolerance: Tolerance::Absolute(1e-6),
    };
    let downhill = Check {
        what:
            "without friction a leaf pulls downhill as hard as it must be held uphill, 3-4-5 slope"
                .to_owned(),
        source: "sin θ = 3/5 where the slope is 3/4",
        expected: -500.0 * 9.806_65 * 0.6,
        computed: rolling_force(leaf, 0.0, -0.75).get(),
        unit: "N",
        tolerance: Tolerance::Relative(1e-12),
    };
    forces.chain([back, downhill]).collect()
}

#[test]
fn the_force_to_move_a_leaf_is_that_of_statics() {
    hold(&checks(), 5);
}
