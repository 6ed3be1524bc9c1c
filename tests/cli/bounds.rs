//! What is named is a file, and of a size that such a file has: anything else is refused by name, at once.

use std::fs;
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::run::{edit, relent, sealed, visit};

/// No run may wait for a pipe, or read what has no end.
const SOON: Duration = Duration::from_secs(20);

/// A log as a gauge writes it, of so many rows.
fn log(rows: usize) -> String {
    let mut log = String::from("time_s,force_N\n");
    for row in 0..rows {
        log += &format!("{:.4},{:.1}\n", row as f64 / 1000.0, (row % 400) as f64);
    }
    log
}

#[test]
fn a_log_given_as_gate_file_is_told_at_once_with_its_first_problems_only() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("hit.csv");
    // The longest that is read of a gate file, and one that is longer.
    for (rows, told) in [(70_000, "these are the first 20"), (700_000, "it has ")] {
        fs::write(&path, log(rows)).unwrap();
        let start = Instant::now();
        let ran = relent(home.path(), &["assess", "hit.csv"]);
        assert_eq!(ran.status, 2);
        assert!(
            ran.err.contains(told),
            "{}",
            &ran.err[..ran.err.len().min(4000)]
        );
        assert!(ran.err.len() < 20_000, "{} bytes", ran.err.len());
        assert!(ran.err.matches("error: ").count() <= 20);
        // A bound that holds on a busy machine too; reports/faults.md has what it takes.
        assert!(
            start.elapsed() < Duration::from_secs(5),
            "{:?}",
            start.elapsed()
        );
    }
}

#[test]
fn one_endless_line_and_thousands_of_unknown_keys_are_no_more_than_their_first_problems() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("gate.toml");
    let keys: String = (0..40_000).map(|it| format!("key_{it} = {it}\n")).collect();
    for text in ["x".repeat(1_000_000), "= ".repeat(400_000), keys] {
        fs::write(&path, text).unwrap();
        let start = Instant::now();
        let ran = relent(home.path(), &["assess", "."]);
        assert_eq!(ran.status, 2);
        assert!(ran.err.len() < 200_000, "{} bytes", ran.err.len());
        assert!(
            start.elapsed() < Duration::from_secs(10),
            "{:?}",
            start.elapsed()
        );
    }
}

#[test]
fn links_among_the_logs_are_followed_and_what_is_no_file_is_refused_by_name() {
    let (home, gate) = visit("visit-1");
    let logs = gate.join("logs");
    let before = relent(home.path(), &["assess", "gate"]);
    let log = fs::read_dir(&logs).unwrap().next().unwrap().unwrap().path();
    let name = log.file_name().unwrap().to_str().unwrap().to_owned();
    let away = home.path().join("stick");
    fs::rename(&log, &away).unwrap();
    std::os::unix::fs::symlink(&away, &log).unwrap();
    let linked = relent(home.path(), &["assess", "gate"]);
    assert_eq!((linked.status, linked.out), (before.status, before.out));
    let measured = relent(home.path(), &["measure", "gate/logs", "--json"]);
    assert!(measured.out.contains(&name), "{}", measured.err);

    fs::remove_file(&away).unwrap();
    let dangling = relent(home.path(), &["assess", "gate"]);
    assert!(
        dangling.status == 2 && dangling.err.contains(&name),
        "{}",
        dangling.err
    );

    fs::remove_file(&log).unwrap();
    std::os::unix::fs::symlink(&gate, &log).unwrap();
    let circle = relent(home.path(), &["assess", "gate"]);
    assert!(
        circle.status == 2 && circle.err.contains(&name),
        "{}",
        circle.err
    );

    fs::remove_file(&log).unwrap();
    let _socket = UnixListener::bind(&log).unwrap();
    let socket = relent(home.path(), &["assess", "gate"]);
    let told = format!("{}{}", socket.out, socket.err);
    assert!(socket.status != 0 && told.contains(&name), "{told}");
}

#[test]
fn a_gate_folder_behind_a_link_is_a_row_of_the_archive_and_a_circle_is_told() {
    let (home, gate) = visit("visit-1");
    let tree = home.path().join("tree");
    fs::create_dir(&tree).unwrap();
    std::os::unix::fs::symlink(&gate, tree.join("linked")).unwrap();
    std::os::unix::fs::symlink(&tree, tree.join("round")).unwrap();
    let ran = relent(home.path(), &["archive", "tree", "--out", "out"]);
    let gates = fs::read_to_string(home.path().join("out/gates.csv")).unwrap();
    assert!(gates.contains("linked"), "{gates}");
    assert!(
        format!("{gates}{}{}", ran.out, ran.err).contains("round"),
        "{gates}"
    );
}

