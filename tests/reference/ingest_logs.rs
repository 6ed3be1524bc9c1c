//! Well-formed logs against pandas and polars, value for value, and the units of force and time against their definitions.

use relent::ingest::{Answers, Outcome, read};
use relent::trace::Trace;
use serde_json::Value;

use crate::check::{Check, Tolerance, hold};

const VALUES: &str = include_str!("../../fixtures/reference/ingest_logs.json");
const PEERS: &str =
    "pandas 3.1.1 and polars 2.1.0; script and values fixtures/reference/ingest_logs.py, .json";
const SP811: &str = "NIST SP 811 (2008), appendix B.8: exact factors";
const BIPM: &str = "BIPM, SI brochure, 9th edition: prefixes (table 7), minute and hour (table 8)";

/// The logs that pandas and polars read.
const LOGS: [(&str, &[u8]); 7] = [
    ("plain.csv", include_bytes!("../../fixtures/logs/plain.csv")),
    (
        "german.csv",
        include_bytes!("../../fixtures/logs/german.csv"),
    ),
    (
        "grouped.csv",
        include_bytes!("../../fixtures/logs/grouped.csv"),
    ),
    (
        "quoted.csv",
        include_bytes!("../../fixtures/logs/quoted.csv"),
    ),
    (
        "exponents.txt",
        include_bytes!("../../fixtures/logs/exponents.txt"),
    ),
    (
        "aligned.txt",
        include_bytes!("../../fixtures/logs/aligned.txt"),
    ),
    (
        "long_digits.csv",
        include_bytes!("../../fixtures/logs/long_digits.csv"),
    ),
];

/// Forces and instants of one in each unit, with the definition.
const UNITS: [(&str, &str, f64, &str); 14] = [
    ("s", "N", 1.0, BIPM),
    ("s", "mN", 1e-3, BIPM),
    ("s", "daN", 10.0, BIPM),
    ("s", "kN", 1000.0, BIPM),
    ("s", "kgf", 9.806_65, SP811),
    ("s", "gf", 9.806_65e-3, SP811),
    ("s", "lbf", 4.448_221_615_260_5, SP811),
    ("s", "ozf", 4.448_221_615_260_5 / 16.0, SP811),
    ("ms", "N", 1e-3, BIPM),
    ("µs", "N", 1e-6, BIPM),
    ("ns", "N", 1e-9, BIPM),
    ("min", "N", 60.0, BIPM),
    ("h", "N", 3600.0, BIPM),
    ("sec", "N", 1.0, BIPM),
];

fn trace(log: &[u8]) -> Trace {
    match read(log, &Answers::default()).unwrap().outcome {
        Outcome::Read(trace) => *trace,
        Outcome::Asks(questions) => panic!("asked: {questions:?}"),
    }
}

fn numbers(log: &Value, key: &str) -> Vec<f64> {
    let values = log[key].as_array().unwrap();
    values.iter().map(|value| value.as_f64().unwrap()).collect()
}

fn check(
    what: String,
    source: &'static str,
    expected: f64,
    computed: f64,
    unit: &'static str,
    tolerance: f64,
) -> Check {
    Check {
        what,
        source,
        expected,
        computed,
        unit,
        tolerance: Tolerance::Absolute(tolerance),
    }
}

/// Length, greatest force and greatest difference of every value of one log.
fn against_peers((name, bytes): &(&str, &[u8]), values: &Value) -> Vec<Check> {
    let logs = values["logs"].as_array().unwrap();
    let log = logs.iter().find(|log| log["file"] == *name).unwrap();
    let (times, forces) = (numbers(log, "times_s"), numbers(log, "forces_n"));
    let trace = trace(bytes);
    let (read_times, read_forces) = (trace.times().to_vec(), trace.forces().to_vec());
    let greatest = |values: &[f64]| values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let apart = |a: &[f64], b: &[f64]| {
        a.iter()
            .zip(b)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max)
    };
    vec![
        check(
            format!("{name}: samples"),
            PEERS,
            forces.len() as f64,
            trace.len() as f64,
            "",
            0.0,
        ),
        check(
            format!("{name}: greatest force"),
            PEERS,
            greatest(&forces),
            greatest(&read_forces),
            "N",
            0.0,
        ),
        check(
            format!("{name}: greatest difference of a force"),
            PEERS,
            0.0,
            apart(&forces, &read_forces),
            "N",
            0.0,
        ),
        check(
            format!("{name}: greatest difference of an instant"),
            PEERS,
            0.0,
            apart(&times, &read_times),
            "s",
            0.0,
        ),
    ]
}

fn units() -> Vec<Check> {
    UNITS
        .iter()
        .map(|(time, force, expected, source)| {
            let log = format!("t [{time}];F [{force}]\n0;0\n1;1\n2;0\n");
            let trace = trace(log.as_bytes());
            let of_time = *force == "N" && *time != "s" && *time != "sec";
            let (computed, unit) = if of_time {
                (trace.times()[1], "s")
            } else {
                (trace.forces()[1], "N")
            };
            let what = format!("one {}", if of_time { time } else { force });
            Check {
                what,
                source,
                expected: *expected,
                computed,
                unit,
                tolerance: Tolerance::Relative(1e-15),
            }
        })
        .collect()
}

/// Every log and every unit.
pub fn checks() -> Vec<Check> {
    let values: Value = serde_json::from_str(VALUES).unwrap();
    let mut checks: Vec<Check> = LOGS
        .iter()
        .flat_map(|log| against_peers(log, &values))
        .collect();
    checks.extend(units());
    checks
}

#[test]
fn logs_are_read_to_the_values_of_pandas_and_polars() {
    hold(&checks(), 42);
}
