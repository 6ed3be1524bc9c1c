//! `relent history`: several visits to one gate, what was changed between them, what moves, and what is left out.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;

use crate::run::{edit, relent};

/// From −0.6 to 0.6 N, without a pattern.
fn noise(number: u64) -> f64 {
    let mixed = (number ^ 0x9e37_79b9).wrapping_mul(0xff51_afd7_ed55_8ccd);
    let mixed = (mixed ^ (mixed >> 33)).wrapping_mul(0xc4ce_b9fe_1a85_ec53);
    (mixed >> 40) as f64 / f64::from(1 << 24) * 1.2 - 0.6
}

/// A log at 1 kHz: a half sine of 60 ms to the peak, then nothing.
fn log(peak_n: f64) -> String {
    let mut text = String::from("time (s),force (N)\n");
    for i in 0..6200_i32 {
        let t = f64::from(i) / 1000.0;
        let after = t - 0.5;
        let pulse = if (0.0..=0.06).contains(&after) {
            peak_n * (std::f64::consts::PI * after / 0.06).sin()
        } else {
            0.0
        };
        let ripple = noise(i as u64 + (peak_n * 1e4) as u64);
        let _ = writeln!(text, "{t:.3},{:.1}", pulse + ripple);
    }
    text
}

/// An invented visit: three hits about a peak at one test point.
fn visit(folder: &Path, date: &str, peak_n: f64, more: &str) {
    let year: i32 = date[..4].parse().unwrap();
    let gate = format!(
        "# Invented.\nschema = \"relent.gate/1\"\n[gate]\nname = \"Kiln lane gate <invented>\"\nmotion = \"sliding\"\nleaf_mass_kg = 300\n\
         leaf_height_mm = 1800\nleaf_width_mm = 4000\nclear_opening_mm = 3800\nopening_side = \"clear\"\n\
         [drive]\nmodel = \"Invented 3\"\nfirmware = \"1.0\"\n[drive.settings]\nforce_step = 4\n\
         [gauge]\nserial = \"K-1 (invented)\"\nspring_rate_n_per_mm = 500\ncapacity_n = 2000\naccuracy_percent = 1\naccuracy_n = 2\n\
         resolution_n = 0.1\ncalibrated_on = {}-12-01\ncalibration_due = {}-11-30\n\
         [visit]\ndate = {date}\nkind = \"recurring\"\ntemperature_c = {}\n[assessment]\nprofile = \"en12453-2017\"\ndecision = \"simple\"\n\
         [logs]\nfolder = \"logs\"\nnames = \"{{direction}}-{{gap}}-{{height}}-{{repeat}}\"\n{more}",
        year - 1,
        year,
        5 + year % 7,
    );
    fs::create_dir_all(folder.join("logs")).unwrap();
    fs::write(folder.join("gate.toml"), gate).unwrap();
    for (repeat, off) in [(1, -2.0), (2, 0.0), (3, 2.0)] {
        let name = format!("closing-300-900-{repeat}.csv");
        fs::write(folder.join("logs").join(name), log(peak_n + off)).unwrap();
    }
}

/// Days and peaks of six yearly visits: some 10 N a year.
const YEARS: [(&str, f64); 6] = [
    ("2019-05-14", 301.0),
    ("2020-05-12", 309.0),
    ("2021-05-20", 322.0),
    ("2022-05-11", 330.0),
    ("2023-05-16", 342.0),
    ("2024-05-14", 349.0),
];

fn six_visits() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let tree = home.path().join("kiln-lane");
    for (date, peak) in YEARS {
        visit(&tree.join(date), date, peak, "");
    }
    (home, tree)
}

fn record(home: &Path, arguments: &[&str]) -> (i32, Value, String) {
    let mut all = vec!["history"];
    all.extend(arguments);
    all.extend(["--json", "--no-report"]);
    let ran = relent(home, &all);
    let record = serde_json::from_str(&ran.out).unwrap_or(Value::Null);
    (ran.status, record, ran.err)
}

/// The series of the peak.
fn peak(record: &Value) -> &Value {
    let series = record["series"].as_array().unwrap().iter();
    let mut of_peak =
        series.filter(|it| it["measure"] == "peak_force_n" || it["measure"] == "peak-force");
    of_peak.next().unwrap_or_else(|| panic!("{record:#}"))
}

