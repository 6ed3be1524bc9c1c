//! `relent recheck`: what holds, what was altered, what differs, what cannot be checked any more.

use std::fs;
use std::path::Path;

use relent::ingest::sha256;
use relent::record::body::Body;
use relent::record::seal::{open, seal};
use serde_json::Value;

use crate::run::{Ran, edit, relent, sealed, snapshot, visit};

fn recheck(folder: &Path, arguments: &[&str]) -> Ran {
    relent(folder, &[&["recheck"], arguments].concat())
}

fn lines(ran: &Ran) -> Vec<Value> {
    let lines = ran.out.lines();
    lines
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

/// Changes what a record holds and seals it anew, as a forger would, or a version of relent that came to other numbers.
fn reseal(gate: &Path, change: impl FnOnce(&mut Body)) {
    let path = gate.join("report/record.json");
    let mut body = open(&fs::read(&path).unwrap()).unwrap().body;
    change(&mut body);
    let old = sha256(&fs::read(&path).unwrap());
    let record = seal(&body).unwrap();
    edit(&gate.join("report/report.sha256"), &old, &sha256(&record));
    fs::write(path, record).unwrap();
}

#[test]
fn an_untouched_visit_gives_the_same_numbers() {
    let (home, _gate) = sealed("visit-1");
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    snapshot("recheck-same", &ran.out);
    let json = &lines(&recheck(home.path(), &["gate", "--json"]))[0];
    assert_eq!(json["schema"], "relent.recheck/1");
    assert_eq!(
        (json["kind"].as_str(), json["state"].as_str()),
        (Some("record"), Some("same"))
    );
    assert_eq!(json["record"]["same_logs"], 24);
    assert_eq!(json["record"]["verdict_recorded"], "over");
    assert_eq!(json["verdict"], "over");
}

#[test]
fn a_flipped_byte_in_a_log_is_altered_whether_its_samples_changed_or_not() {
    let (home, gate) = sealed("visit-1");
    let log = gate.join("logs/closing-300-900-1.csv");
    let mut bytes = fs::read(&log).unwrap();
    // The last digit of the force of a row in the middle: time, force, position.
    let middle = bytes.len() / 2;
    let row = middle + bytes[middle..].iter().position(|it| *it == b'\n').unwrap();
    let digit = bytes[..row].iter().rposition(|it| *it == b',').unwrap() - 1;
    bytes[digit] ^= 1;
    fs::write(&log, &bytes).unwrap();
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.starts_with("altered"), "{}", ran.out);
    assert!(
        ran.out
            .contains("closing-300-900-1.csv: other samples than those that were sealed")
    );
    bytes[digit] ^= 1;
    bytes.push(b'\n');
    fs::write(&log, &bytes).unwrap();
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 1);
    assert!(
        ran.out.contains("same samples, written differently"),
        "{}",
        ran.out
    );
}

#[test]
fn a_log_that_is_gone_leaves_the_others_to_be_checked_and_the_verdict_not() {
    let (home, gate) = sealed("visit-1");
    fs::remove_file(gate.join("logs/closing-300-50-2.txt")).unwrap();
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    snapshot("recheck-log-gone", &ran.out);
    let json = &lines(&recheck(home.path(), &["gate", "--json"]))[0];
    assert_eq!(json["state"], "cannot-be-checked");
    assert_eq!(json["record"]["same_logs"], 23);
    assert_eq!(
        json["record"]["changed_logs"][0]["file"],
        "closing-300-50-2.txt"
    );
    assert!(json.get("verdict").is_none());
}

#[test]
fn a_changed_gate_file_is_told_and_the_one_in_the_record_is_checked() {
    let (home, gate) = sealed("visit-1");
    edit(
        &gate.join("gate.toml"),
        "profile = \"en12453-2017\"",
        "profile = \"en16005-2012\"",
    );
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 1);
    snapshot("recheck-gate-file-changed", &ran.out);
    fs::remove_file(gate.join("gate.toml")).unwrap();
    let ran = recheck(home.path(), &["gate/report/record.json"]);
    assert_eq!(ran.status, 3);
    assert!(
        ran.out.contains("the gate file is not in gate"),
        "{}",
        ran.out
    );
}

