//! What is found of clipped tops, of fewer true samples and of lone samples, and the false alarms on honest records, counted.

use std::fmt::Write as _;

use relent::impact::simulate::{Drive, Model, Motion, simulate};
use relent::impact::{Edge, Nose, SpringHit};
use relent::limitation::plateau::{AtRest, plateau};
use relent::limitation::{Filling, fewer_samples, lone_samples};
use relent::quantity::{
    Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};
use relent::trace::Trace;

use crate::simulated::chance::Chance;
use crate::simulated::hits::{LOGGERS, Logger, Noise, motion, record, rounded};

/// Shares of the peak at which a hit is cut off.
const CUTS: [f64; 6] = [0.4, 0.7, 0.9, 0.95, 0.98, 0.99];
/// Rows of the log for each true sample.
const ROWS: [usize; 4] = [2, 3, 5, 10];

/// How a top is cut off.
#[derive(Clone, Copy, PartialEq)]
#[expect(
    clippy::enum_variant_names,
    reason = "where the noise comes in is what they differ by"
)]
pub(crate) enum Cut {
    /// By the range of the logger: noise and hit alike.
    WithItsNoise,
    /// Before the noise comes in.
    BeforeTheNoise,
    /// Wherever the hit is higher, there is noise of 0.3 N about one value.
    WithNewNoise,
}

/// What was counted for one logger, of so many gates.
pub(crate) struct Counted {
    pub(crate) logger: Logger,
    pub(crate) gates: u64,
    /// Honest hits, and honest holds at the force limit of the drive, that are taken for clipped.
    pub(crate) clipped_alarms: u64,
    pub(crate) held_at_limit_alarms: u64,
    /// Found of the cut hits: by the way of the cut, by its share.
    pub(crate) clipped: [[u64; CUTS.len()]; 3],
    /// Honest hits taken for held or interpolated.
    pub(crate) fewer_alarms: u64,
    /// Found with the right number of rows: held, interpolated.
    pub(crate) fewer: [[u64; ROWS.len()]; 2],
    /// Honest hits with a lone sample.
    pub(crate) lone_alarms: u64,
    /// Found of a sample of 900 N after the hit, and of one half as high again as the peak in its place.
    pub(crate) lone: [u64; 2],
}

/// A leaf whose losses let it come to rest at the push of its drive, without a peak above it.
fn held_at_limit(gate: u64) -> Motion {
    let mut chance = Chance::new(77 + gate);
    let hit = SpringHit::new(
        Kilogram(chance.between(60.0, 500.0)),
        MillimetrePerSecond(chance.between(30.0, 180.0)),
        Newton(chance.between(120.0, 600.0)),
        NewtonPerMillimetre(500.0),
    );
    let rate = NewtonPerMillimetre(chance.between(8.0, 60.0));
    let edge = Edge::new(rate, Millimetre(chance.between(15.0, 80.0)));
    let nose = match chance.uniform() {
        share if share < 0.3 => Nose::Bare,
        _ => Nose::Elastic(edge.unwrap()),
    };
    let model = Model {
        hit: hit.unwrap(),
        nose,
        damping_ratio: chance.between(0.6, 0.98),
        drive: Drive::NeverNotices,
    };
    simulate(&model, Second(7.0), Second(100e-6)).unwrap()
}

/// Counts for every logger.
pub(crate) fn count(gates: u64) -> Vec<Counted> {
    let hits: Vec<Motion> = (0..gates).map(|gate| motion(gate, 0)).collect();
    let holds: Vec<Motion> = (0..gates).map(held_at_limit).collect();
    let of_logger = |(nth, logger): (usize, &Logger)| {
        let mut counted = Counted {
            logger: *logger,
            gates,
            clipped_alarms: 0,
            held_at_limit_alarms: 0,
            clipped: [[0; CUTS.len()]; 3],
            fewer_alarms: 0,
            fewer: [[0; ROWS.len()]; 2],
            lone_alarms: 0,
            lone: [0; 2],
        };
        for gate in 0..gates {
            let seed = gate * 31 + nth as u64;
            let hold = record(&holds[gate as usize], logger, seed);
            let forces = hold.forces().to_vec();
            counted.held_at_limit_alarms += u64::from(is_clipped(&hold, &forces, logger));
            counted.one(&hits[gate as usize], seed);
        }
        counted
    };
    LOGGERS.iter().enumerate().map(of_logger).collect()
}