#[test]
fn a_value_that_rises_is_named_with_its_slope_and_the_day_on_which_it_would_reach_the_limit() {
    let (home, tree) = six_visits();
    let (status, record, complaints) = record(home.path(), &["kiln-lane"]);
    assert_eq!(status, 3, "one point of nine was tested: {complaints}");
    assert_eq!(record["schema"], "relent.history/1");
    assert_eq!(record["visits"].as_array().unwrap().len(), 6);
    assert_eq!(record["changes"], serde_json::json!([]));
    let series = peak(&record);
    let readings = series["readings"].as_array().unwrap();
    for (reading, (_, expected)) in readings.iter().zip(YEARS) {
        let value = reading["value"].as_f64().unwrap();
        assert!((value - expected).abs() < 1.0, "{value} for {expected}");
        assert_eq!(reading["lower_bound_only"], false);
        assert!(reading["expanded_uncertainty"].as_f64().unwrap() > 0.0);
    }
    // Least squares by its formula, on days as the calendar counts them.
    let days = [0.0, 364.0, 737.0, 1093.0, 1463.0, 1827.0];
    let x: Vec<f64> = days.iter().map(|day| day / 365.2425).collect();
    let y: Vec<f64> = readings
        .iter()
        .map(|it| it["value"].as_f64().unwrap())
        .collect();
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
    let (mean_x, mean_y) = (mean(&x), mean(&y));
    let products: f64 = x
        .iter()
        .zip(&y)
        .map(|(x, y)| (x - mean_x) * (y - mean_y))
        .sum();
    let squares: f64 = x.iter().map(|x| (x - mean_x).powi(2)).sum();
    let slope = products / squares;
    let trend = &series["stretches"][0]["trend"];
    assert_eq!(trend["readings"], 6);
    assert!(
        (trend["slope_per_year"].as_f64().unwrap() / slope - 1.0).abs() < 1e-9,
        "{trend:#}"
    );
    let days_to_400 = ((mean_x + (400.0 - mean_y) / slope) * 365.2425).round() as i64;
    let first: jiff::civil::Date = YEARS[0].0.parse().unwrap();
    let expected = first
        .checked_add(jiff::Span::new().days(days_to_400))
        .unwrap();
    let reached = &trend["outlook"]["would-reach"];
    assert_eq!(reached["on"], expected.to_string());
    assert!(reached["earliest"].as_str() < reached["on"].as_str());
    assert!(reached["latest"].as_str() > reached["on"].as_str());
    let ran = relent(home.path(), &["history", "kiln-lane"]);
    for words in [
        format!("would reach 400 N on {expected}"),
        "never one to wait".to_owned(),
        "N a year".to_owned(),
    ] {
        assert!(ran.out.contains(&words), "{words}: {}", ran.out);
    }
    let page = fs::read_to_string(tree.join("2024-05-14/history/history.html")).unwrap();
    assert!(page.contains("Kiln lane gate &lt;invented&gt;") && !page.contains("gate <invented>"));
    assert!(page.contains(&expected.to_string()) && page.contains("limit 400 N"));
    let json = fs::read(tree.join("2024-05-14/history/history.json")).unwrap();
    assert!(page.contains(&relent::ingest::sha256(&json)));
}

