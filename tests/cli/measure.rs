//! `relent measure`: loose logs, many at once.

use std::f64::consts::PI;
use std::fmt::Write as _;
use std::fs;

use serde_json::Value;

use crate::run::{names, relent};

/// A leaf of 200 kg at 0.2 m/s with 300 N of drive on a gauge of 500 N/mm, from 0.3 s on, at 10 kHz: the closed form
/// F = F_m + R sin(ωt − φ) with R = √(F_m² + v² m k), ω = √(k/m), φ = atan(F_m / (v √(m k))).
fn closed_form_log() -> String {
    let (m, v, k, f_m) = (200.0_f64, 0.2, 500e3, 300.0);
    let omega = (k / m).sqrt();
    let r = (f_m * f_m + v * v * m * k).sqrt();
    let phi = (f_m / (v * (m * k).sqrt())).atan();
    let mut log = String::from("time_s,force_N\n");
    for i in 0..60_000 {
        let t = f64::from(i) / 10_000.0 - 0.3;
        let touching = (0.0..(PI + 2.0 * phi) / omega).contains(&t);
        let force = if touching {
            f_m + r * (omega * t - phi).sin()
        } else {
            0.0
        };
        let _ = writeln!(log, "{:.4},{force:.3}", f64::from(i) / 10_000.0);
    }
    log
}

#[test]
fn the_closed_form_of_a_driven_leaf_is_measured() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("hit.csv"), closed_form_log()).unwrap();
    let ran = relent(
        home.path(),
        &["measure", "hit.csv", "--json", "--spring-rate", "500"],
    );
    assert_eq!(ran.status, 0, "{}", ran.err);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(record["schema"], "relent.measure/1");
    let measure = |key: &str| {
        record["measures"][key]
            .as_f64()
            .unwrap_or_else(|| panic!("{key}: {record}"))
    };
    assert!((measure("peak_force_n") - 2322.375).abs() < 0.2);
    assert!((measure("time_above_static_s") - 0.065_801_4).abs() < 2e-5);
    assert!((measure("over_travel_mm") - 4.644_75).abs() < 1e-3);
}

#[test]
fn one_bad_log_does_not_stop_the_rest_and_every_log_is_accounted_for() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("logs");
    fs::create_dir(&folder).unwrap();
    fs::write(folder.join("a.csv"), closed_form_log()).unwrap();
    fs::write(folder.join("b.csv"), "").unwrap();
    fs::write(folder.join("c.csv"), "1\n2\n3\n").unwrap();
    let ran = relent(home.path(), &["measure", "logs", "--csv=out.csv"]);
    assert_eq!(ran.status, 2);
    assert!(
        ran.err.contains("b.csv") && ran.err.contains("c.csv"),
        "{}",
        ran.err
    );
    assert!(
        ran.err.contains("1 measured, 1 with a question, 1 refused"),
        "{}",
        ran.err
    );
    let table = fs::read_to_string(home.path().join("out.csv")).unwrap();
    let rows: Vec<&str> = table.lines().collect();
    assert_eq!(rows.len(), 2);
    assert!(
        rows[0].starts_with("file,sha256,zero_n,noise_n"),
        "{}",
        rows[0]
    );
    assert!(rows[1].contains("a.csv"));
    assert_eq!(names(home.path()), ["logs", "out.csv"]);
}

#[test]
fn a_log_with_a_question_exits_with_3_and_says_how_to_answer() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("bare.txt"), "0\n1\n0\n55\n90\n60\n3\n0\n").unwrap();
    let ran = relent(home.path(), &["measure", "bare.txt"]);
    assert_eq!(ran.status, 3);
    assert!(ran.err.contains("--rate"), "{}", ran.err);
    assert_eq!(ran.out, "");
}

#[test]
fn a_folder_without_logs_and_a_path_that_is_not_there_are_errors() {
    let home = tempfile::tempdir().unwrap();
    for arguments in [["measure", "."], ["measure", "absent.csv"]] {
        let ran = relent(home.path(), &arguments);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    }
}
