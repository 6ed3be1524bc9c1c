//! `relent archive`: tables that hold every gate, a journal that survives a kill, and the same bytes either way.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;
use std::time::{Duration, Instant, SystemTime};

use relent::impact::demo::{self, DemoFile};
use serde_json::Value;
use tempfile::TempDir;

use crate::run::{Ran, edit, names, relent};

/// The files of an archive that do not depend on when it was made.
pub const OUTPUTS: [&str; 4] = ["archive.json", "findings.csv", "gates.csv", "overview.html"];

/// The files of the demo, made once for all tests.
pub fn demo_files() -> &'static [DemoFile] {
    static FILES: OnceLock<Vec<DemoFile>> = OnceLock::new();
    FILES.get_or_init(|| demo::files().unwrap())
}

/// Writes a visit of the demo with those of its logs whose names start as given, all an hour old.
pub fn gate(folder: &Path, visit: &str, logs: &str) {
    for file in demo_files() {
        let Some(inner) = file.path.strip_prefix(&format!("{visit}/")) else {
            continue;
        };
        if inner.starts_with("logs/") && !inner.starts_with(&format!("logs/{logs}")) {
            continue;
        }
        let path = folder.join(inner);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, &file.bytes).unwrap();
    }
    age(folder);
}

/// Makes all files below a folder an hour old: a file that is younger than the clock's tick is not taken for unchanged.
pub fn age(folder: &Path) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            age(&path);
        } else {
            let then = SystemTime::now() - Duration::from_secs(3600);
            let file = File::options().write(true).open(&path).unwrap();
            file.set_modified(then).unwrap();
        }
    }
}

/// Six gate folders: two visits to a gate that is over twice, one within, one without all hits, two that are broken.
fn tree() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let tree = home.path().join("tree");
    gate(&tree.join("north/2026-03"), "visit-1", "closing-500-50");
    gate(&tree.join("north/2026-06"), "visit-1", "closing-500-50");
    edit(
        &tree.join("north/2026-06/gate.toml"),
        "date = 2026-03-17",
        "date = 2026-06-17",
    );
    gate(&tree.join("east"), "visit-2", "closing-");
    rename(&tree.join("east"), "<b>East & West</b>");
    gate(&tree.join("west"), "visit-2", "closing-50-900");
    rename(&tree.join("west"), "=1+1");
    gate(&tree.join("no-file"), "visit-2", "closing-50-900");
    edit(
        &tree.join("no-file/gate.toml"),
        "leaf_mass_kg",
        "leaf_mas_kg",
    );
    gate(&tree.join("no-place"), "visit-2", "closing-50-900-1");
    let log = names(&tree.join("no-place/logs")).remove(0);
    fs::rename(
        tree.join("no-place/logs").join(&log),
        tree.join("no-place/logs").join("closing-9000-900-1.csv"),
    )
    .unwrap();
    age(&tree);
    (home, tree)
}

fn rename(gate: &Path, name: &str) {
    edit(
        &gate.join("gate.toml"),
        "Packing yard gate, Quillmere Orchard (invented)",
        name,
    );
}

fn archive(home: &Path, out: &str, more: &[&str]) -> Ran {
    let mut arguments = vec!["archive", "tree", "--out", out, "--today", "2026-11-25"];
    arguments.extend(more);
    relent(home, &arguments)
}

fn table(path: &Path) -> Vec<Vec<(String, String)>> {
    let mut reader = csv::Reader::from_path(path).unwrap();
    let heads: Vec<String> = reader
        .headers()
        .unwrap()
        .iter()
        .map(str::to_owned)
        .collect();
    reader
        .records()
        .map(|row| {
            let row = row.unwrap();
            heads
                .iter()
                .cloned()
                .zip(row.iter().map(str::to_owned))
                .collect()
        })
        .collect()
}

fn cell<'a>(row: &'a [(String, String)], name: &str) -> &'a str {
    let found = row.iter().find(|(head, _)| head == name);
    &found.unwrap_or_else(|| panic!("no column {name}")).1
}