/// Runs with what is no file in the place of each file that can be named.
fn assert_refused_by_name(folder: &Path, arguments: &[&str], name: &str, what: &str) {
    let start = Instant::now();
    let ran = relent(folder, arguments);
    assert!(
        start.elapsed() < SOON,
        "{arguments:?}, {what}: {:?}",
        start.elapsed()
    );
    assert_ne!(ran.status, 0, "{arguments:?}, {what}: {}", ran.out);
    let told = format!("{}{}", ran.out, ran.err);
    assert!(
        told.contains(what) && told.contains(name),
        "{arguments:?}, {what}: {told}"
    );
}

#[test]
fn pipes_sockets_devices_and_folders_named_as_files_are_refused_by_name() {
    let (_home, gate) = visit("visit-2");
    let pipe = gate.join("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    let _listening = UnixListener::bind(gate.join("socket")).unwrap();
    fs::create_dir(gate.join("folder")).unwrap();
    std::os::unix::fs::symlink("/dev/zero", gate.join("zero")).unwrap();
    let text = fs::read_to_string(gate.join("gate.toml")).unwrap();
    for (name, what) in [
        ("pipe", "a pipe, not a file"),
        ("socket", "a socket, not a file"),
        ("zero", "a device, not a file"),
    ] {
        for arguments in [
            ["measure", name].as_slice(),
            &["read", name],
            &["read", "logs/closing-50-50-1.csv", "--recipe", name],
            &["pull", name],
            &["assess", name],
            &["measure", "logs", &format!("--csv={name}")],
            &["plan", ".", "--sheet", name],
            &["recheck", name],
        ] {
            assert_refused_by_name(&gate, arguments, name, what);
        }
        let named = [
            (
                "recipe",
                text.replace("[logs]", &format!("[logs]\nrecipe = \"{name}\"")),
            ),
            (
                "profile",
                text.replace("profile = \"en12453-2017\"", "profile = \"odd.toml\""),
            ),
            (
                "checks",
                text.replace(
                    "[readiness.answers]",
                    &format!("[readiness]\nmore_checks = \"{name}\"\n\n[readiness.answers]"),
                ),
            ),
        ];
        let _ = fs::remove_file(gate.join("odd.toml"));
        fs::rename(gate.join(name), gate.join("odd.toml")).unwrap();
        std::os::unix::fs::symlink("odd.toml", gate.join(name)).unwrap();
        for (key, text) in named {
            assert_ne!(
                text,
                fs::read_to_string(gate.join("gate.toml")).unwrap_or_default(),
                "{key}"
            );
            fs::write(gate.join("gate.toml"), text).unwrap();
            let named = if key == "profile" { "odd.toml" } else { name };
            for command in ["assess", "ready"] {
                if command == "assess" || key != "recipe" {
                    assert_refused_by_name(&gate, &[command, "."], named, what);
                }
            }
            // In an archive such a gate is a row.
            assert_refused_by_name(&gate, &["archive", ".", "--out", "out"], named, what);
        }
        fs::write(gate.join("gate.toml"), &text).unwrap();
    }
    assert_refused_by_name(&gate, &["read", "folder"], "folder", "a folder, not a file");
    assert_refused_by_name(&gate, &["pull", "folder"], "folder", "a folder, not a file");
}

#[test]
fn a_pipe_in_the_place_of_a_file_beside_a_record_keeps_no_recheck_waiting() {
    for name in [
        "report/record.json.sig",
        "report/report.sha256",
        "report/findings.csv",
        "gate.toml",
        "logs/closing-50-50-1.csv",
    ] {
        let (home, gate) = sealed("visit-1");
        let path = gate.join(name);
        let _ = fs::remove_file(&path);
        assert!(
            Command::new("mkfifo")
                .arg(&path)
                .status()
                .unwrap()
                .success()
        );
        let start = Instant::now();
        let ran = relent(home.path(), &["recheck", "gate/report/record.json"]);
        assert!(start.elapsed() < SOON, "{name}");
        assert_eq!(ran.status, 3, "{name}: {}", ran.out);
    }
}

#[test]
fn a_log_above_the_bound_is_refused_before_it_is_read() {
    let (_home, gate) = visit("visit-2");
    let path = gate.join("logs/closing-50-50-1.csv");
    let file = fs::File::create(&path).unwrap();
    // A file with a hole: it takes no room.
    file.set_len(relent::visit::input::MOST_OF_A_LOG + 1)
        .unwrap();
    let start = Instant::now();
    for arguments in [
        ["measure", "logs/closing-50-50-1.csv"].as_slice(),
        &["read", "logs/closing-50-50-1.csv"],
        &["assess", "."],
    ] {
        let ran = relent(&gate, arguments);
        let told = format!("{}{}", ran.out, ran.err);
        assert!(
            told.contains("it has 268435457 bytes"),
            "{arguments:?}: {told}"
        );
    }
    assert!(start.elapsed() < SOON);
    edit(&gate.join("gate.toml"), "Quillmere", "Quill-mere");
}
