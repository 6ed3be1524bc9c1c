//! `relent assess`: verdicts, files, exit statuses, and what a user is told when the work cannot be done.

use std::fs;

use serde_json::Value;

use crate::run::{edit, names, relent, visit};

#[test]
fn a_gate_over_a_limit_exits_with_1_and_writes_the_files_of_the_report_and_a_page_of_its_own() {
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", "."]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("over the limit"), "{}", ran.out);
    assert!(ran.out.contains("not tested"), "{}", ran.out);
    assert_eq!(
        names(&gate.join("report")),
        [
            "assessment.json",
            "findings.csv",
            "must-not-stay.html",
            "report.html",
            "report.sha256"
        ]
    );
    let page = fs::read_to_string(gate.join("report/report.html")).unwrap();
    assert!(page.ends_with("</html>") || page.ends_with("</html>\n"));
}

#[test]
fn a_gate_within_its_limits_exits_with_0() {
    let (_home, gate) = visit("visit-2");
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{}", ran.out);
    assert!(!gate.join("report").exists());
}

#[test]
fn a_gate_with_a_missing_hit_exits_with_3_and_names_the_point() {
    let (_home, gate) = visit("visit-2");
    fs::remove_file(gate.join("logs").join(log(&gate, "closing-50-900-2"))).unwrap();
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(ran.status, 3);
    assert!(ran.out.contains("2 of 3"), "{}", ran.out);
}

fn log(gate: &std::path::Path, stem: &str) -> String {
    let found = names(&gate.join("logs"))
        .into_iter()
        .find(|name| name.starts_with(stem));
    found.unwrap_or_else(|| panic!("no log {stem}"))
}

#[test]
fn an_assessment_as_json_keeps_its_contract() {
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", ".", "--json", "--no-report"]);
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(record["schema"], "relent.assessment/1");
    assert_eq!(record["verdict"], "over");
    assert_eq!(record["decision"], "simple");
    assert_eq!(record["profile"]["name"], "en12453-2017");
    assert_eq!(record["profile"]["confirmed"], false);
    let findings = record["findings"].as_array().unwrap();
    let over: Vec<&Value> = findings
        .iter()
        .filter(|finding| finding["verdict"] == "over")
        .collect();
    assert!(!over.is_empty());
    for finding in &over {
        assert_eq!(
            finding["limit"],
            "en12453-2017/peak-force-closing-edge-50-to-500"
        );
        assert_eq!(finding["limit_source"], "second-hand");
        assert_eq!(finding["test_point"]["gap_mm"], 500.0);
        assert_eq!(finding["test_point"]["height_mm"], 50.0);
        assert!(finding["value"].as_f64().unwrap() > finding["limit_value"].as_f64().unwrap());
    }
    assert_eq!(record["missing"].as_array().unwrap().len(), 1);
    assert_eq!(record["missing"][0]["hits_required"], 3);
    assert_eq!(record["missing"][0]["hits_recorded"], 0);
    assert_eq!(record["logs"].as_array().unwrap().len(), 24);
    assert!(
        record["logs"]
            .as_array()
            .unwrap()
            .iter()
            .all(|log| log["sha256"].as_str().unwrap().len() == 64)
    );
}

#[test]
fn another_edition_assesses_the_same_logs_and_the_record_says_which() {
    let (_home, gate) = visit("visit-2");
    let ran = relent(
        &gate,
        &[
            "assess",
            ".",
            "--json",
            "--no-report",
            "--profile",
            "en12453-2000",
        ],
    );
    let record: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(record["profile"]["name"], "en12453-2000");
}

/// One way to be wrong: what is done to the gate folder, the arguments, and words that the error must hold.
struct Wrong {
    what: &'static str,
    spoil: fn(&std::path::Path),
    arguments: &'static [&'static str],
    says: &'static [&'static str],
}

fn copy(gate: &std::path::Path, from: &str, to: &str) {
    fs::copy(
        gate.join("logs").join(log(gate, from)),
        gate.join("logs").join(to),
    )
    .unwrap();
}

const WRONGS: [Wrong; 7] = [
    Wrong {
        what: "a folder without a gate file",
        spoil: |gate| fs::remove_file(gate.join("gate.toml")).unwrap(),
        arguments: &["assess", "."],
        says: &["no gate file", "gate.toml"],
    },
    Wrong {
        what: "a folder that does not exist",
        spoil: |_| (),
        arguments: &["assess", "nowhere"],
        says: &["nowhere"],
    },
    Wrong {
        what: "a typo in a key of the gate file",
        spoil: |gate| edit(&gate.join("gate.toml"), "leaf_mass_kg", "leaf_mas_kg"),
        arguments: &["assess", "."],
        says: &["leaf_mas_kg", "leaf_mass_kg", "gate.toml:"],
    },
    Wrong {
        what: "a profile that does not exist",
        spoil: |gate| edit(&gate.join("gate.toml"), "en12453-2017", "en12453-2071"),
        arguments: &["assess", "."],
        says: &["en12453-2071", "en12453-2017", "relent limits"],
    },
    Wrong {
        what: "a profile file of one's own that does not exist",
        spoil: |_| (),
        arguments: &["assess", ".", "--profile", "ours.toml"],
        says: &["ours.toml"],
    },
    Wrong {
        what: "a report folder that is a file",
        spoil: |gate| fs::write(gate.join("report"), "mine").unwrap(),
        arguments: &["assess", "."],
        says: &["report"],
    },
    Wrong {
        what: "an unknown option",
        spoil: |_| (),
        arguments: &["assess", ".", "--fast"],
        says: &["--fast"],
    },
];