/// A hit as the logger writes it, and without noise and steps.
struct Hit<'a> {
    trace: Trace,
    forces: Vec<f64>,
    clean: Vec<f64>,
    logger: &'a Logger,
}

impl Counted {
    fn one(&mut self, motion: &Motion, seed: u64) {
        let logger = self.logger;
        let trace = record(motion, &logger, seed);
        let silent = Logger {
            noise: Noise::None,
            step: 1e-6,
            ..logger
        };
        let hit = Hit {
            forces: trace.forces().to_vec(),
            clean: record(motion, &silent, seed).forces().to_vec(),
            trace,
            logger: &logger,
        };
        self.clipped_alarms += u64::from(is_clipped(&hit.trace, &hit.forces, &logger));
        let ways = [Cut::WithItsNoise, Cut::BeforeTheNoise, Cut::WithNewNoise];
        for (way, found) in ways.into_iter().zip(&mut self.clipped) {
            for (share, found) in CUTS.into_iter().zip(found) {
                let cut = hit.cut(way, share, seed);
                *found += u64::from(is_clipped(&hit.trace, &cut, &logger));
            }
        }
        self.fewer_alarms += u64::from(fewer_samples(&hit.forces, logger.step).is_some());
        for (filling, found) in [Filling::Held, Filling::Interpolated]
            .into_iter()
            .zip(&mut self.fewer)
        {
            for (rows, found) in ROWS.into_iter().zip(found) {
                let seen = fewer_samples(&hit.filled(filling, rows), logger.step);
                let right = seen.is_some_and(|seen| {
                    seen.filling == filling && (seen.rows / rows as f64 - 1.0).abs() < 0.15
                });
                *found += u64::from(right);
            }
        }
        self.lone_alarms += u64::from(has_lone(&hit, &hit.forces));
        let (peak, late) = (greatest(&hit.forces), hit.forces.len() * 3 / 4);
        for (nth, (place, force)) in [(late, 900.0), (peak, 1.5 * hit.forces[peak])]
            .into_iter()
            .enumerate()
        {
            let mut forces = hit.forces.clone();
            forces[place] = force;
            self.lone[nth] += u64::from(has_lone(&hit, &forces));
        }
    }
}

impl Hit<'_> {
    fn cut(&self, way: Cut, share: f64, seed: u64) -> Vec<f64> {
        let step = self.logger.step;
        let capacity = share * self.clean[greatest(&self.clean)];
        let mut chance = Chance::new(seed);
        let both = self.forces.iter().zip(&self.clean);
        let cut = both.map(|(force, clean)| match way {
            Cut::WithItsNoise => force.min(capacity),
            Cut::BeforeTheNoise => clean.min(capacity) + force - clean,
            Cut::WithNewNoise if *force >= capacity => capacity + 0.3 * chance.normal(),
            Cut::WithNewNoise => *force,
        });
        cut.map(|force| rounded(force, step)).collect()
    }

    fn filled(&self, filling: Filling, rows: usize) -> Vec<f64> {
        let last = self.forces.len() - 1;
        let fill = |at: usize| {
            let (from, to) = (at / rows * rows, (at / rows * rows + rows).min(last));
            let share = (at - from) as f64 / (to - from).max(1) as f64;
            match filling {
                Filling::Held => self.forces[from],
                Filling::Interpolated => {
                    let force = self.forces[from] + share * (self.forces[to] - self.forces[from]);
                    rounded(force, self.logger.step)
                }
            }
        };
        (0..=last).map(fill).collect()
    }
}

fn greatest(forces: &[f64]) -> usize {
    let places = 0..forces.len();
    let higher = |a: &usize, b: &usize| forces[*a].total_cmp(&forces[*b]).then(b.cmp(a));
    places.max_by(higher).unwrap()
}

/// The forces before the hit: every record has 0.3 s of them.
fn quiet(trace: &Trace) -> usize {
    trace.times().iter().filter(|at| **at < 0.28).count()
}