#[test]
fn numbers_that_come_out_otherwise_are_told_one_by_one_with_both_versions() {
    let (home, gate) = sealed("visit-1");
    reseal(&gate, |body| {
        body.build.version = "0.0.9".to_owned();
        let measured = body.logs[0].measured.as_mut().unwrap();
        *measured.measures.get_mut("peak_force_n").unwrap() += 1.5;
        let finding = &mut body.found.findings[0];
        *finding.numbers.get_mut("value_n").unwrap() += 0.5;
    });
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 1);
    assert!(ran.out.starts_with("numbers differ"), "{}", ran.out);
    assert!(
        ran.out
            .contains("2 come out otherwise (relent 0.0.9 → relent 0.1.0):"),
        "{}",
        ran.out
    );
    let json = &lines(&recheck(home.path(), &["gate", "--json"]))[0];
    let differences = json["record"]["differences"].as_array().unwrap();
    assert_eq!(differences.len(), 2);
    let (finding, log) = (&differences[0], &differences[1]);
    assert!(
        finding["key"]
            .as_str()
            .unwrap()
            .ends_with("].numbers.value_n"),
        "{finding}"
    );
    assert_eq!(
        log["key"],
        "logs[closing-50-50-1.csv].measured.measures.peak_force_n"
    );
    let by = log["recorded"].as_f64().unwrap() - log["now"].as_f64().unwrap();
    assert!((by - 1.5).abs() < 1e-9);
}

#[test]
fn a_forged_verdict_that_was_sealed_anew_does_not_come_out_of_the_logs() {
    let (home, gate) = sealed("visit-1");
    reseal(&gate, |body| {
        body.found.verdict = relent::verdict::Verdict::Within;
    });
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 1);
    assert!(
        ran.out
            .contains("verdict recorded: within the limit; now: over the limit"),
        "{}",
        ran.out
    );
}

#[test]
fn digits_that_two_machines_round_differently_count_as_the_same_and_are_told() {
    let (home, gate) = sealed("visit-1");
    reseal(&gate, |body| {
        let measured = body.logs[0].measured.as_mut().unwrap();
        *measured.measures.get_mut("impulse_ns").unwrap() *= 1.0 + 1e-14;
    });
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(
        ran.out.contains(
            "1 number differs in digits that two machines round differently, and counts as the same"
        ),
        "{}",
        ran.out
    );
}

#[test]
fn a_log_that_came_later_is_told() {
    let (home, gate) = sealed("visit-1");
    let old = gate.join("logs/closing-300-50-2.txt");
    fs::copy(old, gate.join("logs/closing-500-1500-1.txt")).unwrap();
    let ran = recheck(home.path(), &["gate"]);
    assert_eq!(ran.status, 0);
    assert!(
        ran.out
            .contains("not in the record: closing-500-1500-1.txt"),
        "{}",
        ran.out
    );
}

