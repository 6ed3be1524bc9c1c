//! `relent assess --seal`: what the sealed record holds, and where its digest stands.

use std::fs;
use std::process::Command;

use relent::record::body::Body;
use relent::record::seal::open;

use crate::run::{demo, edit, names, relent, snapshot, visit};

/// SHA-256 of a file as sha256sum, a program from outside, has it.
pub fn sha256sum(path: &std::path::Path) -> String {
    let output = Command::new("sha256sum").arg(path).output().unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    text.split_whitespace().next().unwrap().to_owned()
}

fn sealed(gate: &std::path::Path) -> Body {
    let bytes = fs::read(gate.join("report/record.json")).unwrap();
    open(&bytes).unwrap().body
}

#[test]
fn a_sealed_record_holds_the_texts_and_the_digests_that_sha256sum_prints() {
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", ".", "--seal"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("Sealed record: ./report/record.json"));
    let body = sealed(&gate);
    let text = fs::read_to_string(gate.join("gate.toml")).unwrap();
    assert_eq!(body.sources.gate_file.text, text);
    assert_eq!(
        body.sources.gate_file.sha256,
        sha256sum(&gate.join("gate.toml"))
    );
    assert_eq!(body.sources.profile.asked, "en12453-2017");
    assert_eq!(
        body.sources.profile.text.text,
        relent::limits::source("en12453-2017").unwrap()
    );
    assert_eq!(body.logs.len(), 24);
    assert_eq!(body.logs.len(), names(&gate.join("logs")).len());
    for log in &body.logs {
        let file = gate.join("logs").join(&log.file);
        assert_eq!(log.sha256, sha256sum(&file), "{}", log.file);
        assert_eq!(log.size_bytes, fs::metadata(&file).unwrap().len());
        assert_eq!(log.samples_sha256.as_ref().unwrap().len(), 64);
    }
    assert_eq!(body.gate_folder, "..");
}

#[test]
fn every_sheet_of_the_report_carries_the_digest_of_the_record_under_the_records_name() {
    let (_home, gate) = crate::run::sealed("visit-1");
    let digest = sha256sum(&gate.join("report/record.json"));
    for page in ["report.html", "must-not-stay.html"] {
        let text = fs::read_to_string(gate.join("report").join(page)).unwrap();
        let foot = format!("@bottom-left {{ content: \"record.json {digest}\";");
        assert!(text.contains(&foot), "{page}");
        assert!(!text.contains("content: \"assessment.json"), "{page}");
    }
    let page = fs::read_to_string(gate.join("report/report.html")).unwrap();
    assert!(page.contains("SHA-256 of record.json: <span class=\"digest\">"));
    let (_home, plain) = visit("visit-1");
    relent(&plain, &["assess", "."]);
    let digest = sha256sum(&plain.join("report/assessment.json"));
    let page = fs::read_to_string(plain.join("report/report.html")).unwrap();
    assert!(page.contains(&format!("content: \"assessment.json {digest}\"")));
    assert!(!names(&plain.join("report")).contains(&"record.json".to_owned()));
}

#[test]
fn sealing_the_same_state_again_changes_nothing_and_another_state_is_not_written_over_it() {
    let (_home, gate) = crate::run::sealed("visit-1");
    let record = gate.join("report/record.json");
    let first = fs::read(&record).unwrap();
    assert_eq!(relent(&gate, &["assess", ".", "--seal"]).status, 1);
    assert_eq!(fs::read(&record).unwrap(), first);
    edit(
        &gate.join("gate.toml"),
        "leaf_mass_kg = 420",
        "leaf_mass_kg = 421",
    );
    let page = fs::read(gate.join("report/report.html")).unwrap();
    let refused = relent(&gate, &["assess", ".", "--seal"]);
    assert_eq!(refused.status, 2);
    snapshot("seal-another-state", &refused.err);
    assert_eq!(fs::read(&record).unwrap(), first);
    assert_eq!(fs::read(gate.join("report/report.html")).unwrap(), page);
    let elsewhere = relent(&gate, &["assess", ".", "--seal", "--report", "again"]);
    assert_eq!(elsewhere.status, 1, "{}", elsewhere.err);
    assert_ne!(fs::read(gate.join("again/record.json")).unwrap(), first);
}

#[test]
fn a_report_without_a_seal_is_not_written_over_a_sealed_one() {
    let (_home, gate) = crate::run::sealed("visit-1");
    let files = || -> Vec<Vec<u8>> {
        let report = gate.join("report");
        let files = names(&report).into_iter();
        files
            .map(|name| fs::read(report.join(name)).unwrap())
            .collect()
    };
    let before = files();
    let ran = relent(&gate, &["assess", "."]);
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    snapshot("seal-report-without", &ran.err);
    assert_eq!(files(), before);
    assert_eq!(relent(&gate, &["assess", ".", "--no-report"]).status, 1);
}

#[test]
fn an_overlay_is_held_with_the_profile_that_it_extends_and_says_who_named_it() {
    let (_home, gate) = visit("visit-2");
    let overlay = "extends = \"en12453-2017\"\nname = \"own-2017\"\n\n[[confirm]]\nlimit = \"static-force\"\n\
                   value = 140\nunit = \"N\"\nconfirmed_on = \"2026-03-02\"\nconfirmed_from = \"an invented copy\"\n";
    fs::write(gate.join("own.toml"), overlay).unwrap();
    relent(&gate, &["assess", ".", "--seal", "--profile", "own.toml"]);
    let body = sealed(&gate);
    let held = &body.sources.profile;
    assert_eq!(held.text.text, overlay);
    assert_eq!(held.text.sha256, sha256sum(&gate.join("own.toml")));
    assert_eq!(held.extends.as_ref().unwrap().name, "en12453-2017");
    assert_eq!(serde_json::to_value(held.asked_by).unwrap(), "command-line");
    // The overlay on the disk is no longer needed.
    fs::remove_file(gate.join("own.toml")).unwrap();
    let again = relent(&gate, &["recheck", "report/record.json"]);
    assert_eq!(again.status, 0, "{}{}", again.out, again.err);
}

#[test]
fn the_logs_of_an_earlier_visit_are_held_by_their_digests() {
    let home = tempfile::tempdir().unwrap();
    for file in demo() {
        let path = home.path().join(&file.path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, &file.bytes).unwrap();
    }
    let ran = relent(
        home.path(),
        &["assess", "visit-2", "--seal", "--earlier", "visit-1"],
    );
    assert_eq!(ran.status, 0, "{}", ran.err);
    let body = sealed(&home.path().join("visit-2"));
    assert_eq!(body.sources.earlier.len(), 24);
    // The earlier visit is not needed either.
    fs::remove_dir_all(home.path().join("visit-1")).unwrap();
    let again = relent(home.path(), &["recheck", "visit-2"]);
    assert_eq!(again.status, 0, "{}{}", again.out, again.err);
}
