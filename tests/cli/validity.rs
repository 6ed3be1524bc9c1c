//! Validity in time: changes after the test, expired and renewed certificates, copies of earlier logs.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;

use crate::run::{edit, names, relent, visit};

/// Adds a section to the gate file.
fn add(gate: &Path, section: &str) {
    let path = gate.join("gate.toml");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(path, format!("{text}\n{section}\n")).unwrap();
}

/// Both visits of the demo gate.
/// The two visits of the demo gate, without its firmware series.
fn visits() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let files = relent::impact::demo::files().unwrap();
    for file in files
        .into_iter()
        .filter(|file| file.path.starts_with("visit-"))
    {
        let path = home.path().join(file.path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, file.bytes).unwrap();
    }
    let folder = home.path().to_owned();
    (home, folder)
}

fn assessed(gate: &Path) -> (i32, Value) {
    let ran = relent(gate, &["assess", ".", "--no-report", "--json"]);
    let record = serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.err));
    (ran.status, record)
}

fn findings(record: &Value) -> &[Value] {
    record["findings"].as_array().unwrap()
}

const CHANGED: &str = "[[events]]\ndate = 2026-05-04\nkind = \"edge\"\nwords = \"shorter profile\"";

#[test]
fn a_change_after_the_test_makes_every_finding_not_current() {
    let (_home, gate) = visit("visit-2");
    add(&gate, CHANGED);
    let (status, record) = assessed(&gate);
    assert_eq!(status, 3);
    for finding in findings(&record) {
        assert_eq!(finding["verdict"], "undecided");
        let why = &finding["not_current"][0];
        assert_eq!(why["code"], "changed-after");
        assert_eq!(
            why["text"],
            "the edge was changed on 2026-05-04 (shorter profile), after the test on 2026-03-31"
        );
    }
}

#[test]
fn what_was_over_stays_over_after_a_change() {
    let (_home, gate) = visit("visit-1");
    let over = |record: &Value| {
        let all = findings(record).iter();
        all.filter(|finding| finding["verdict"] == "over").count()
    };
    let before = assessed(&gate).1;
    add(&gate, CHANGED);
    let (status, record) = assessed(&gate);
    assert_eq!(status, 1);
    assert_eq!(over(&record), over(&before));
    assert!(
        findings(&record)
            .iter()
            .all(|finding| finding["verdict"] != "within")
    );
}

#[test]
fn a_change_on_the_day_of_the_test_asks_whether_before_or_after_it() {
    let (_home, gate) = visit("visit-2");
    add(&gate, "[[events]]\ndate = 2026-03-31\nkind = \"setting\"");
    // The visit is one after a change: that change.
    assert_eq!(assessed(&gate).0, 0);
    edit(&gate.join("gate.toml"), "\"after-change\"", "\"recurring\"");
    let (status, record) = assessed(&gate);
    assert_eq!(status, 3);
    let why = &findings(&record)[0]["not_current"][0];
    assert_eq!(why["code"], "order-not-stated", "{why}");
    let say = |order: &str| format!("kind = \"setting\"\norder = \"{order}\"");
    edit(
        &gate.join("gate.toml"),
        "kind = \"setting\"",
        &say("before-the-test"),
    );
    assert_eq!(assessed(&gate).0, 0);
    edit(&gate.join("gate.toml"), "before-the-test", "after-the-test");
    assert_eq!(assessed(&gate).0, 3);
}

#[test]
fn an_expired_certificate_that_is_renewed_re_opens_the_findings() {
    let (_home, gate) = visit("visit-2");
    let file = gate.join("gate.toml");
    edit(
        &file,
        "calibration_due = 2026-09-07",
        "calibration_due = 2026-03-01",
    );
    let (status, record) = assessed(&gate);
    assert_eq!(status, 3);
    let uncovered = |record: &Value| {
        let reason = findings(record)[0]["reasons"][0].clone();
        assert_eq!(reason["code"], "not-current");
        reason["not_current"]["uncovered"].clone()
    };
    let expired = uncovered(&record);
    assert_eq!(
        (&expired["code"], &expired["until"]),
        (&Value::from("expired"), &Value::from("2026-03-01"))
    );
    // A new certificate alone covers tests from its own day on.
    add(
        &gate,
        "[[gauge.certificates]]\nnumber = \"C-77\"\ncalibrated_on = 2026-04-10",
    );
    let (status, record) = assessed(&gate);
    assert_eq!(status, 3);
    assert_eq!(uncovered(&record)["later"]["code"], "as-found-not-stated");
    // One that says how the gauge was found covers the time back to the calibration before.
    add(&gate, "as_found = \"within\"");
    let (status, record) = assessed(&gate);
    assert_eq!((status, &record["verdict"]), (0, &Value::from("within")));
    edit(&file, "as_found = \"within\"", "as_found = \"outside\"");
    assert_eq!(assessed(&gate).0, 3);
}