#[test]
fn work_that_cannot_be_done_exits_with_2_says_what_is_wrong_and_prints_no_result() {
    for wrong in WRONGS {
        let (_home, gate) = visit("visit-2");
        (wrong.spoil)(&gate);
        let ran = relent(&gate, wrong.arguments);
        assert_eq!(ran.status, 2, "{}: {}{}", wrong.what, ran.out, ran.err);
        assert_eq!(ran.out, "", "{}", wrong.what);
        for word in wrong.says {
            assert!(
                ran.err.contains(word),
                "{}: no {word:?} in:\n{}",
                wrong.what,
                ran.err
            );
        }
        let half = names(&gate).into_iter().chain(names(&gate.join("logs")));
        assert!(
            half.into_iter().all(|name| !name.ends_with(".part")),
            "{}",
            wrong.what
        );
    }
}

/// Files that have no place: the work goes on, the visit stays undecided, and each is named with what helps.
#[test]
fn a_file_that_has_no_place_leaves_the_visit_undecided_and_is_named() {
    let spoiled = [
        ("north side.csv", "{direction}-{gap}-{height}-{repeat}"),
        ("closing-050-900-01.csv", "repeat 1"),
        ("closing-9000-900-1.csv", "clear_opening_mm"),
        ("closing-50-9000-1.csv", "leaf_height_mm"),
    ];
    for (name, says) in spoiled {
        let (_home, gate) = visit("visit-2");
        copy(&gate, "closing-50-900-1", name);
        let ran = relent(&gate, &["assess", ".", "--no-report"]);
        assert_eq!(ran.status, 3, "{name}: {}{}", ran.out, ran.err);
        for word in [name, says] {
            assert!(
                ran.out.contains(word) && ran.err.contains(word),
                "{}{}",
                ran.out,
                ran.err
            );
        }
        assert!(ran.err.contains("help: "), "{}", ran.err);
    }
}

/// Logs that are no logs: the work goes on, the point stays undecided and the reason names the file.
#[test]
fn a_log_that_cannot_be_read_leaves_its_point_undecided_and_is_named() {
    let spoiled: [(&str, &[u8]); 3] = [
        ("empty", b""),
        ("binary", b"\x00\x01\x7fELF\x00\x00\x02\x00\x03\x00\x00\x00"),
        (
            "no force",
            b"time [s],temperature [C]\n0,20.1\n1,20.2\n2,20.2\n",
        ),
    ];
    for (what, bytes) in spoiled {
        let (_home, gate) = visit("visit-2");
        let name = log(&gate, "closing-50-900-1");
        fs::write(gate.join("logs").join(&name), bytes).unwrap();
        let ran = relent(&gate, &["assess", ".", "--no-report"]);
        assert_eq!(ran.status, 3, "{what}: {}{}", ran.out, ran.err);
        let joined = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains(&name), "{what}: {}", ran.out);
    }
}

#[test]
fn a_log_cut_in_the_middle_of_a_line_never_passes() {
    let (_home, gate) = visit("visit-2");
    let path = gate.join("logs").join(log(&gate, "closing-50-50-1"));
    let bytes = fs::read(&path).unwrap();
    fs::write(&path, &bytes[..bytes.len() / 2]).unwrap();
    let ran = relent(&gate, &["assess", ".", "--no-report"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
}

#[test]
fn names_that_would_be_markup_or_formulas_do_no_harm() {
    let (_home, gate) = visit("visit-2");
    let text = fs::read_to_string(gate.join("gate.toml")).unwrap();
    let named: Vec<String> = text
        .lines()
        .map(|line| {
            if line.starts_with("name = ") {
                "name = '=cmd()<script>alert(1)</script>'".to_owned()
            } else {
                line.to_owned()
            }
        })
        .collect();
    fs::write(gate.join("gate.toml"), named.join("\n")).unwrap();
    let ran = relent(&gate, &["assess", "."]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let page = fs::read_to_string(gate.join("report/report.html")).unwrap();
    assert!(page.contains("&lt;script&gt;alert(1)"));
    assert!(!page.contains("<script"));
    let table = fs::read_to_string(gate.join("report/findings.csv")).unwrap();
    assert!(
        !table
            .split(['\n', ','])
            .any(|cell| cell.trim_start_matches('"').starts_with("=cmd"))
    );
}
