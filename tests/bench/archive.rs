//! Makes a tree of invented gates for timing `relent archive`: `cargo bench --bench archive -- FOLDER GATES`.
//!
//! Every gate is the demo's second visit under a name of its own, with 27 logs of some 6.4 s at 1 kHz: the model's hits at nine
//! points, through a gauge whose noise, zero and phase differ from log to log, so that no two logs are alike. Then:
//!
//! ```console
//! cargo build --release
//! cargo bench --bench archive -- /some/disk/tree 1000
//! /usr/bin/time -v target/release/relent archive /some/disk/tree --out /some/disk/out --anew     # assess all
//! /usr/bin/time -v target/release/relent archive /some/disk/tree --out /some/disk/out            # nothing changed
//! find /some/disk/tree -type f -print0 | xargs -0 cat | /usr/bin/time -v sha256sum               # reading alone
//! ```
//!
//! For the resumption, end a first run half-way with `timeout -s KILL` and time the second.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use rayon::prelude::*;
use relent::impact::demo;
use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{Drive, Model, Motion, STEP, simulate};
use relent::impact::{Edge, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};
use relent::trace::Trace;

fn main() {
    let wishes: Vec<String> = std::env::args()
        .skip(1)
        .filter(|it| it != "--bench")
        .collect();
    let [folder, gates] = wishes.as_slice() else {
        println!(
            "archive: give a folder and a number of gates: cargo bench --bench archive -- FOLDER GATES"
        );
        return;
    };
    let gates: u64 = gates.parse().expect("a number of gates");
    let hits = hits();
    let file = demo::files().unwrap();
    let text = file
        .iter()
        .find(|it| it.path == "visit-2/gate.toml")
        .unwrap();
    let text = String::from_utf8(text.bytes.clone()).unwrap();
    (0..gates).into_par_iter().for_each(|number| {
        let home = Path::new(folder).join(format!("{:03}/{number:06}", number / 1000));
        write_gate(&home, number, &text, &hits);
    });
    println!("{gates} gates with {} logs each below {folder}", hits.len());
}

/// The motion of each hit, with the name of its log.
fn hits() -> Vec<(String, Motion)> {
    let mut hits = Vec::new();
    for (gap, speed) in [(50, 88.0), (300, 104.0), (500, 118.0)] {
        for (height, mass) in [(50, 420.0), (900, 370.0), (1500, 334.0)] {
            for repeat in 1..=3 {
                let speed = speed * (1.0 + 0.006 * f64::from(repeat - 2));
                let motion = simulate(&model(speed, mass), Second(3.0), STEP).unwrap();
                hits.push((format!("closing-{gap}-{height}-{repeat}.csv"), motion));
            }
        }
    }
    hits
}

fn model(speed: f64, mass: f64) -> Model {
    let edge = Edge::new(NewtonPerMillimetre(14.0), Millimetre(45.0)).unwrap();
    Model {
        hit: SpringHit::new(
            Kilogram(mass),
            MillimetrePerSecond(speed),
            Newton(120.0),
            NewtonPerMillimetre(500.0),
        )
        .unwrap(),
        nose: Nose::Elastic(edge),
        damping_ratio: 0.1,
        drive: Drive::Reacts(demo::reaction(Second(0.044))),
    }
}

fn write_gate(home: &Path, number: u64, text: &str, hits: &[(String, Motion)]) {
    let logs = home.join("logs");
    fs::create_dir_all(&logs).unwrap();
    let name = "Packing yard gate, Quillmere Orchard (invented)";
    assert!(text.contains(name));
    let text = text.replacen(name, &format!("Gate {number:06} (invented)"), 1);
    fs::write(home.join("gate.toml"), text).unwrap();
    for (place, (name, motion)) in hits.iter().enumerate() {
        let seed = number * 1000 + place as u64;
        let share = |of: u64| (seed % of) as f64 / of as f64;
        let gauge = Gauge {
            rate: Hertz(1000.0),
            phase: share(97),
            lead: Second(0.35 + 0.3 * share(89)),
            record: Second(5.9 + 0.3 * share(83)),
            averaging: Averaging::None,
            noise: Newton(0.4),
            seed,
            zero: Newton(2.0 * share(73) - 1.0),
            drift_n_per_s: 0.0,
            capacity: Newton(2000.0),
            resolution: Newton(0.1),
        };
        fs::write(logs.join(name), written(&log(motion, &gauge).unwrap())).unwrap();
    }
}

fn written(trace: &Trace) -> String {
    let mut text = String::from("time (s),force (N)\n");
    let first = trace.times()[0];
    for (time, force) in trace.times().iter().zip(trace.forces()) {
        let _ = writeln!(text, "{:.3},{force:.1}", time - first);
    }
    text
}