fn outputs(folder: &Path) -> Vec<Vec<u8>> {
    OUTPUTS
        .iter()
        .map(|name| fs::read(folder.join(name)).unwrap())
        .collect()
}

#[test]
fn every_gate_folder_has_a_row_and_a_broken_one_does_not_stop_the_rest() {
    let (home, tree) = tree();
    let ran = archive(home.path(), "out", &[]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert!(ran.err.contains("leaf_mas_kg"), "{}", ran.err);
    assert!(
        ran.out.starts_with(
            "6 gate folders: 1 could not be assessed, 2 over the limit, 2 undecided, 1 within"
        ),
        "{}",
        ran.out
    );
    let rows = table(&home.path().join("out/gates.csv"));
    let states: Vec<(&str, &str)> = rows
        .iter()
        .map(|row| (cell(row, "folder"), cell(row, "state")))
        .collect();
    assert_eq!(
        states,
        [
            ("east", "within"),
            ("no-file", "not-assessed"),
            ("no-place", "undecided"),
            ("north/2026-03", "over"),
            ("north/2026-06", "over"),
            ("west", "undecided"),
        ]
    );
    assert!(
        cell(&rows[1], "complaint").contains("gate.toml:8: "),
        "{:?}",
        rows[1]
    );
    assert_eq!(cell(&rows[1], "gate"), "");
    assert!(cell(&rows[2], "remarks").contains("closing-9000-900-1.csv"));
    assert_eq!(cell(&rows[2], "visit_date"), "2026-03-31");
    assert_eq!(cell(&rows[5], "gate"), "'=1+1");
    // 2025-09-08 and 12 months of the profile, or the day that the gate file gives: 2026-09-07.
    assert_eq!(cell(&rows[3], "calibration_due"), "2026-09-07");
    // The record of a folder is the one that `relent assess` writes.
    assert_eq!(relent(&tree, &["assess", "east"]).status, 0);
    let record = fs::read(tree.join("east/report/assessment.json")).unwrap();
    assert_eq!(
        cell(&rows[0], "record_sha256"),
        relent::ingest::sha256(&record)
    );
}

#[test]
fn the_rows_of_the_findings_are_those_of_assess_and_missing_points_have_rows_of_their_own() {
    let (home, tree) = tree();
    archive(home.path(), "out", &[]);
    let rows = table(&home.path().join("out/findings.csv"));
    for folder in ["east", "north/2026-03", "west"] {
        let ran = relent(&tree, &["assess", folder, "--json"]);
        let record: Value = serde_json::from_str(&ran.out).unwrap();
        let here: Vec<_> = rows
            .iter()
            .filter(|row| cell(row, "folder") == folder)
            .collect();
        let mut own = table(&tree.join(folder).join("report/findings.csv"));
        for row in &mut own {
            row.insert(0, ("folder".to_owned(), folder.to_owned()));
        }
        assert_eq!(here, own.iter().collect::<Vec<_>>());
        let findings = record["findings"].as_array().unwrap();
        let missing = record["missing"].as_array().unwrap();
        let of =
            |kind: &str| -> Vec<_> { here.iter().filter(|row| cell(row, "row") == kind).collect() };
        assert_eq!(of("finding").len(), findings.len(), "{folder}");
        assert_eq!(of("missing-point").len(), missing.len(), "{folder}");
        for (row, finding) in of("finding").into_iter().zip(findings) {
            assert_eq!(cell(row, "limit"), finding["limit"].as_str().unwrap());
            assert_eq!(cell(row, "verdict"), finding["verdict"].as_str().unwrap());
            let number = |name: &str| cell(row, name).parse::<f64>().ok();
            for key in [
                "value",
                "limit_value",
                "expanded_uncertainty",
                "probability_of_conformity",
            ] {
                assert_eq!(number(key), finding[key].as_f64(), "{folder}: {key}");
            }
            let point = &finding["test_point"];
            assert_eq!(number("gap_mm"), point["gap_mm"].as_f64());
            assert_eq!(number("height_mm"), point["height_mm"].as_f64());
        }
        for row in of("missing-point") {
            assert_eq!(cell(row, "verdict"), "undecided");
            assert_eq!(cell(row, "hits_required"), "3");
        }
    }
    assert!(rows.iter().all(|row| cell(row, "folder") != "no-file"));
}

#[test]
fn the_overview_names_what_keeps_coming_back_what_is_overdue_and_which_gauge_has_expired() {
    let (home, tree) = tree();
    let due = "next_due = 2026-09-30\n";
    // An earlier visit of the same gate is not overdue: the later one came instead.
    for visit in ["north/2026-06", "north/2026-03"] {
        edit(
            &tree.join(visit).join("gate.toml"),
            "[handover] ",
            &format!("[handover]\n{due}"),
        );
    }
    // Over once, and the later visit has too few hits to say more.
    gate(&tree.join("south/1"), "visit-1", "closing-500-50");
    gate(&tree.join("south/2"), "visit-2", "closing-50-900");
    rename(&tree.join("south/1"), "South gate (invented)");
    rename(&tree.join("south/2"), "South gate (invented)");
    for visit in ["east", "west", "no-place", "south/2"] {
        edit(&tree.join(visit).join("gate.toml"), due, "");
    }
    let ran = archive(home.path(), "out", &["--json"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(record["schema"], "relent.archive/1");
    let unresolved = &record["over_and_not_assessed_in_full_since"];
    assert_eq!(unresolved, &serde_json::json!(["south/1"]));
    assert_eq!(record["overdue"], serde_json::json!(["north/2026-06"]));
    let often = record["over_on_several_visits"].as_array().unwrap();
    assert_eq!(often.len(), 1, "{often:?}");
    assert_eq!(
        often[0]["visits"],
        serde_json::json!(["2026-03-17", "2026-06-17"])
    );
    assert_eq!(
        often[0]["test_point"],
        serde_json::json!({ "direction": "closing", "hazard": "closing-edge", "gap_mm": 500.0, "height_mm": 50.0 })
    );
    assert_eq!(record["expired_gauges"][0]["calibration_due"], "2026-09-07");
    assert_eq!(record["folders"]["over"], 3);
    assert_eq!(record["gates_as_of_their_last_visit"]["over"], 1);
    for output in record["outputs"].as_array().unwrap() {
        let bytes = fs::read(
            home.path()
                .join("out")
                .join(output["file"].as_str().unwrap()),
        )
        .unwrap();
        assert_eq!(output["sha256"], relent::ingest::sha256(&bytes));
    }
    let page = fs::read_to_string(home.path().join("out/overview.html")).unwrap();
    assert!(page.contains("&lt;b&gt;East &amp; West&lt;/b&gt;") && !page.contains("<b>East"));
    for words in [
        "2026-03-17, 2026-06-17",
        "2026-09-30",
        "until 2026-09-07",
        "leaf_mas_kg",
    ] {
        assert!(page.contains(words), "{words}");
    }
    let earlier = archive(home.path(), "early", &["--json", "--today", "2026-08-01"]);
    assert_eq!(earlier.status, 2, "an option given twice");
    let ran = relent(
        home.path(),
        &[
            "archive",
            "tree",
            "--out",
            "early",
            "--today",
            "2026-08-01",
            "--json",
        ],
    );
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(
        (&record["overdue"], &record["expired_gauges"]),
        (&serde_json::json!([]), &serde_json::json!([]))
    );
}

/// How many folders a run assessed, from its summary.
fn assessed(ran: &Ran) -> usize {
    match ran
        .out
        .lines()
        .nth(1)
        .and_then(|line| line.split_once(" assessed now"))
    {
        Some((count, _)) => count.parse().unwrap(),
        None => ran.out.split_once(' ').unwrap().0.parse().unwrap(),
    }
}

#[test]
fn a_second_run_assesses_only_what_changed_and_what_could_not_be_assessed() {
    let (home, tree) = tree();
    let first = archive(home.path(), "out", &[]);
    assert_eq!(assessed(&first), 6);
    let before = outputs(&home.path().join("out"));
    let second = archive(home.path(), "out", &[]);
    assert_eq!(assessed(&second), 1, "{}", second.out);
    assert_eq!(outputs(&home.path().join("out")), before);
    // The size stays, the content and the time do not.
    let log = tree
        .join("east/logs")
        .join(names(&tree.join("east/logs")).remove(0));
    let mut bytes = fs::read(&log).unwrap();
    bytes.reverse();
    fs::write(&log, bytes).unwrap();
    age(&tree.join("east"));
    let third = archive(home.path(), "out", &[]);
    assert!(assessed(&third) >= 2, "{}", third.out);
    let rows = table(&home.path().join("out/gates.csv"));
    assert_eq!(cell(&rows[0], "state"), "undecided");
    fs::remove_file(&log).unwrap();
    fs::remove_dir_all(tree.join("west")).unwrap();
    let fourth = archive(home.path(), "out", &[]);
    assert_eq!(assessed(&fourth), 2, "{}", fourth.out);
    let fresh = archive(home.path(), "fresh", &[]);
    assert_eq!(assessed(&fresh), 5);
    assert_eq!(
        outputs(&home.path().join("out")),
        outputs(&home.path().join("fresh"))
    );
    assert_eq!(assessed(&archive(home.path(), "out", &["--anew"])), 5);
    assert_eq!(
        assessed(&archive(home.path(), "out", &["--profile", "en12453-2000"])),
        5
    );
    let rows = table(&home.path().join("out/gates.csv"));
    assert_eq!(cell(&rows[0], "profile"), "en12453-2000");
}

#[test]
fn a_file_that_a_gate_file_names_elsewhere_counts_among_its_files() {
    let home = tempfile::tempdir().unwrap();
    let tree = home.path().join("tree");
    gate(&tree.join("a"), "visit-2", "closing-50-900");
    gate(&home.path().join("before"), "visit-1", "closing-50-900");
    edit(
        &tree.join("a/gate.toml"),
        "kind = ",
        "earlier = [\"../../before\"]\nkind = ",
    );
    age(&tree);
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 1);
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 0);
    let name = names(&home.path().join("before/logs")).remove(0);
    let own = names(&tree.join("a/logs")).remove(0);
    fs::copy(
        tree.join("a/logs").join(own),
        home.path().join("before/logs").join(name),
    )
    .unwrap();
    age(home.path());
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 1);
    let rows = table(&home.path().join("out/findings.csv"));
    assert!(
        rows.iter()
            .any(|row| cell(row, "reasons").contains("(../../before)"))
    );
}

