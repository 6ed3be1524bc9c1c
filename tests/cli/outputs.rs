//! Outputs never take the place of inputs, nor of anything that relent did not write as the same kind.

use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

use crate::run::{Ran, demo, edit, names, relent, sealed};

/// A pull by hand along the travel.
const PULL: &str =
    "position_mm,force_N\n0,10\n100,60\n200,70\n300,70\n400,71\n500,69\n600,70\n700,70\n800,72\n";

/// A sealed visit with one of everything that must not be lost; what must not be lost, from the gate folder.
fn precious() -> (TempDir, PathBuf, Vec<&'static str>) {
    let (home, gate) = sealed("visit-1");
    let log = gate.join("logs/closing-50-50-1.csv");
    fs::write(
        gate.join("logger.toml"),
        "force = \"Load\"\nforce_unit = \"lbf\"\n",
    )
    .unwrap();
    let profile = relent::limits::source("en12453-2017").unwrap();
    fs::write(gate.join("own.toml"), profile).unwrap();
    fs::write(gate.join("checks.toml"), "# checks of one's own\n").unwrap();
    fs::write(gate.join("report/record.json.sig"), "a signature\n").unwrap();
    fs::write(gate.join("notes.txt"), "what the owner said\n").unwrap();
    fs::write(gate.join("empty.csv"), "").unwrap();
    fs::write(gate.join("pull.csv"), PULL).unwrap();
    fs::hard_link(&log, gate.join("hard-link.csv")).unwrap();
    symlink(&log, gate.join("link.csv")).unwrap();
    symlink("nowhere", gate.join("link-to-nothing.csv")).unwrap();
    let all = vec![
        "logs/closing-50-50-1.csv",
        "hard-link.csv",
        "link.csv",
        "gate.toml",
        "logger.toml",
        "own.toml",
        "checks.toml",
        "report/record.json",
        "report/record.json.sig",
        "notes.txt",
        "empty.csv",
        "pull.csv",
        "link-to-nothing.csv",
    ];
    (home, gate, all)
}

/// Every file below a folder with what is in it; a link with where it leads.
fn everything(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let entries = walkdir::WalkDir::new(folder)
        .sort_by_file_name()
        .into_iter();
    let files = entries
        .map(Result::unwrap)
        .filter(|it| !it.file_type().is_dir());
    files
        .map(|entry| {
            let path = entry.path().to_owned();
            let bytes = match fs::read_link(&path) {
                Ok(to) => to.into_os_string().into_encoded_bytes(),
                Err(_) => fs::read(&path).unwrap(),
            };
            (path, bytes)
        })
        .collect()
}

fn assert_refused(ran: &Ran, what: &str) {
    assert_eq!(ran.status, 2, "{what}: {}{}", ran.out, ran.err);
    assert!(ran.err.contains("cannot write "), "{what}: {}", ran.err);
    assert!(ran.err.contains("help: "), "{what}: {}", ran.err);
}

#[test]
fn no_output_file_takes_the_place_of_anything_that_is_not_an_earlier_one_of_its_kind() {
    let (_home, gate, precious) = precious();
    let before = everything(&gate);
    for victim in precious {
        let outputs: [&[&str]; 4] = [
            &["measure", "logs", &format!("--csv={victim}")],
            &["plan", ".", "--sheet", victim],
            &["pull", "pull.csv", "--force-unit", "N", "--sheet", victim],
            &["read", "logs/closing-50-50-1.csv", "--save-recipe", victim],
        ];
        for arguments in outputs {
            let ran = relent(&gate, arguments);
            assert_refused(&ran, &format!("{arguments:?}"));
            assert!(everything(&gate) == before, "{arguments:?} changed a file");
        }
    }
}

