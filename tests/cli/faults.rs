//! Integrity under faults: killed, out of space, no place to write, a log replaced while it is read, two runs at once.
//!
//! Every file of a report is the whole old one or the whole new one.

use std::collections::BTreeMap;
use std::fs;
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use serde_json::Value;
use tempfile::TempDir;

use crate::archive::gate;
use crate::run::{names, relent, snapshot};

/// A report by the names of its files.
type Report = BTreeMap<String, Vec<u8>>;

/// Two questions to one gate whose reports differ in every file.
const EDITIONS: [&str; 2] = ["en12453-2017", "en12453-2000"];

fn small_gate() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("gate");
    gate(&folder, "visit-1", "closing-500-50");
    (home, folder)
}

fn report(folder: &Path) -> Report {
    let read = |name: String| {
        let bytes = fs::read(folder.join(&name)).unwrap();
        (name, bytes)
    };
    names(folder).into_iter().map(read).collect()
}

/// The reports that the gate gets by the two editions.
fn both(gate: &Path) -> [Report; 2] {
    EDITIONS.map(|edition| {
        let place = format!("report-{edition}");
        let ran = relent(
            gate,
            &["assess", ".", "--profile", edition, "--report", &place],
        );
        assert_eq!(ran.status, 1, "{}", ran.err);
        report(&gate.join(place))
    })
}