fn is_clipped(trace: &Trace, forces: &[f64], logger: &Logger) -> bool {
    let before = &forces[..quiet(trace)];
    let zero = before.iter().sum::<f64>() / before.len() as f64;
    let zeroed: Vec<f64> = forces.iter().map(|force| force - zero).collect();
    let rest = AtRest::of(before, logger.step);
    let times = trace.times().to_vec();
    plateau(&times, &zeroed, greatest(&zeroed), &rest, 3).is_some()
}

fn has_lone(hit: &Hit<'_>, forces: &[f64]) -> bool {
    let rest = AtRest::of(&forces[..quiet(&hit.trace)], hit.logger.step);
    let times = hit.trace.times().to_vec();
    !lone_samples(&times, forces, rest.noise_n, rest.step_n).is_empty()
}

const HEAD: &str = "# Detectors\n\n\
What the detectors of clipped tops (`src/limitation/plateau.rs`), of fewer true samples than rows (`fewer_samples.rs`) and of lone samples\n\
(`lone_sample.rs`) find in simulated hits, and how often they speak on honest ones. One hit of each of many gates, drawn at random and\n\
simulated with the mechanical model (`tests/properties/simulated`); 1 kHz where no rate is named. Written by\n\
`cargo bench --bench detectors`; `cargo test` counts a part of it anew.\n";

/// The report.
pub(crate) fn render(counted: &[Counted]) -> String {
    let mut page = HEAD.to_owned();
    let gates = counted[0].gates;
    let _ = writeln!(
        page,
        "\n## Clipped tops\n\nFound of {gates} hits cut off at a share of their peak (per cent): by the range of the logger, noise and hit alike / before the noise\n\
         comes in / with 0.3 N of new noise on the plateau. A cut near the top leaves so little of it flat that it may be rounded. The last columns are\n\
         honest records that are taken for clipped: of {gates} hits, and of {gates} leaves that come to rest at the force limit of their drive.\n\n\
         | logger | {} | hits | holds |\n|---|{}---:|---:|",
        CUTS.map(|cut| format!("{:.0} %", 100.0 * cut)).join(" | "),
        "---:|".repeat(CUTS.len()),
    );
    for one in counted {
        let cells: Vec<String> = (0..CUTS.len())
            .map(|nth| {
                one.clipped
                    .map(|found| share(found[nth], gates))
                    .join(" / ")
            })
            .collect();
        let _ = writeln!(
            page,
            "| {} | {} | {} | {} |",
            one.logger.name,
            cells.join(" | "),
            one.clipped_alarms,
            one.held_at_limit_alarms
        );
    }
    let _ = writeln!(
        page,
        "\n## Fewer true samples than rows\n\nFound with the right distance (per cent): held / joined by straight lines, by the rows for each true sample. Lines are found where their kinks\n\
         show above the rounding: elsewhere the force runs so evenly that little is lost between its true samples.\n\n\
         | logger | {} | honest hits of {gates} |\n|---|{}---:|",
        ROWS.map(|rows| format!("{rows} rows")).join(" | "),
        "---:|".repeat(ROWS.len()),
    );
    for one in counted {
        let cells: Vec<String> = (0..ROWS.len())
            .map(|nth| one.fewer.map(|found| share(found[nth], gates)).join(" / "))
            .collect();
        let _ = writeln!(
            page,
            "| {} | {} | {} |",
            one.logger.name,
            cells.join(" | "),
            one.fewer_alarms
        );
    }
    let _ = writeln!(
        page,
        "\n## Lone samples\n\nFound (per cent) of one sample of 900 N after the hit, and of the highest sample made half as high again. At 200 Hz no sample is\n\
         too fast for a leaf.\n\n| logger | after the hit | at the peak | honest hits of {gates} |\n|---|---:|---:|---:|"
    );
    for one in counted {
        let cells = one.lone.map(|found| share(found, gates)).join(" | ");
        let _ = writeln!(
            page,
            "| {} | {cells} | {} |",
            one.logger.name, one.lone_alarms
        );
    }
    page
}

fn share(count: u64, of: u64) -> String {
    (100 * count / of).to_string()
}