#[test]
fn another_edition_shows_which_verdicts_turn_and_why() {
    let (home, _gate) = sealed("visit-1");
    let ran = recheck(home.path(), &["gate", "--profile", "en16005-2012"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    snapshot("recheck-other-edition", &ran.out);
    let json = &lines(&recheck(
        home.path(),
        &["gate", "--profile", "en16005-2012", "--json"],
    ))[0];
    let reassessed = &json["reassessed"];
    assert_eq!(reassessed["verdict_then"], "over");
    assert_eq!(reassessed["verdict_now"], "undecided");
    let changed = reassessed["changed"].as_array().unwrap();
    let turned = changed
        .iter()
        .find(|turn| turn["then"]["verdict"] == "over" && turn["now"]["verdict"] == "within");
    let turned = turned.unwrap();
    // The limits are those of the two editions, published for a gap of 500 mm. The other states no number of hits: each has to hold by
    // itself, and the greatest is not below the mean.
    assert_eq!(turned["then"]["limit_value"], 400.0);
    assert_eq!(turned["now"]["limit_value"], 700.0);
    assert!(turned["now"]["value"].as_f64() >= turned["then"]["value"].as_f64());
    assert_eq!(json["state"], "same");
}

#[test]
fn a_stricter_profile_of_ones_own_turns_what_was_within() {
    let (home, _gate) = sealed("visit-2");
    let overlay = "extends = \"en12453-2017\"\nname = \"stricter\"\n\n[[confirm]]\nlimit = \"peak-force-closing-edge-50-to-500\"\n\
                   value = 250\nunit = \"N\"\nconfirmed_on = \"2026-03-02\"\nconfirmed_from = \"an invented copy\"\n";
    fs::write(home.path().join("stricter.toml"), overlay).unwrap();
    assert_eq!(recheck(home.path(), &["gate"]).status, 0);
    let ran = recheck(home.path(), &["gate", "--profile", "stricter.toml"]);
    assert_eq!(ran.status, 1);
    assert!(
        ran.out
            .contains("under stricter: within the limit → over the limit"),
        "{}",
        ran.out
    );
    assert!(
        ran.out
            .contains("limit 250 N (stricter/peak-force-closing-edge-50-to-500): over the limit")
    );
}

#[test]
fn points_that_another_profile_wants_and_that_have_no_hit_are_newly_missing() {
    let (home, _gate) = sealed("visit-2");
    let source = relent::limits::source("en12453-2017").unwrap();
    assert!(source.contains("repeats = 3"));
    fs::write(
        home.path().join("four.toml"),
        source.replace("repeats = 3", "repeats = 4").replacen(
            "name = \"en12453-2017\"",
            "name = \"four\"",
            1,
        ),
    )
    .unwrap();
    let ran = recheck(home.path(), &["gate", "--profile", "four.toml"]);
    assert_eq!(ran.status, 3);
    assert!(
        ran.out.contains(
            "newly missing: closing, gap 50 mm, height 50 mm: 3 of 4 required hits recorded"
        ),
        "{}",
        ran.out
    );
    assert_eq!(ran.out.matches("newly missing").count(), 9);
}

#[test]
fn a_tree_is_checked_whole_and_a_bad_one_does_not_stop_the_rest() {
    let home = tempfile::tempdir().unwrap();
    for name in ["a", "b", "c"] {
        let (_away, gate) = sealed("visit-2");
        fs::rename(gate, home.path().join(name)).unwrap();
    }
    let (_away, gate) = visit("visit-1");
    fs::rename(gate, home.path().join("d")).unwrap();
    let log = home.path().join("d/logs/closing-300-900-1.csv");
    fs::create_dir(home.path().join("old")).unwrap();
    fs::copy(&log, home.path().join("old/loose.csv")).unwrap();
    fs::write(home.path().join("b/report/record.json"), "{}").unwrap();
    fs::write(home.path().join("c/logs/closing-300-900-1.csv"), "").unwrap();
    let ran = recheck(home.path(), &["."]);
    assert_eq!(ran.status, 2, "{}{}", ran.out, ran.err);
    snapshot("recheck-tree", &ran.out);
    let json = lines(&recheck(home.path(), &[".", "--json"]));
    let states: Vec<(&str, &str)> = json
        .iter()
        .map(|line| {
            (
                line["kind"].as_str().unwrap(),
                line["state"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        states,
        [
            ("record", "same"),
            ("record", "failed"),
            ("record", "altered"),
            ("gate", "not-sealed"),
            ("log", "not-sealed"),
        ]
    );
}

#[test]
fn what_is_not_a_record_as_it_was_sealed_is_refused_each_with_what_helps() {
    let (home, gate) = sealed("visit-1");
    let path = gate.join("report/record.json");
    let good = fs::read(&path).unwrap();
    let value: Value = serde_json::from_slice(&good).unwrap();
    let mut flipped = good.clone();
    flipped[good.len() / 2] ^= 1;
    let mut newer = open(&good).unwrap().body;
    newer.schema = "relent.record/3".to_owned();
    let pretty = serde_json::to_vec_pretty(&value).unwrap();
    let cases: [(&str, Vec<u8>, i32); 6] = [
        (
            "not-a-record",
            b"{\"schema\":\"relent.assessment/1\"}".to_vec(),
            2,
        ),
        ("no-json", b"force;time\n1;2\n".to_vec(), 2),
        ("truncated", good[..good.len() - 200].to_vec(), 1),
        ("flipped", flipped, 1),
        ("pretty", pretty, 1),
        ("newer", seal(&newer).unwrap(), 3),
    ];
    for (name, bytes, status) in cases {
        fs::write(&path, bytes).unwrap();
        let ran = recheck(home.path(), &["gate/report/record.json"]);
        assert_eq!(ran.status, status, "{name}: {}", ran.out);
        snapshot(&format!("recheck-{name}"), &ran.out);
    }
}

#[test]
fn a_record_that_was_moved_away_from_its_gate_takes_the_folder_from_the_command_line() {
    let (home, gate) = sealed("visit-2");
    fs::rename(
        gate.join("report/record.json"),
        home.path().join("kept.json"),
    )
    .unwrap();
    let lost = recheck(home.path(), &["kept.json"]);
    assert_eq!(lost.status, 3);
    assert!(
        lost.out.contains("cannot be checked: closing-50-50-1.csv"),
        "{}",
        lost.out
    );
    let ran = recheck(home.path(), &["kept.json", "--gate", "gate"]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    let two = recheck(home.path(), &["gate", "--gate", "gate"]);
    assert_eq!(two.status, 2);
    snapshot("recheck-gate-for-no-record", &two.err);
}

#[test]
fn a_report_of_which_a_file_is_another_or_gone_is_told_by_its_list_of_digests() {
    let (home, gate) = sealed("visit-1");
    let report = gate.join("report");
    let checked = || {
        let ran = recheck(home.path(), &["gate", "--json"]);
        (
            ran.status,
            lines(&ran)[0]["record"]["changed_files"].clone(),
        )
    };
    assert_eq!(checked(), (0, serde_json::json!([])));
    let sums = std::process::Command::new("sha256sum")
        .args(["--check", "--strict", "report.sha256"])
        .current_dir(&report)
        .output()
        .unwrap();
    assert_eq!(String::from_utf8(sums.stdout).unwrap().lines().count(), 5);
    assert!(sums.status.success());
    let table = fs::read(report.join("findings.csv")).unwrap();
    edit(
        &report.join("findings.csv"),
        "over the limit",
        "within the limit",
    );
    let altered = serde_json::json!([{ "code": "altered", "file": "findings.csv" }]);
    assert_eq!(checked(), (1, altered));
    snapshot(
        "recheck-report-altered",
        &recheck(home.path(), &["gate"]).out,
    );
    fs::remove_file(report.join("findings.csv")).unwrap();
    let (status, changes) = checked();
    assert_eq!((status, &changes[0]["code"]), (3, &"gone".into()));
    fs::write(report.join("findings.csv"), table).unwrap();
    let list = fs::read_to_string(report.join("report.sha256")).unwrap();
    let without: String = list
        .split_inclusive('\n')
        .filter(|line| !line.contains("record.json"))
        .collect();
    fs::write(report.join("report.sha256"), without).unwrap();
    let not_listed = serde_json::json!([{ "code": "not-listed", "file": "record.json" }]);
    assert_eq!(checked(), (1, not_listed));
    fs::write(
        report.join("report.sha256"),
        list.replace("findings.csv", "../gate.toml"),
    )
    .unwrap();
    assert_eq!(checked().1[0]["code"], "no-list");
    fs::remove_file(report.join("report.sha256")).unwrap();
    assert_eq!(checked().0, 3);
}

#[test]
fn a_record_that_leads_out_of_the_folder_above_it_is_not_followed_unless_a_gate_folder_is_named() {
    for (name, elsewhere) in [("absolute", "/etc"), ("beside", "../../other")] {
        let (home, gate) = sealed("visit-1");
        reseal(&gate, |body| body.gate_folder = elsewhere.to_owned());
        let ran = recheck(home.path(), &["gate/report/record.json"]);
        assert_eq!(ran.status, 3, "{name}: {}", ran.out);
        let said = format!("the record leads to {elsewhere}, out of the folder that it lies in");
        assert!(ran.out.contains(&said), "{name}: {}", ran.out);
        let named = ["gate/report/record.json", "--gate", "gate"];
        assert_eq!(recheck(home.path(), &named).status, 0, "{name}");
    }
    let (home, gate) = sealed("visit-1");
    reseal(&gate, |body| {
        body.sources.gate_file.name = "../secret".to_owned();
    });
    fs::write(home.path().join("secret"), "not its own").unwrap();
    let ran = recheck(home.path(), &["gate/report/record.json"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    assert!(ran.out.contains("leads to ../secret"), "{}", ran.out);
}

#[test]
fn nothing_to_check_and_a_path_that_is_not_there_are_told() {
    let home = tempfile::tempdir().unwrap();
    let empty = recheck(home.path(), &["."]);
    assert_eq!(empty.status, 2);
    snapshot("recheck-nothing", &empty.err);
    let missing = recheck(home.path(), &["away"]);
    assert_eq!(missing.status, 2);
    assert!(missing.err.contains("cannot read away"), "{}", missing.err);
}
