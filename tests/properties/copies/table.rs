//! What is found of the ways to alter a log, and the false alarms on genuine pairs, counted.

use std::fmt::Write as _;

use relent::limitation::fingerprint::{Fingerprint, pairs, pairs_by_index};
use relent::quantity::Newton;
use relent::trace::Trace;

use crate::simulated::altered;
use crate::simulated::hits::{LOGGERS, Logger, motion, record};

/// How many simulated gates and hits are counted.
#[derive(Clone, Copy)]
pub(crate) struct Size {
    pub(crate) gates: u64,
    /// Hits of each gate; each is compared with each other.
    pub(crate) hits: u64,
    /// Hits of each gate that are altered in every way.
    pub(crate) altered: u64,
}

/// What was counted for one logger.
pub(crate) struct Counted {
    pub(crate) logger: Logger,
    /// Pairs of genuine hits of the same gate.
    pub(crate) pairs: usize,
    /// How many of them are taken for copies.
    pub(crate) alarms: usize,
    /// Greatest correlation among them, and the same in standard deviations.
    pub(crate) greatest: (f64, f64),
    /// Hits that were altered.
    pub(crate) altered: usize,
    pub(crate) ways: Vec<Way>,
}

/// What was found of one way to alter a log.
#[derive(Clone)]
pub(crate) struct Way {
    pub(crate) name: &'static str,
    pub(crate) found: usize,
    /// How many of these the index of an archive leads to.
    pub(crate) by_index: usize,
    /// Sum of the correlations.
    correlation: f64,
}

pub(crate) fn fingerprint(trace: &Trace) -> Option<Fingerprint> {
    let (times, forces) = (trace.times(), trace.forces());
    let resolution = trace.resolution().map_or(0.0, Newton::get);
    Fingerprint::of(times.as_slice()?, forces.as_slice()?, resolution)
}

/// Counts for every logger.
pub(crate) fn count(size: Size) -> Vec<Counted> {
    let gates: Vec<Vec<_>> = (0..size.gates)
        .map(|gate| (0..size.hits).map(|hit| motion(gate, hit)).collect())
        .collect();
    let mut counted = Vec::new();
    for (nth, logger) in LOGGERS.iter().enumerate() {
        let mut of_logger = Counted {
            logger: *logger,
            pairs: 0,
            alarms: 0,
            greatest: (0.0, 0.0),
            altered: 0,
            ways: Vec::new(),
        };
        for (gate, motions) in gates.iter().enumerate() {
            let seed = |hit: usize| ((gate * 1000 + hit) * 100 + nth) as u64;
            let hits = motions.iter().enumerate();
            let traces: Vec<Trace> = hits
                .map(|(hit, motion)| record(motion, logger, seed(hit)))
                .collect();
            of_logger.genuine(&traces);
            for (hit, trace) in traces.iter().take(size.altered as usize).enumerate() {
                of_logger.altered(trace, seed(hit));
            }
        }
        counted.push(of_logger);
    }
    counted
}

impl Counted {
    fn genuine(&mut self, traces: &[Trace]) {
        let prints: Vec<Fingerprint> = traces
            .iter()
            .map(|trace| fingerprint(trace).unwrap())
            .collect();
        for (nth, one) in prints.iter().enumerate() {
            for other in &prints[..nth] {
                let likeness = one.likeness(other);
                self.pairs += 1;
                self.alarms += usize::from(likeness.is_of_copies());
                if likeness.deviations > self.greatest.1 {
                    self.greatest = (likeness.correlation, likeness.deviations);
                }
            }
        }
    }

    fn altered(&mut self, trace: &Trace, seed: u64) {
        let own = fingerprint(trace).unwrap();
        self.altered += 1;
        for (nth, (name, altered)) in altered::all(trace, &self.logger, seed).iter().enumerate() {
            if self.ways.len() == nth {
                self.ways.push(Way {
                    name,
                    found: 0,
                    by_index: 0,
                    correlation: 0.0,
                });
            }
            let Some(print) = fingerprint(altered) else {
                continue;
            };
            let both = [&own, &print];
            self.ways[nth].found += pairs(&both).len();
            self.ways[nth].by_index += pairs_by_index(&both).len();
            self.ways[nth].correlation += own.likeness(&print).correlation;
        }
    }

    /// How many ways are found in at least a share of the altered hits.
    pub(crate) fn ways_found(&self, share: f64) -> usize {
        let enough = |way: &&Way| way.found as f64 >= share * self.altered as f64;
        self.ways.iter().filter(enough).count()
    }
}

const HEAD: &str = "# Copies\n\n\
What the comparison of noise and steps (`src/limitation/fingerprint`) finds of 31 ways to make one log look like another hit, and how\n\
often it takes two genuine hits for copies. Hits are simulated with the mechanical model (`tests/properties/simulated`): gates drawn at\n\
random, and hits of one gate that differ in speed (standard deviation 0.8 %), drive force (1 %), loss (5 %) and delay (3 %), and in phase,\n\
zero, drift and noise of the gauge. 1 kHz where no rate is named. Written by `cargo bench --bench detectors`, which takes a minute;\n\
`cargo test` counts a part of it anew.\n";

/// The report.
pub(crate) fn render(counted: &[Counted]) -> String {
    let mut page = HEAD.to_owned();
    let pairs: usize = counted.iter().map(|one| one.pairs).sum();
    let alarms: usize = counted.iter().map(|one| one.alarms).sum();
    let _ = writeln!(
        page,
        "\n## Genuine hits\n\n{alarms} of {pairs} pairs of genuine hits of the same gate are taken for copies. Where a log has no noise, two hits of one gate may\n\
         agree in every step, offset apart, by chance: nothing in such logs tells them from a copy.\n\n\
         | logger | pairs | taken for copies | greatest correlation | in standard deviations |\n|---|---:|---:|---:|---:|"
    );
    for one in counted {
        let (correlation, deviations) = one.greatest;
        let _ = writeln!(
            page,
            "| {} | {} | {} | {correlation:.2} | {deviations:.1} |",
            one.logger.name, one.pairs, one.alarms
        );
    }
    page.push_str("\n## Altered logs\n\nShare of the altered logs that are found among the logs of a gate (per cent) / by the index of an archive / mean correlation of the noise.\n\n| way | ");
    let names: Vec<&str> = counted.iter().map(|one| one.logger.name).collect();
    let _ = writeln!(
        page,
        "{} |\n|---|{}",
        names.join(" | "),
        "---:|".repeat(counted.len())
    );
    for nth in 0..counted[0].ways.len() {
        let cells: Vec<String> = counted
            .iter()
            .map(|one| cell(one, &one.ways[nth]))
            .collect();
        let _ = writeln!(
            page,
            "| {} | {} |",
            counted[0].ways[nth].name,
            cells.join(" | ")
        );
    }
    let found = |share: f64| -> String {
        let counts: Vec<String> = counted
            .iter()
            .map(|one| one.ways_found(share).to_string())
            .collect();
        counts.join(" | ")
    };
    let _ = writeln!(
        page,
        "| **ways found in at least half of the logs, of 31** | {} |",
        found(0.5)
    );
    let _ = writeln!(page, "| **in at least nine tenths** | {} |", found(0.9));
    page
}

fn cell(one: &Counted, way: &Way) -> String {
    let share = |count: usize| 100 * count / one.altered;
    let correlation = way.correlation / one.altered as f64;
    format!(
        "{} / {} / {correlation:.2}",
        share(way.found),
        share(way.by_index)
    )
}