#[test]
fn a_torn_or_damaged_line_of_the_journal_is_no_line() {
    let (home, _) = tree();
    archive(home.path(), "out", &[]);
    let before = outputs(&home.path().join("out"));
    let journal = home.path().join("out/archive.journal");
    let whole = fs::read(&journal).unwrap();
    let lines = whole.iter().filter(|byte| **byte == b'\n').count();
    assert_eq!(lines, 5);
    fs::write(&journal, &whole[..whole.len() - 100]).unwrap();
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 2);
    assert_eq!(outputs(&home.path().join("out")), before);
    let mut damaged = fs::read(&journal).unwrap();
    let middle = damaged.len() / 2;
    damaged[middle..middle + 50].fill(0);
    fs::write(&journal, damaged).unwrap();
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 2);
    assert_eq!(outputs(&home.path().join("out")), before);
    // A result that somebody wrote better is not one of ours.
    let better = String::from_utf8(fs::read(&journal).unwrap())
        .unwrap()
        .replacen("\"verdict\":\"over\"", "\"verdict\":\"fine\"", 1);
    fs::write(&journal, better).unwrap();
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 2);
    assert_eq!(outputs(&home.path().join("out")), before);
}

#[test]
fn a_run_that_was_killed_at_any_moment_ends_with_the_bytes_of_one_that_was_not() {
    let (home, _) = tree();
    let start = Instant::now();
    archive(home.path(), "whole", &[]);
    let length = start.elapsed();
    let expected = outputs(&home.path().join("whole"));
    let mut killed = 0;
    for moment in 1..=12 {
        let out = format!("out-{}", moment % 3);
        let mut child = Command::new(env!("CARGO_BIN_EXE_relent"))
            .args(["archive", "tree", "--out", &out, "--today", "2026-11-25"])
            .current_dir(home.path())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(length * moment / 13);
        child.kill().unwrap();
        killed += usize::from(child.wait().unwrap().code().is_none());
    }
    assert!(killed > 0, "no run was killed before its end");
    for out in ["out-0", "out-1", "out-2"] {
        let ran = archive(home.path(), out, &[]);
        assert_eq!(ran.status, 2, "{}", ran.err);
        let folder = home.path().join(out);
        assert_eq!(outputs(&folder), expected, "{out}");
        let mut all: Vec<&str> = OUTPUTS.to_vec();
        all.push("archive.journal");
        all.sort_unstable();
        assert_eq!(names(&folder), all, "{out}: files left behind");
    }
}