#[test]
fn a_value_of_incomplete_evidence_is_a_lower_bound_and_enters_no_slope() {
    let (home, tree) = six_visits();
    fs::remove_file(tree.join("2021-05-20/logs/closing-300-900-2.csv")).unwrap();
    // A record that ends while the force acts: its peak may have been greater.
    let clipped = tree.join("2023-05-16/logs/closing-300-900-3.csv");
    let text = fs::read_to_string(&clipped).unwrap();
    let head: Vec<&str> = text.lines().take(520).collect();
    fs::write(&clipped, head.join("\n") + "\n").unwrap();
    let (_, record, _) = record(home.path(), &["kiln-lane"]);
    let series = peak(&record);
    let bounds: Vec<bool> = series["readings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["lower_bound_only"].as_bool().unwrap())
        .collect();
    assert_eq!(bounds, [false, false, true, false, true, false]);
    assert_eq!(series["stretches"][0]["trend"]["readings"], 4);
    let ran = relent(home.path(), &["history", "kiln-lane"]);
    assert!(ran.out.contains("· ≥ "), "{}", ran.out);
    let page = fs::read_to_string(tree.join("2024-05-14/history/history.html")).unwrap();
    assert!(page.contains("reading bound"));
}

#[test]
fn a_copied_log_is_no_new_measurement() {
    let (home, tree) = six_visits();
    let from = tree.join("2020-05-12/logs/closing-300-900-1.csv");
    fs::copy(from, tree.join("2022-05-11/logs/closing-300-900-2.csv")).unwrap();
    let (_, record, _) = record(home.path(), &["kiln-lane"]);
    let series = peak(&record);
    let copied: Vec<bool> = series["readings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["copied"].as_bool().unwrap())
        .collect();
    assert_eq!(copied, [false, false, false, true, false, false]);
    assert_eq!(series["stretches"][0]["trend"]["readings"], 5);
    let remarks = record["remarks"].to_string();
    assert!(
        remarks.contains("closing-300-900-2.csv of kiln-lane/2022-05-11 is a copy of"),
        "{remarks}"
    );
}

#[test]
fn a_change_splits_the_series_and_no_slope_crosses_it() {
    let (home, tree) = six_visits();
    for (date, _) in &YEARS[4..] {
        edit(
            &tree.join(date).join("gate.toml"),
            "firmware = \"1.0\"",
            "firmware = \"1.1\"",
        );
    }
    let event = "[[events]]\ndate = 2020-08-01\nkind = \"motor\"\nwords = \"burnt out\"\n";
    let path = tree.join("2024-05-14/gate.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, format!("{text}{event}")).unwrap();
    let (_, record, _) = record(home.path(), &["kiln-lane"]);
    let changes = record["changes"].as_array().unwrap();
    let told: Vec<(i64, &str)> = changes
        .iter()
        .map(|it| {
            (
                it["before_visit"].as_i64().unwrap(),
                it["text"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            (2, "the motor was changed (burnt out)"),
            (4, "firmware: 1.0 before, 1.1 after"),
        ]
    );
    let stretches = peak(&record)["stretches"].as_array().unwrap();
    let visits: Vec<&Value> = stretches.iter().map(|it| &it["visits"]).collect();
    assert_eq!(
        visits,
        [
            &serde_json::json!([0, 1]),
            &serde_json::json!([2, 3]),
            &serde_json::json!([4, 5])
        ]
    );
    for stretch in stretches {
        let why = &stretch["trend"]["not_drawn_because"];
        assert_eq!(why["code"], "too-few");
        assert_eq!(why["readings"], 2);
    }
    let ran = relent(home.path(), &["history", "kiln-lane"]);
    assert_eq!(
        ran.out.matches(" | ").count(),
        2 * ran.out.matches("limit ").count(),
        "{}",
        ran.out
    );
    let page = fs::read_to_string(tree.join("2024-05-14/history/history.html")).unwrap();
    assert!(page.contains("<strong>A</strong>") && page.contains("<strong>B</strong>"));
}

#[test]
fn a_change_after_the_last_visit_ends_the_line_and_takes_nothing_from_what_was_read() {
    let (home, tree) = six_visits();
    let path = tree.join("2024-05-14/gate.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(
        &path,
        format!("{text}[[events]]\ndate = 2024-09-01\nkind = \"gear\"\n"),
    )
    .unwrap();
    let (_, record, _) = record(home.path(), &["kiln-lane"]);
    let series = peak(&record);
    assert_eq!(series["readings"][5]["lower_bound_only"], false);
    let trend = &series["stretches"][0]["trend"];
    assert_eq!(
        (&trend["readings"], &trend["outlook"]),
        (&serde_json::json!(6), &serde_json::json!("changed-since"))
    );
}

#[test]
fn earlier_visits_are_found_by_the_chain_of_the_gate_files_each_once() {
    let (home, tree) = six_visits();
    for pair in YEARS.windows(2) {
        let earlier = format!("kind = \"recurring\"\nearlier = [\"../{}\"]", pair[0].0);
        edit(
            &tree.join(pair[1].0).join("gate.toml"),
            "kind = \"recurring\"",
            &earlier,
        );
    }
    let (_, record, _) = record(
        home.path(),
        &["kiln-lane/2024-05-14", "kiln-lane/2022-05-11"],
    );
    let days: Vec<&str> = record["visits"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["date"].as_str().unwrap())
        .collect();
    assert_eq!(days, YEARS.map(|(day, _)| day));
}

#[test]
fn of_several_gates_one_must_be_named_and_a_folder_that_may_be_a_visit_is_told() {
    let (home, tree) = six_visits();
    visit(&home.path().join("other"), "2024-01-01", 200.0, "");
    edit(
        &home.path().join("other/gate.toml"),
        "Kiln lane gate <invented>",
        "Other gate (invented)",
    );
    let (status, _, question) = record(home.path(), &["."]);
    assert_eq!(status, 3);
    assert!(
        question.contains("--gate NAME") && question.contains("Other gate (invented)"),
        "{question}"
    );
    let (status, _, complaint) = record(home.path(), &[".", "--gate", "Kiln"]);
    assert_eq!(status, 2);
    assert!(
        complaint.contains("Kiln lane gate <invented>"),
        "{complaint}"
    );
    let (_, record_of_one, _) = record(home.path(), &[".", "--gate", "Other gate (invented)"]);
    assert_eq!(record_of_one["visits"].as_array().unwrap().len(), 1);
    edit(
        &tree.join("2019-05-14/gate.toml"),
        "leaf_mass_kg",
        "leaf_mas_kg",
    );
    edit(
        &tree.join("2020-05-12/gate.toml"),
        "serial = \"K-1 (invented)\"\n",
        "serial = \"K-2 (invented)\"\n",
    );
    let (status, record_of_five, warning) = record(home.path(), &["kiln-lane"]);
    assert_eq!(status, 3);
    assert!(warning.contains("leaf_mas_kg"), "{warning}");
    assert_eq!(record_of_five["visits"].as_array().unwrap().len(), 5);
    let remarks = record_of_five["remarks"].to_string();
    assert!(
        remarks.contains("not known whether it is a visit to this gate"),
        "{remarks}"
    );
    assert!(
        remarks.contains("2 gauges (K-1 (invented), K-2 (invented))"),
        "{remarks}"
    );
}
