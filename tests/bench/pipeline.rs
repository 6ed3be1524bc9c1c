//! Benchmarks of the stages, apart: read, measure, assess, report.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod reading;

use divan::Bencher;
use relent::gate::{self, GateFile};
use relent::impact::demo;
use relent::ingest::{self, Answers};
use relent::limits::{self, Profile};
use relent::measure::{GaugeFacts, Method, Zeroing, measure};
use relent::quantity::{Newton, NewtonPerMillimetre, Second};
use relent::readiness::{built_in, readiness};
use relent::report::{self, Budgets, RecordDigest};
use relent::trace::Trace;
use relent::visit::{Log, assess};
use relent::words::{Language, Words};

fn main() {
    divan::main();
}

/// A hit of 2000 N at 1 kHz over 6 s with a hold of 80 N and a rounding to 0.1 N.
fn record() -> Trace {
    let times: Vec<f64> = (0..6000).map(|i| f64::from(i) / 1000.0).collect();
    let forces: Vec<f64> = times
        .iter()
        .enumerate()
        .map(|(i, t)| {
            let hit = match t - 0.5 {
                s if (0.0..0.0628).contains(&s) => 2000.0 * (50.0 * s).sin(),
                s if (0.0628..1.0).contains(&s) => 80.0,
                _ => 0.0,
            };
            let ripple = f64::from((i * 7919 % 13) as u32) / 10.0;
            ((hit + ripple) * 10.0).round() / 10.0
        })
        .collect();
    Trace::new(times, forces).unwrap()
}

#[divan::bench]
fn measure_6000_samples(bencher: Bencher<'_, '_>) {
    let trace = record();
    let method = Method {
        profile: "bench".to_owned(),
        contact_level: Newton(25.0),
        static_level: Newton(150.0),
        residual_level: Newton(25.0),
        effective_level: Newton(50.0),
        dynamic_period: Second(0.75),
        record: Second(5.0),
        low_pass: None,
    };
    let gauge = GaugeFacts {
        spring_rate: Some(NewtonPerMillimetre(500.0)),
        zeroing: Zeroing::NotDeclared,
        declared_speed: None,
    };
    bencher.bench(|| measure(divan::black_box(&trace), &method, &gauge));
}

/// The second visit of the demo gate, ready to be assessed: 27 hits.
fn visit() -> (GateFile, Profile, Vec<Log>) {
    let files = demo::files().unwrap();
    let inner = |path: &str| path.strip_prefix("visit-2/").map(str::to_owned);
    let bytes = files
        .iter()
        .find(|file| file.path == "visit-2/gate.toml")
        .unwrap()
        .bytes
        .clone();
    let gate = gate::read(&bytes).unwrap().file;
    let logs: Vec<String> = files
        .iter()
        .filter_map(|file| inner(&file.path)?.strip_prefix("logs/").map(str::to_owned))
        .collect();
    let placed = gate::names::place(&logs, gate.logs.as_ref().unwrap(), &gate.gate).unwrap();
    let load = |hit: gate::names::PlacedLog| {
        let path = format!("visit-2/logs/{}", hit.file);
        let bytes = files
            .iter()
            .find(|file| file.path == path)
            .unwrap()
            .bytes
            .clone();
        Log {
            file: hit.file,
            point: hit.point,
            repeat: hit.repeat,
            bytes: Ok(bytes),
        }
    };
    let profile = limits::profile(&gate.assessment.profile).unwrap();
    (gate, profile, placed.hits.into_iter().map(load).collect())
}

#[divan::bench]
fn read_27_logs(bencher: Bencher<'_, '_>) {
    let (_, _, logs) = visit();
    bencher.bench(|| {
        logs.iter()
            .map(|log| {
                ingest::read(log.bytes.as_ref().unwrap(), &Answers::default())
                    .unwrap()
                    .runs
                    .len()
            })
            .sum::<usize>()
    });
}

#[divan::bench]
fn assess_27_hits(bencher: Bencher<'_, '_>) {
    bencher
        .with_inputs(visit)
        .bench_values(|(gate, profile, logs)| {
            let readiness = readiness(&gate, built_in());
            assess(gate, profile, logs, &Answers::default(), &[], readiness)
        });
}

#[divan::bench]
fn report_27_hits(bencher: Bencher<'_, '_>) {
    let (gate, profile, logs) = visit();
    let readiness = readiness(&gate, built_in());
    let assessment = assess(gate, profile, logs, &Answers::default(), &[], readiness);
    bencher.bench(|| {
        report::html(
            Words::of(Language::English),
            divan::black_box(&assessment),
            &RecordDigest::assessment("0"),
            Budgets::Nearest,
        )
        .unwrap()
    });
}