fn started(gate: &Path, arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_relent"))
        .args(arguments)
        .current_dir(gate)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

fn is_draft(name: &str) -> bool {
    name.starts_with(".relent-") && name.ends_with(".part")
}

/// Every file that is no draft is whole: that of one of the two reports.
fn assert_whole(found: &Report, expected: &[Report; 2], when: &str) {
    for (name, bytes) in found.iter().filter(|(name, _)| !is_draft(name)) {
        assert!(
            expected
                .iter()
                .any(|report| report.get(name) == Some(bytes)),
            "{when}: {name} is neither the old nor the new one ({} bytes)",
            bytes.len()
        );
    }
}

/// The files are those of one run, or the list of their digests names others.
fn assert_one_run_or_told(found: &Report, expected: &[Report; 2], when: &str) {
    let files: Report = found
        .iter()
        .filter(|(name, _)| !is_draft(name))
        .map(|(name, bytes)| (name.clone(), bytes.clone()))
        .collect();
    let agrees = String::from_utf8_lossy(&files["report.sha256"])
        .lines()
        .all(|line| {
            let (digest, name) = line.split_once("  ").unwrap();
            files.get(name).map(|bytes| relent::ingest::sha256(bytes)) == Some(digest.to_owned())
        });
    assert_eq!(expected.contains(&files), agrees, "{when}");
}

#[test]
fn an_assessment_killed_at_any_moment_leaves_whole_files_and_the_next_run_clears_up() {
    let (_home, gate) = small_gate();
    let start = Instant::now();
    let expected = both(&gate);
    let mut length = start.elapsed() / 2;
    for name in ["assessment.json", "findings.csv", "report.html"] {
        assert_ne!(expected[0][name], expected[1][name], "{name}");
    }
    let place = gate.join("report");
    relent(&gate, &["assess", ".", "--profile", EDITIONS[0]]);
    assert_eq!(report(&place), expected[0]);
    let (mut killed, mut drafts) = (0, 0);
    for moment in 0..20_u32 {
        let mut child = started(
            &gate,
            &[
                "assess",
                ".",
                "--profile",
                EDITIONS[1 - moment as usize % 2],
            ],
        );
        // Half of the moments lie in the last fifth of the run, where the files are written.
        let part = if moment < 10 {
            f64::from(moment) / 12.0
        } else {
            0.8 + f64::from(moment - 10) / 40.0
        };
        std::thread::sleep(length.mul_f64(part));
        child.kill().unwrap();
        if child.wait().unwrap().code().is_none() {
            killed += 1;
        } else {
            // It was done before: the machine is quicker now than when the length was taken.
            length = length.mul_f64(0.8);
        }
        let found = report(&place);
        let when = format!("killed at {part:.2} of the run");
        assert_whole(&found, &expected, &when);
        assert_one_run_or_told(&found, &expected, &when);
        assert_eq!(found.keys().filter(|name| !is_draft(name)).count(), 5);
        drafts += found.keys().filter(|name| is_draft(name)).count();
    }
    assert!(
        killed > 5,
        "only {killed} runs were killed before their end"
    );
    // Whether a kill fell between the first byte of a draft and the last move or not: one that was left behind goes.
    fs::write(place.join(".relent-left.part"), "half a page").unwrap();
    relent(&gate, &["assess", ".", "--profile", EDITIONS[0]]);
    assert_eq!(
        report(&place),
        expected[0],
        "{drafts} drafts were left behind"
    );
}

/// Runs `relent` with the greatest size of a file limited to so many blocks (of 512 or 1024 bytes, as the shell has it). The
/// signal that would end the program is ignored, so that it gets the error which a full disk gives too.
fn with_files_limited_to(blocks: u32, gate: &Path, arguments: &str) -> (Option<i32>, String) {
    under(
        &format!("trap '' XFSZ; ulimit -f {blocks}"),
        gate,
        arguments,
    )
}

/// Runs `relent` after other commands of a shell; its status and what it complains of.
fn under(limits: &str, gate: &Path, arguments: &str) -> (Option<i32>, String) {
    let script = format!(
        "{limits}; exec '{}' {arguments}",
        env!("CARGO_BIN_EXE_relent")
    );
    let output = Command::new("sh")
        .args(["-c", &script])
        .current_dir(gate)
        .output()
        .unwrap();
    (
        output.status.code(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

#[test]
fn no_room_for_a_file_leaves_the_old_report_untouched_and_says_so() {
    let (_home, gate) = small_gate();
    let expected = both(&gate);
    let place = gate.join("report");
    relent(&gate, &["assess", ".", "--profile", EDITIONS[0]]);
    let [json, page] = ["assessment.json", "report.html"].map(|name| expected[1][name].len());
    // Room for the record, not for the page: not even the record is replaced.
    let blocks = json / 512 + 2;
    assert!(
        page > blocks * 1024,
        "record {json} bytes, page {page} bytes"
    );
    for blocks in [2, u32::try_from(blocks).unwrap()] {
        let arguments = format!("assess . --profile {}", EDITIONS[1]);
        let (status, complaint) = with_files_limited_to(blocks, &gate, &arguments);
        assert_eq!(status, Some(2), "{complaint}");
        assert!(
            complaint.contains("cannot write ./report/") && !complaint.contains(".part"),
            "{complaint}"
        );
        assert!(complaint.contains("help: "), "{complaint}");
        assert_eq!(report(&place), expected[0]);
    }
}

#[test]
fn no_room_for_an_archive_leaves_the_old_one_untouched_and_the_next_run_goes_on() {
    let (home, _) = small_gate();
    let arguments = ["archive", ".", "--out", "out", "--today", "2026-11-25"];
    assert_eq!(relent(home.path(), &arguments).status, 1);
    let old = report(&home.path().join("out"));
    gate(&home.path().join("second"), "visit-2", "closing-50-900");
    let (status, complaint) = with_files_limited_to(4, home.path(), &arguments.join(" "));
    assert_eq!(status, Some(2), "{complaint}");
    assert!(complaint.contains("cannot write out/"), "{complaint}");
    let whole = |report: Report| -> Report {
        report
            .into_iter()
            .filter(|(name, _)| name != "archive.journal")
            .collect()
    };
    assert_eq!(whole(report(&home.path().join("out"))), whole(old));
    assert_eq!(relent(home.path(), &arguments).status, 1);
    let rows = fs::read_to_string(home.path().join("out/gates.csv")).unwrap();
    assert_eq!(rows.lines().count(), 3, "{rows}");
}

#[test]
fn few_file_descriptors_leave_the_old_report_untouched_and_say_so() {
    let (_home, gate) = small_gate();
    let expected = both(&gate);
    let place = gate.join("report");
    relent(&gate, &["assess", ".", "--profile", EDITIONS[0]]);
    for descriptors in 4..8 {
        let arguments = format!("assess . --profile {}", EDITIONS[1]);
        let (status, complaint) = under(&format!("ulimit -n {descriptors}"), &gate, &arguments);
        let whole = if status == Some(2) { 0 } else { 1 };
        assert_eq!(
            report(&place),
            expected[whole],
            "{descriptors}: {complaint}"
        );
        assert!(whole == 1 || complaint.contains("cannot "), "{complaint}");
        relent(&gate, &["assess", ".", "--profile", EDITIONS[0]]);
    }
    let (status, complaint) = under(
        "ulimit -n 4",
        &gate,
        &format!("assess . --profile {}", EDITIONS[1]),
    );
    assert_eq!(status, Some(2), "{complaint}");
}

#[test]
fn a_clock_in_the_year_9999_is_a_date_like_any_other() {
    let (home, _) = small_gate();
    for today in ["9999-12-31", "0001-01-01"] {
        let arguments = ["archive", ".", "--out", "out", "--today", today];
        let ran = relent(home.path(), &arguments);
        assert_eq!(ran.status, 1, "{today}: {}", ran.err);
        fs::remove_dir_all(home.path().join("out")).unwrap();
    }
}

#[test]
fn a_place_that_cannot_be_written_to_is_an_error_before_the_work() {
    let (_home, gate) = small_gate();
    fs::write(gate.join("file"), "no folder").unwrap();
    for arguments in [
        ["assess", ".", "--report", "file/report"].as_slice(),
        &["archive", ".", "--out", "file/out"],
        &["measure", "logs", "--csv=file/table.csv"],
    ] {
        let ran = relent(&gate, arguments);
        assert_eq!(ran.status, 2, "{arguments:?}");
        assert!(
            ran.err.contains("cannot write file/"),
            "{arguments:?}: {}",
            ran.err
        );
        assert_eq!(ran.out, "");
    }
    assert_eq!(fs::read_to_string(gate.join("file")).unwrap(), "no folder");
}

#[test]
fn standard_output_that_is_full_is_an_error_and_one_that_is_closed_is_not() {
    let (_home, gate) = small_gate();
    let binary = env!("CARGO_BIN_EXE_relent");
    let run = |to: &str| {
        let script = format!("'{binary}' assess . --no-report --json {to}");
        let output = Command::new("sh")
            .args(["-c", &script])
            .current_dir(&gate)
            .output()
            .unwrap();
        (
            output.status.code(),
            String::from_utf8(output.stderr).unwrap(),
        )
    };
    let (status, complaint) = run("> /dev/full");
    assert_eq!(status, Some(2), "{complaint}");
    assert!(
        complaint.contains("cannot write standard output"),
        "{complaint}"
    );
    assert_eq!(run("> /dev/null").0, Some(1));
}

#[test]
fn a_log_that_is_replaced_while_it_is_read_is_one_of_the_two_and_the_digest_is_that_of_the_one_measured()
 {
    let (_home, gate) = small_gate();
    let logs = gate.join("logs");
    let log = names(&logs).remove(0);
    let contents = [0, 1].map(|place| fs::read(logs.join(&names(&logs)[place])).unwrap());
    let peak_and_digest = || -> (f64, String) {
        let ran = relent(&gate, &["measure", &format!("logs/{log}"), "--json"]);
        let record: Value = serde_json::from_str(&ran.out).unwrap();
        let digest = record["sha256"].as_str().unwrap().to_owned();
        (record["measures"]["peak_force_n"].as_f64().unwrap(), digest)
    };
    let expected = contents.clone().map(|bytes| {
        fs::write(logs.join(&log), &bytes).unwrap();
        let found = peak_and_digest();
        assert_eq!(found.1, relent::ingest::sha256(&bytes));
        found
    });
    assert_ne!(expected[0].0, expected[1].0);
    let stop = AtomicBool::new(false);
    let mut seen = [0, 0];
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for bytes in contents.iter().cycle() {
                fs::write(gate.join("new"), bytes).unwrap();
                fs::rename(gate.join("new"), logs.join(&log)).unwrap();
                if stop.load(Ordering::Relaxed) {
                    break;
                }
            }
        });
        for _ in 0..24 {
            let found = peak_and_digest();
            let place = expected.iter().position(|it| *it == found);
            stop.store(place.is_none(), Ordering::Relaxed);
            seen[place.unwrap_or_else(|| panic!("{found:?}, expected one of {expected:?}"))] += 1;
        }
        stop.store(true, Ordering::Relaxed);
    });
    assert_eq!(seen[0] + seen[1], 24);
}

