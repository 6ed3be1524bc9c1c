//! The commands around a visit: start a folder, plan, look the gate over, pull by hand.

use std::fs;
use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use tempfile::TempDir;

fn relent(arguments: &[&str], folder: &Path) -> Output {
    Command::cargo_bin("relent")
        .unwrap()
        .args(arguments)
        .current_dir(folder)
        .output()
        .unwrap()
}

/// Exit status, standard output, standard error.
fn run(arguments: &[&str], folder: &Path) -> (i32, String, String) {
    let output = relent(arguments, folder);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (
        output.status.code().unwrap(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

const SLIDING: [&str; 16] = [
    "new",
    "yard",
    "--motion",
    "sliding",
    "--height",
    "1800",
    "--width",
    "5200",
    "--opening",
    "4500",
    "--mass",
    "320",
    "--rated-mass",
    "500",
    "--date",
    "2026-11-25",
];

fn json(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap()
}

#[test]
fn a_new_folder_reads_without_a_complaint_and_its_plan_has_27_hits() {
    let place = TempDir::new().unwrap();
    let (status, _, complaints) = run(&SLIDING, place.path());
    assert_eq!((status, complaints.as_str()), (0, ""));
    assert!(place.path().join("yard/logs").is_dir());
    let (status, plan, complaints) = run(&["plan", "yard", "--json"], place.path());
    assert_eq!((status, complaints.as_str()), (3, ""));
    let plan = json(&plan);
    // EN 12445:2000, second-hand: three gaps, three heights, three hits each.
    assert_eq!(plan["points"].as_array().unwrap().len(), 9);
    assert_eq!(plan["hits_wanted"], 27);
    assert_eq!(plan["hits_found"], 0);
    let heights: Vec<f64> = plan["points"]
        .as_array()
        .unwrap()
        .iter()
        .map(|point| point["test_point"]["height_mm"].as_f64().unwrap())
        .take(3)
        .collect();
    assert_eq!(heights, [50.0, 900.0, 1500.0]);
    let names = run(&["plan", "yard", "--names"], place.path()).1;
    assert_eq!(names.lines().count(), 27);
    assert_eq!(
        names.lines().next(),
        Some("closing-closing-edge-50-50-1.csv")
    );
}

#[test]
fn a_hit_saved_under_a_planned_name_is_found_and_the_others_stay_missing() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    let names = run(&["plan", "yard", "--names"], place.path()).1;
    for name in names.lines().skip(1) {
        fs::write(place.path().join("yard/logs").join(name), "").unwrap();
    }
    let (status, left, _) = run(&["plan", "yard", "--names"], place.path());
    assert_eq!(
        (status, left.as_str()),
        (3, "closing-closing-edge-50-50-1.csv\n")
    );
    fs::write(
        place
            .path()
            .join("yard/logs/closing-closing-edge-50-50-1.csv"),
        "",
    )
    .unwrap();
    assert_eq!(run(&["plan", "yard"], place.path()).0, 0);
}

#[test]
fn a_recurring_visit_may_follow_a_smaller_scheme_by_name() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    let smaller = [
        "plan",
        "yard",
        "--visit",
        "recurring",
        "--scheme",
        "asr-a1.7",
        "--json",
    ];
    let (status, plan, _) = run(&smaller, place.path());
    // Periodic check in Germany, ASR A1.7, second-hand: one gap, three places, one hit.
    assert_eq!((status, json(&plan)["hits_wanted"].as_u64()), (3, Some(3)));
    for (kind, hits) in [("first", 27), ("after-change", 27), ("recurring", 27)] {
        let plan = run(&["plan", "yard", "--visit", kind, "--json"], place.path()).1;
        assert_eq!(json(&plan)["hits_wanted"], hits, "{kind}");
    }
    let (status, out, complaint) = run(&["plan", "yard", "--scheme", "asr-a1.7"], place.path());
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(
        complaint.contains("not for this kind of visit (before first use)"),
        "{complaint}"
    );
}

#[test]
fn the_sheet_lists_what_cannot_be_measured_and_every_name() {
    let place = TempDir::new().unwrap();
    let swing: Vec<&str> = SLIDING
        .iter()
        .map(|word| if *word == "sliding" { "swing" } else { *word })
        .collect();
    run(&swing, place.path());
    assert_eq!(
        run(&["plan", "yard", "--sheet", "sheet.html"], place.path()).0,
        3
    );
    let sheet = fs::read_to_string(place.path().join("sheet.html")).unwrap();
    for wanted in [
        "hinge side of the leaf",
        "lower edge of the leaf",
        "closing-closing-edge-500-1500-3.csv",
        "<svg",
    ] {
        assert!(sheet.contains(wanted), "{wanted}");
    }
}

#[test]
fn new_overwrites_nothing_and_asks_nobody_where_nobody_sits() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    let gate = place.path().join("yard/gate.toml");
    fs::write(&gate, "mine").unwrap();
    let (status, _, complaint) = run(&SLIDING, place.path());
    assert_eq!(status, 2);
    assert!(complaint.contains("is there already"), "{complaint}");
    assert_eq!(fs::read_to_string(&gate).unwrap(), "mine");
    let (status, _, complaint) = run(&["new", "other"], place.path());
    assert_eq!(status, 2);
    assert!(complaint.contains("--motion"), "{complaint}");
    assert!(!place.path().join("other").exists());
}

