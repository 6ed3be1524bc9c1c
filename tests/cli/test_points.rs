//! What is wanted, what was tested and what was not assessed.

use std::fs;

use relent::gate::names::PlaceProblem;
use relent::record::case::Case;
use relent::record::seal;
use relent::verdict::{OpenItem, Verdict};
use relent::visit::Beside;
use serde_json::Value;

use crate::run::{edit, names, relent, visit};

#[test]
fn a_gate_file_silent_about_its_opening_side_is_never_within() {
    let (_home, gate) = visit("visit-2");
    edit(&gate.join("gate.toml"), "opening_side = \"clear\"\n", "");
    let ran = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(
        (ran.status, &record["verdict"]),
        (3, &Value::from("undecided"))
    );
    assert_eq!(record["reasons"][0]["code"], "plan-open");
    assert_eq!(record["reasons"][0]["no_plan"]["code"], "no-opening-side");
    // What is known is still planned: a missing hit is still missing.
    let log = names(&gate.join("logs"))
        .into_iter()
        .find(|name| name.starts_with("closing-50-900-2"));
    fs::remove_file(gate.join("logs").join(log.unwrap())).unwrap();
    let ran = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(record["missing"].as_array().unwrap().len(), 1);
}

#[test]
fn a_named_scheme_wants_its_own_points() {
    let (_home, gate) = visit("visit-2");
    let file = gate.join("gate.toml");
    edit(
        &file,
        "kind = \"after-change\"",
        "kind = \"recurring\"\nscheme = \"asr-a1.7\"",
    );
    for name in names(&gate.join("logs")) {
        if !name.starts_with("closing-300-") {
            fs::remove_file(gate.join("logs").join(name)).unwrap();
        }
    }
    let assess = || relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(assess().status, 0, "{}", assess().out);
    edit(&file, "\"asr-a1.7\"", "\"full\"");
    assert_eq!(assess().status, 3);
    edit(&file, "\"full\"", "\"half\"");
    let json = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json.status, 3);
    let why = &record["reasons"][0]["no_plan"];
    assert_eq!(
        (&why["code"], &why["scheme"]),
        (&Value::from("unknown-scheme"), &Value::from("half"))
    );
}

#[test]
fn a_hit_a_few_millimetres_from_a_wanted_point_stands_for_it() {
    let (_home, gate) = visit("visit-2");
    let file = gate.join("gate.toml");
    // Half of 1801 mm is 900.5 mm; the logs say 900.
    edit(&file, "leaf_height_mm = 1800", "leaf_height_mm = 1801");
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    // Half of 1830 mm is 915 mm: farther than the profile's place tolerance of 10 mm.
    edit(&file, "leaf_height_mm = 1801", "leaf_height_mm = 1830");
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
}

#[test]
fn a_point_beyond_the_band_of_a_limit_never_stands_for_one_inside() {
    let (_home, gate) = visit("visit-2");
    let logs = gate.join("logs");
    for name in names(&logs) {
        if let Some(rest) = name.strip_prefix("closing-500-") {
            fs::rename(logs.join(&name), logs.join(format!("closing-505-{rest}"))).unwrap();
        }
    }
    let ran = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(ran.status, 3);
    assert_eq!(record["missing"].as_array().unwrap().len(), 3);
}

#[test]
fn a_tested_point_without_a_limit_is_told_and_decides_nothing() {
    let (_home, gate) = visit("visit-2");
    let (_other, first) = visit("visit-1");
    let log = names(&first.join("logs"))
        .into_iter()
        .find(|name| name.starts_with("closing-300-900-1"));
    let log = log.unwrap();
    let ending = log.rsplit_once('.').unwrap().1;
    let into = gate.join("logs").join(format!("closing-30-900-1.{ending}"));
    fs::copy(first.join("logs").join(&log), into).unwrap();
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    let told = ran.out.replace('\n', " ");
    assert!(
        told.contains("gap 30 mm, height 900 mm: tested and not assessed: no limit"),
        "{}",
        ran.out
    );
    let json = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(record["not_assessed"].as_array().unwrap().len(), 1);
}

#[test]
fn the_odd_hit_is_named_and_counts() {
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", ".", "--no-report", "--json"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    let odd: Vec<&Value> = record["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["odd_one_out"].is_object() && finding["measure"] == "peak-force")
        .collect();
    assert!(
        !odd.is_empty(),
        "the demo gate has a point with one hit unlike the others"
    );
    for finding in odd {
        let hits: Vec<f64> = finding["hit_values"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(Value::as_f64)
            .collect();
        let mean = hits.iter().sum::<f64>() / hits.len() as f64;
        assert!((finding["value"].as_f64().unwrap() - mean).abs() < 1e-9);
        let log = finding["odd_one_out"]["log"].as_str().unwrap();
        let mut remarks = finding["remarks"].as_array().unwrap().iter();
        assert!(
            remarks.any(|one| one["code"] == "odd-one" && one["log"] == log),
            "{finding}"
        );
    }
}

#[test]
fn the_budget_says_over_how_many_points_the_repeatability_is_pooled() {
    let (_home, gate) = visit("visit-2");
    let ran = relent(&gate, &["assess", ".", "--no-report", "--budget"]);
    let line = ran
        .out
        .lines()
        .find(|line| line.contains("repeatability, pooled over 9 test points"));
    assert!(line.is_some_and(|line| line.contains("ν 18.0")), "{line:?}");
}

#[test]
fn a_place_that_the_leaf_does_not_have_leaves_the_visit_undecided_for_library_assess_recheck_and_archive()
 {
    let (home, gate) = visit("visit-2");
    let sealed = relent(&gate, &["assess", ".", "--seal"]);
    assert_eq!(sealed.status, 0, "{}", sealed.err);
    let record = fs::read(gate.join("report/record.json")).unwrap();
    fs::remove_dir_all(gate.join("report")).unwrap();
    let logs = gate.join("logs");
    let log = &names(&logs)[0];
    let ending = log.rsplit_once('.').unwrap().1;
    let beyond = format!("closing-50-2600-1.{ending}");
    fs::rename(logs.join(log), logs.join(&beyond)).unwrap();
    let told = |beside: &Beside| {
        matches!(
            &beside.problems[..],
            [PlaceProblem::BeyondLeaf { file, height_mm: 2600.0, .. }] if *file == beyond
        )
    };
    let assessment = relent::Visit::open(&gate).unwrap().assess().unwrap();
    assert!(told(&assessment.beside));
    let overall = assessment.overall();
    assert_eq!(overall.verdict, Verdict::Undecided);
    let file = OpenItem::FilesNotPlaced { files: 1 };
    assert!(overall.reasons.contains(&file), "{:?}", overall.reasons);
    let mut body = seal::open(&record).unwrap().body;
    body.logs[0].file.clone_from(&beyond);
    let case = Case::of_record(&body, &gate).unwrap();
    assert!(told(&case.visit.beside));
    let said =
        format!("{beyond}: no such test point: height 2600 mm, but leaf_height_mm is 1800 mm");
    for arguments in [&["assess", ".", "--no-report"][..], &["recheck", "."]] {
        let ran = relent(&gate, arguments);
        assert!(
            ran.err.contains(&said) || ran.out.contains(&said),
            "{arguments:?}"
        );
        assert_eq!(ran.status, 3, "{arguments:?}");
    }
    let out = home.path().join("tables");
    let ran = relent(
        home.path(),
        &["archive", ".", "--out", out.to_str().unwrap()],
    );
    let table = fs::read_to_string(out.join("gates.csv")).unwrap();
    assert!(table.contains(&said), "{table}{}", ran.err);
}
