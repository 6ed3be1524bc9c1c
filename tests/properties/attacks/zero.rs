//! Zeros that move, that are hidden by steps, that nobody measured.

use super::site::Site;
use super::{Row, row};
use crate::simulated::hits::rounded;

const CLASS: &str = "Zero";
const LOG: &str = "closing-50-50-1.csv";
const TWELVE_BIT: f64 = 2000.0 / 4096.0;

pub(super) fn rows() -> Vec<Row> {
    let honest = Site::honest();
    let mut coarse = honest.clone();
    for (name, _) in &honest.logs {
        coarse.alter(name, |_, force| rounded(force, TWELVE_BIT));
    }
    let mut coarser = honest.clone();
    for (name, _) in &honest.logs {
        coarser.alter(name, |_, force| rounded(force, 2.0));
    }
    let trace = honest.trace(LOG);
    let contact = trace
        .forces()
        .iter()
        .position(|force| *force > 25.0)
        .unwrap();
    let at = trace.times()[contact];
    let pressing = |tare: f64| {
        let mut site = honest.clone();
        site.alter(LOG, |now, force| match now > at + 0.05 {
            true => force.max(40.0) + tare,
            false => force,
        });
        site.outcome_by("drift")
    };
    let from = |cut: f64, offset: f64| {
        let mut site = honest.clone();
        let kept = trace.times().iter().filter(|now| **now < cut).count();
        let forces: Vec<f64> = trace.forces().iter().map(|force| force + offset).collect();
        site.put(LOG, &trace.times().to_vec()[kept..], &forces[kept..]);
        site.outcome_by("no-zero")
    };
    let row = |attack, expected, actual| row(CLASS, attack, expected, actual);
    vec![
        row(
            "honest twin: 27 logs of a 12-bit gauge, 0.35 to 0.65 N of noise",
            "within",
            coarse.outcome(),
        ),
        row(
            "honest twin: 27 logs in steps of 2 N",
            "within",
            coarser.outcome(),
        ),
        row(
            "40 N that remain, under a tare of −20 N in mid-hit",
            "undecided: drift",
            pressing(-20.0),
        ),
        row("40 N that remain", "over", pressing(0.0)),
        row(
            "started 20 ms before the hit, 20 N above zero",
            "undecided: no-zero",
            from(at - 0.02, 20.0),
        ),
        row(
            "honest twin: started 200 ms before the hit, 20 N above zero",
            "within",
            from(at - 0.2, 20.0),
        ),
    ]
}