#[test]
fn every_motion_starts_a_folder_without_a_complaint() {
    let place = TempDir::new().unwrap();
    for motion in ["sliding", "swing", "folding", "vertical", "boom"] {
        let (status, _, complaints) = run(
            &["new", motion, "--motion", motion, "--no-papers"],
            place.path(),
        );
        assert_eq!((status, complaints.as_str()), (0, ""), "{motion}");
        let papers =
            fs::read_to_string(place.path().join(motion).join("missing-papers.md")).unwrap();
        assert!(papers.matches("- [ ]").count() > 15, "{papers}");
        let (status, text, _) = run(&["ready", motion], place.path());
        assert_eq!(status, 3, "{motion}");
        assert!(text.contains("incomplete"), "{text}");
    }
}

#[test]
fn a_number_that_a_gate_file_does_not_take_writes_nothing() {
    let place = TempDir::new().unwrap();
    let (status, out, complaint) = run(
        &["new", "yard", "--motion", "sliding", "--height", "1.8"],
        place.path(),
    );
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(complaint.contains("gate.leaf_height_mm"), "{complaint}");
    assert!(!place.path().join("yard").exists());
}

fn answer(place: &Path, lines: &str) {
    let path = place.join("yard/gate.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(
        &path,
        text.replace(
            "[readiness.answers]",
            &format!("[readiness.answers]\n{lines}\n#"),
        ),
    )
    .unwrap();
}

#[test]
fn what_is_not_in_order_shows_and_decides_the_exit_status() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    answer(place.path(), "guide-rollers = 'no: lower one loose'");
    let (status, text, _) = run(&["ready", "yard"], place.path());
    assert_eq!(status, 1);
    assert!(text.contains("no: lower one loose"), "{text}");
    let document = json(&run(&["ready", "yard", "--json"], place.path()).1);
    assert_eq!(document["overall"], "not-in-order");
    let states: Vec<&str> = document["checks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|check| check["state"].as_str().unwrap())
        .collect();
    assert_eq!(
        states.iter().filter(|state| **state == "in-order").count(),
        1,
        "the mass of the leaf alone"
    );
}

#[test]
fn an_answer_that_is_none_stops_the_work() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    answer(place.path(), "pull-to-start = '9.5'");
    for command in ["ready", "assess"] {
        let (status, out, complaint) = run(&[command, "yard"], place.path());
        assert_eq!((status, out.as_str()), (2, ""), "{command}");
        assert!(
            complaint.contains("readiness.answers.pull-to-start is `9.5`: expected a number"),
            "{complaint}"
        );
    }
}