#[test]
fn the_visits_that_a_certificate_touches_are_listed() {
    let (_home, folder) = visits();
    add(
        &folder.join("visit-2"),
        "[[gauge.certificates]]\nnumber = \"C-77\"\ncalibrated_on = 2026-09-01\nas_found = \"outside\"",
    );
    let ran = relent(&folder, &["certificate", "C-77", ".", "--json"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    let list: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(list["schema"], "relent.certificate/1");
    assert_eq!(list["gauges"][0], "QO-0007 (invented)");
    let [first, second] = list["visits"].as_array().unwrap().as_slice() else {
        panic!("{}", ran.out);
    };
    assert_eq!(first["visit"], "2026-03-17");
    assert_eq!(first["touch"], "same-gauge");
    assert_eq!(first["calibration_covers"], true);
    assert_eq!(first["covers_with_certificate"], false);
    assert_eq!(second["touch"], "names-the-certificate");
    assert_eq!(second["calibration_covers"], false);
    assert_eq!(second["verdict"], "undecided");
    let text = relent(&folder, &["certificate", "C-77", "."]).out;
    assert!(text.starts_with("C-77 touches 2 visits."), "{text}");
    assert!(text.contains("found it outside its limits"), "{text}");
    let none = relent(&folder, &["certificate", "C-78", "."]);
    assert_eq!(
        none.out,
        "No visit names C-78 as its certificate or its gauge.\nThe gate files name: C-77; QO-0007 (invented)\n"
    );
}

#[test]
fn a_gate_file_that_cannot_be_read_stops_the_list() {
    let (_home, folder) = visits();
    fs::write(folder.join("visit-1/gate.toml"), "schema = 1").unwrap();
    let ran = relent(&folder, &["certificate", "C-77", "."]);
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
}

/// Puts a log of the first visit into the second under the name of one of its hits, with other line ends.
fn put_copy(folder: &Path, stem: &str) -> String {
    let name = |visit: &str| {
        let logs = names(&folder.join(visit).join("logs"));
        logs.into_iter()
            .find(|name| name.starts_with(stem))
            .unwrap()
    };
    let bytes = fs::read(folder.join("visit-1/logs").join(name("visit-1"))).unwrap();
    let plain: Vec<u8> = bytes
        .iter()
        .copied()
        .filter(|byte| *byte != b'\r')
        .collect();
    let ended = plain.iter().flat_map(|byte| match byte {
        b'\n' => vec![b'\r', b'\n'],
        other => vec![*other],
    });
    let ended: Vec<u8> = if plain == bytes {
        ended.collect()
    } else {
        plain
    };
    let into = folder.join("visit-2/logs").join(name("visit-2"));
    fs::write(into, ended).unwrap();
    name("visit-1")
}

#[test]
fn a_log_copied_from_an_earlier_visit_is_found_and_named() {
    let (_home, folder) = visits();
    let second = folder.join("visit-2");
    let log = put_copy(&folder, "closing-500-900-1");
    let alone = relent(&second, &["assess", ".", "--no-report"]);
    assert_eq!(
        alone.status, 0,
        "without the earlier visit nothing is known: {}",
        alone.out
    );
    let flag = [
        "assess",
        ".",
        "--no-report",
        "--json",
        "--earlier",
        "../visit-1",
    ];
    let by_flag = relent(&second, &flag);
    edit(
        &second.join("gate.toml"),
        "wind = \"none\"",
        "wind = \"none\"\nearlier = [\"../visit-1\"]",
    );
    let (status, record) = assessed(&second);
    assert_eq!((status, by_flag.status), (3, 3));
    let original = serde_json::json!({"log": log, "visited_on": "2026-03-17", "folder": "../visit-1", "alike": {"code": "samples"}});
    let copies: Vec<&Value> = findings(&record)
        .iter()
        .flat_map(|finding| finding["reasons"].as_array().unwrap())
        .filter(|reason| reason["limitation"]["code"] == "copy")
        .map(|reason| &reason["limitation"]["originals"][0])
        .collect();
    assert!(!copies.is_empty());
    assert!(copies.iter().all(|copy| **copy == original), "{copies:?}");
    assert!(
        by_flag.out.contains("of the visit on 2026-03-17"),
        "{}",
        by_flag.out
    );
    let digests: Vec<&Value> = record["logs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|log| &log["samples_sha256"])
        .collect();
    assert!(
        digests
            .iter()
            .all(|digest| digest.as_str().is_some_and(|it| it.len() == 64))
    );
}

#[test]
fn a_visit_is_not_earlier_than_itself() {
    let (_home, gate) = visit("visit-2");
    let ran = relent(&gate, &["assess", ".", "--no-report", "--earlier", "."]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("is this visit itself"), "{}", ran.err);
}