#[test]
fn two_runs_at_once_into_one_folder_are_told_apart() {
    let (home, _) = tree();
    fs::create_dir(home.path().join("out")).unwrap();
    let held = File::open(home.path().join("out")).unwrap();
    held.lock().unwrap();
    let ran = archive(home.path(), "out", &[]);
    assert_eq!(ran.status, 2);
    assert!(
        ran.err
            .contains("another `relent archive` is writing to out"),
        "{}",
        ran.err
    );
    drop(held);
    assert_eq!(assessed(&archive(home.path(), "out", &[])), 6);
}

#[test]
fn a_tree_without_a_gate_folder_and_one_that_is_not_there_are_errors() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(archive(home.path(), "out", &[]).status, 2);
    fs::create_dir(home.path().join("tree")).unwrap();
    let ran = archive(home.path(), "out", &[]);
    assert_eq!(ran.status, 2);
    assert!(
        ran.err.contains("gate.toml") && ran.err.contains("relent new"),
        "{}",
        ran.err
    );
}

#[cfg(not(feature = "parquet"))]
#[test]
fn parquet_is_refused_by_a_build_without_it_and_the_complaint_says_how_to_get_it() {
    let (home, _) = tree();
    let ran = archive(home.path(), "out", &["--parquet"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("--features parquet"), "{}", ran.err);
}

#[test]
fn the_help_names_every_column_of_both_tables() {
    let help = relent(Path::new("."), &["archive", "--help"]).out;
    let (home, _) = tree();
    archive(home.path(), "out", &[]);
    for file in ["gates.csv", "findings.csv"] {
        let head = fs::read_to_string(home.path().join("out").join(file)).unwrap();
        for column in head.lines().next().unwrap().split(',') {
            assert!(help.contains(&format!("\n  {column} ")), "{file}: {column}");
        }
    }
}

#[test]
fn a_report_of_which_a_part_is_that_of_another_run_is_told_in_the_row_of_its_gate() {
    let home = tempfile::tempdir().unwrap();
    gate(&home.path().join("tree/a"), "visit-1", "closing-500-50");
    assert_eq!(relent(home.path(), &["assess", "tree/a"]).status, 1);
    let arguments = ["archive", "tree", "--out", "out", "--today", "2026-11-25"];
    let rows = || {
        assert_eq!(relent(home.path(), &arguments).status, 1);
        fs::read_to_string(home.path().join("out/gates.csv")).unwrap()
    };
    let told = "report: altered: findings.csv differs from its digest in report.sha256";
    assert!(!rows().contains(told));
    let table = home.path().join("tree/a/report/findings.csv");
    let text = fs::read_to_string(&table).unwrap();
    fs::write(&table, text.replace("over", "within")).unwrap();
    let row = rows();
    assert!(row.contains(told), "{row}");
}