#[test]
fn checks_of_ones_own_are_read_from_the_gate_folder() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    let path = place.path().join("yard/gate.toml");
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("# more_checks", "more_checks");
    fs::write(&path, text).unwrap();
    assert_eq!(
        run(&["ready", "yard"], place.path()).0,
        2,
        "the list is not there"
    );
    let own = "[[check]]\nname = 'loop'\nquestion = 'Does the loop in the ground act?'\nreference = 'our own'\nsource = 'chosen'\n";
    fs::write(place.path().join("yard/checks.toml"), own).unwrap();
    let (status, text, _) = run(&["ready", "yard"], place.path());
    assert_eq!(status, 3);
    assert!(text.contains("Does the loop in the ground act?"), "{text}");
}

fn pull_log(lines: impl Iterator<Item = (f64, f64)>, head: &str) -> String {
    let rows = lines.map(|(along, force)| format!("{along:.3},{force:.1}\n"));
    format!("{head}\n{}", rows.collect::<String>())
}

#[test]
fn a_pull_is_held_against_the_rating_of_the_drive() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    let force = |k: u32| match k {
        0..40 => 0.0,
        40..50 => 180.0,
        _ => 100.0 + f64::from(k % 3),
    };
    let log = pull_log(
        (0..400).map(|k| (f64::from(k) / 40.0, force(k))),
        "time (s),force (N)",
    );
    fs::write(place.path().join("pull.csv"), log).unwrap();
    let (status, text, complaints) = run(
        &[
            "pull",
            "pull.csv",
            "--gate",
            "yard",
            "--json",
            "--sheet",
            "pull.html",
        ],
        place.path(),
    );
    assert_eq!((status, complaints.as_str()), (0, ""));
    let document = json(&text);
    assert_eq!(document["break_away_n"], 180.0);
    assert_eq!(document["steady_n"], 101.0);
    assert_eq!(document["verdict"], "within");
    // 20 kgf for a drive rated 500 kg: common practice, no source.
    assert!((document["rating_n"].as_f64().unwrap() - 196.133).abs() < 1e-9);
    assert!(
        fs::read_to_string(place.path().join("pull.html"))
            .unwrap()
            .contains("<svg")
    );
    assert_eq!(
        run(&["pull", "pull.csv", "--rating", "18 kgf"], place.path()).0,
        1
    );
    assert_eq!(run(&["pull", "pull.csv"], place.path()).0, 3, "no rating");
    assert_eq!(
        run(&["pull", "pull.csv", "--rating", "18"], place.path()).0,
        2,
        "no unit"
    );
    let (_, text, _) = run(
        &[
            "pull",
            "pull.csv",
            "--gate",
            "yard",
            "--friction",
            "0.02",
            "--mass",
            "500",
            "--slope",
            "1",
        ],
        place.path(),
    );
    assert!(text.contains("147.1 N"), "{text}");
}

#[test]
fn a_pull_over_position_needs_no_clock() {
    let place = TempDir::new().unwrap();
    let force = |k: u32| if k < 4 { 0.0 } else { 90.0 };
    let log = pull_log(
        (0..300).map(|k| (f64::from(k) * 15.0, force(k))),
        "position (mm),force (N)",
    );
    fs::write(place.path().join("pull.csv"), log).unwrap();
    let (status, text, complaint) = run(
        &["pull", "pull.csv", "--rating", "200 N", "--json"],
        place.path(),
    );
    assert_eq!(status, 0, "{complaint}");
    assert_eq!(json(&text)["along"], "mm");
    assert_eq!(json(&text)["steady_n"], 90.0);
}

#[test]
fn a_gate_that_must_not_stay_as_it_is_gets_a_page_of_its_own_until_it_is_put_right() {
    let place = TempDir::new().unwrap();
    run(&SLIDING, place.path());
    answer(place.path(), "guide-rollers = false");
    run(&["assess", "yard"], place.path());
    let note = place.path().join("yard/report/must-not-stay.html");
    let page = fs::read_to_string(&note).unwrap();
    assert!(
        page.contains("Are the guide rollers secure and aligned?"),
        "{page}"
    );
    let path = place.path().join("yard/gate.toml");
    let text = fs::read_to_string(&path)
        .unwrap()
        .replace("guide-rollers = false", "guide-rollers = true");
    fs::write(&path, text).unwrap();
    run(&["assess", "yard"], place.path());
    assert!(!note.exists(), "the page of the earlier run is left behind");
}
