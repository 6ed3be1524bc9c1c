//! One hit saved as several.

use relent::limitation::Print;
use relent::trace::Trace;

use super::site::{self, Site};
use super::{Row, row};
use crate::simulated::altered;
use crate::simulated::hits::{Logger, Noise};

const CLASS: &str = "Copies";
const LOG: &str = "closing-50-50-1.csv";
const OTHER: &str = "closing-50-50-2.csv";

/// The gauge of the demo, near enough.
const LOGGER: Logger = Logger {
    name: "demo",
    noise: Noise::White(0.5),
    step: 0.1,
    rate: 1000.0,
};

pub(super) fn rows() -> Vec<Row> {
    let honest = Site::honest();
    let trace = honest.trace(LOG);
    let mut rows = vec![row(
        CLASS,
        "honest twin: 27 hits",
        "within",
        honest.outcome(),
    )];
    for (way, altered) in altered::all(&trace, &LOGGER, 1) {
        let mut site = honest.clone();
        site.put(OTHER, &altered.times().to_vec(), &altered.forces().to_vec());
        rows.push(row(CLASS, way, "undecided: copy", site.outcome_by("copy")));
    }
    let mut trimmed = honest.clone();
    for (nth, (name, _)) in honest.logs.iter().enumerate() {
        let cut = |values: Vec<f64>| values[nth..].to_vec();
        trimmed.put(
            name,
            &cut(trace.times().to_vec()),
            &cut(trace.forces().to_vec()),
        );
    }
    let one = "one hit as 27 logs, a row cut off each";
    rows.push(row(
        CLASS,
        one,
        "undecided: copy",
        trimmed.outcome_by("copy"),
    ));
    let mut before = honest.clone();
    before.earlier = site::first_visit();
    let twin = "honest twin: with the logs of the first visit";
    rows.push(row(CLASS, twin, "within", before.outcome()));
    let mut old = trace.forces().to_vec();
    old.iter_mut().for_each(|force| *force /= 0.9);
    before.earlier[5].print = Print::of(&Trace::new(trace.times().to_vec(), old).unwrap());
    let scaled = "a hit of the first visit, scaled by 0.9";
    rows.push(row(
        CLASS,
        scaled,
        "undecided: copy",
        before.outcome_by("copy"),
    ));
    rows
}
