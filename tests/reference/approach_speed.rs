//! Approach speed.

use crate::check::{Check, Tolerance, hold};
use crate::records::{FREE, TOUCH_S, measured, sampled};

/// A leaf at 200 mm/s, from its position and from its speed.
pub fn checks() -> Vec<Check> {
    let mut trace = sampled(|t| FREE.force(t - TOUCH_S), 1000.0, 6.0);
    trace.position_mm = Some(trace.times().mapv(|t| 200.0 * (t - TOUCH_S)));
    let by_position = measured(&trace).approach_speed.unwrap();
    trace.speed_mm_s = Some(trace.times().mapv(|_| 200.0));
    let by_speed = measured(&trace).approach_speed.unwrap();
    [
        ("position", by_position.0.get()),
        ("speed", by_speed.0.get()),
    ]
    .map(|(what, computed)| Check {
        what: format!("leaf at 200 mm/s: approach speed from {what}"),
        source: "closed form: slope of a straight line",
        expected: 200.0,
        computed,
        unit: "mm/s",
        tolerance: Tolerance::Relative(1e-9),
    })
    .into()
}

#[test]
fn the_approach_speed_is_the_slope_of_the_position() {
    hold(&checks(), 2);
}
