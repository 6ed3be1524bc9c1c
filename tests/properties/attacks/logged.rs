//! What a logger does to the samples: held, interpolated, a lone one among them.

use super::clipped::hit;
use super::site::Site;
use super::{Row, row};

const CLASS: &str = "Held, interpolated and lone samples";
const LOG: &str = "closing-50-50-1.csv";

pub(super) fn rows() -> Vec<Row> {
    let honest = Site::honest();
    // 12 kg at 120 mm/s: 330 N for 16 ms.
    let trace = hit(12.0, 120.0, 30.0, 0.02);
    let forces = trace.forces().to_vec();
    let fill = |fill: &dyn Fn(usize) -> f64| {
        let mut site = honest.clone();
        let filled: Vec<f64> = (0..forces.len()).map(fill).collect();
        site.put(LOG, &trace.times().to_vec(), &filled);
        site
    };
    let last = forces.len() - 1;
    let line = |at: usize, rows: usize| {
        let (from, to) = (at / rows * rows, (at / rows * rows + rows).min(last));
        let share = (at % rows) as f64 / rows as f64;
        let force = forces[from] + share * (forces[to] - forces[from]);
        (force * 10.0).round() / 10.0
    };
    let by = |site: &Site| site.outcome_by("fewer-samples");
    let lone = |place: usize, force: f64| {
        let site = fill(&|at| if at == place { force } else { forces[at] });
        site.outcome_by("lone-sample")
    };
    let top = (0..last)
        .max_by(|a, b| forces[*a].total_cmp(&forces[*b]))
        .unwrap();
    vec![
        row(
            CLASS,
            "a sensor of 200 readings a second, held",
            "undecided: fewer-samples",
            by(&fill(&|at| forces[at / 5 * 5])),
        ),
        row(
            CLASS,
            "a sensor of 200 readings a second, joined by lines",
            "undecided: fewer-samples",
            by(&fill(&|at| line(at, 5))),
        ),
        row(
            CLASS,
            "honest twin: a sensor as fast as the logger",
            "within",
            by(&fill(&|at| forces[at])),
        ),
        row(
            CLASS,
            "a glitch of one sample of 900 N after the hit",
            "undecided: lone-sample",
            lone(last * 3 / 4, 900.0),
        ),
        row(
            CLASS,
            "a glitch of one sample of 900 N on the top",
            "undecided: lone-sample",
            lone(top, 900.0),
        ),
        row(
            CLASS,
            "honest twin: one sample of 12 N before the hit",
            "within",
            lone(100, 12.0),
        ),
    ]
}