#[test]
fn no_file_of_a_report_takes_the_place_of_anything_that_is_not_an_earlier_one_of_its_kind() {
    let home = tempfile::tempdir().unwrap();
    for file in demo() {
        let path = home.path().join(&file.path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, &file.bytes).unwrap();
    }
    let log = home.path().join("visit-1/logs/closing-50-50-1.csv");
    let series = ["--series", "2.3.1", "--series", "2.4.0"];
    let compare = ["compare", "firmware"].into_iter().chain(series);
    let commands: [(Vec<&str>, &str, &[&str]); 5] = [
        (
            vec!["assess", "visit-1"],
            "--report",
            &[
                "assessment.json",
                "findings.csv",
                "report.html",
                "must-not-stay.html",
                "report.sha256",
            ],
        ),
        (
            vec!["assess", "visit-1", "--seal"],
            "--report",
            &["record.json", "record.json.sig"],
        ),
        (
            vec!["history", "visit-2"],
            "--report",
            &["history.json", "history.html", "history.sha256"],
        ),
        (
            compare.collect(),
            "--report",
            &["compare.json", "compare.html", "compare.sha256"],
        ),
        (
            vec!["archive", "visit-1", "--today", "2026-11-25"],
            "--out",
            &[
                "gates.csv",
                "findings.csv",
                "overview.html",
                "archive.json",
                "archive.journal",
                "gates.parquet",
            ],
        ),
    ];
    for (command, option, files) in commands {
        for (at, name) in files.iter().enumerate() {
            let out = format!("out-{}-{name}-{at}", command[0]);
            let folder = home.path().join(&out);
            fs::create_dir(&folder).unwrap();
            // By turns the log under another name, a link to it, and a copy.
            match at % 3 {
                0 => fs::hard_link(&log, folder.join(name)).unwrap(),
                1 => symlink(&log, folder.join(name)).unwrap(),
                _ => drop(fs::copy(&log, folder.join(name)).unwrap()),
            }
            let before = everything(home.path());
            let mut arguments = command.clone();
            arguments.extend([option, &out]);
            let ran = relent(home.path(), &arguments);
            assert_eq!(ran.status, 2, "{arguments:?}, {name}: {}", ran.err);
            assert!(ran.err.contains(name), "{arguments:?}, {name}: {}", ran.err);
            let mut after = everything(home.path());
            // The journal may begin before the outputs are written: it holds nothing but what was assessed.
            after.retain(|(path, _)| {
                *name == "archive.journal" || !path.ends_with(format!("{out}/archive.journal"))
            });
            assert!(after == before, "{arguments:?}, {name}: a file was changed");
        }
    }
}

#[test]
fn an_earlier_output_of_the_same_kind_is_written_anew_unless_this_run_reads_it() {
    let (_home, gate, _) = precious();
    let twice: [&[&str]; 3] = [
        &["measure", "logs", "--csv=table.csv"],
        &["plan", ".", "--sheet", "sheet.html"],
        &[
            "pull",
            "pull.csv",
            "--force-unit",
            "N",
            "--sheet",
            "pull.html",
        ],
    ];
    for arguments in twice {
        let first = relent(&gate, arguments);
        let files = everything(&gate);
        let again = relent(&gate, arguments);
        assert_eq!(first.status, again.status, "{arguments:?}: {}", again.err);
        assert!(first.status != 2, "{arguments:?}: {}", first.err);
        assert!(everything(&gate) == files, "{arguments:?}");
    }
    let read = relent(&gate, &["measure", "table.csv", "logs", "--csv=table.csv"]);
    assert_refused(&read, "a table that is measured");
    assert!(read.err.contains("it was read by this run"), "{}", read.err);
}

#[test]
fn the_table_takes_its_name_with_an_equals_sign_so_that_a_pattern_gives_no_log_to_it() {
    let (_home, gate, _) = precious();
    let before = everything(&gate);
    let logs = names(&gate.join("logs")).into_iter();
    let logs: Vec<String> = logs.map(|name| format!("logs/{name}")).collect();
    let mut arguments = vec!["measure", "--csv"];
    arguments.extend(logs.iter().map(String::as_str));
    let ran = relent(&gate, &arguments);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.err.contains("equal sign is needed"), "{}", ran.err);
    assert!(everything(&gate) == before);
}

#[test]
fn a_demo_that_was_changed_is_not_written_over() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(relent(home.path(), &["demo"]).status, 0);
    assert_eq!(relent(home.path(), &["demo"]).status, 0);
    let gate = home.path().join("relent-demo/visit-2/gate.toml");
    edit(&gate, "leaf_mass_kg = 420", "leaf_mass_kg = 421");
    fs::remove_file(home.path().join("relent-demo/visit-1/gate.toml")).unwrap();
    let before = everything(home.path());
    assert_refused(&relent(home.path(), &["demo"]), "demo");
    assert!(everything(home.path()) == before);
}

#[test]
fn raw_logs_are_read_where_nothing_may_be_written() {
    let (_home, gate, _) = precious();
    let logs = gate.join("logs");
    let before = everything(&logs);
    let times = || -> Vec<_> {
        let logs = names(&logs).into_iter().map(|name| logs.join(name));
        logs.map(|log| fs::metadata(log).unwrap().modified().unwrap())
            .collect()
    };
    let changed = times();
    for name in names(&logs) {
        let mut permissions = fs::metadata(logs.join(&name)).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(logs.join(&name), permissions).unwrap();
    }
    for arguments in [
        ["assess", ".", "--no-report"].as_slice(),
        &["measure", "logs"],
        &["read", "logs/closing-50-50-1.csv"],
        &["recheck", "."],
        &["archive", ".", "--out", "out"],
    ] {
        let ran = relent(&gate, arguments);
        assert!(!ran.err.contains("ermission"), "{arguments:?}: {}", ran.err);
    }
    assert!(everything(&logs) == before);
    assert_eq!(times(), changed);
}