#[test]
fn two_assessments_at_once_into_one_folder_leave_the_files_of_one_of_them() {
    let (_home, gate) = small_gate();
    let expected = both(&gate);
    let place = gate.join("report");
    for _ in 0..6 {
        let children =
            EDITIONS.map(|edition| started(&gate, &["assess", ".", "--profile", edition]));
        for mut child in children {
            assert_eq!(child.wait().unwrap().code(), Some(1));
        }
        let found = report(&place);
        assert!(
            found == expected[0] || found == expected[1],
            "the files of both runs are mixed: {:?}",
            found.keys()
        );
        let digest = relent::ingest::sha256(&found["assessment.json"]);
        let page = String::from_utf8_lossy(&found["report.html"]);
        assert!(
            page.contains(&digest),
            "the page is not that of the record beside it"
        );
    }
}

#[test]
fn a_log_that_is_overwritten_all_the_while_is_refused_by_name_and_never_sealed_half_old_half_new() {
    let (_home, gate) = small_gate();
    let log = gate.join("logs").join(names(&gate.join("logs")).remove(0));
    let old = fs::read(&log).unwrap();
    let mut new = old.clone();
    let last = new.iter().rposition(u8::is_ascii_digit).unwrap();
    new[last] ^= 1;
    let digests = [&old, &new].map(|bytes| relent::ingest::sha256(bytes));
    let stop = AtomicBool::new(false);
    let mut refused = Vec::new();
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut file = fs::File::options().write(true).open(&log).unwrap();
            for bytes in [&new, &old].into_iter().cycle() {
                // In place and of one size, as a logger writes that keeps its file.
                file.seek(SeekFrom::Start(0)).unwrap();
                file.write_all(bytes).unwrap();
                if stop.load(Ordering::Relaxed) {
                    break;
                }
            }
        });
        for run in 0..4 {
            let place = format!("report-{run}");
            let ran = relent(&gate, &["assess", ".", "--seal", "--report", &place]);
            let record = fs::read(gate.join(&place).join("record.json"));
            match record {
                Err(_) => refused.push((ran.status, ran.err)),
                Ok(record) => {
                    // The machine left the writer no time.
                    let body = relent::record::seal::open(&record).unwrap().body;
                    let sealed = &body.logs[0].sha256;
                    stop.store(!digests.contains(sealed), Ordering::Relaxed);
                    assert!(digests.contains(sealed), "half old, half new");
                }
            }
        }
        stop.store(true, Ordering::Relaxed);
    });
    let (status, complaint) = refused
        .pop()
        .expect("no run saw that the log was written to");
    assert_eq!(status, 2, "{complaint}");
    snapshot("seal-log-keeps-changing", &complaint);
    assert_eq!(relent(&gate, &["assess", ".", "--seal"]).status, 1);
}
