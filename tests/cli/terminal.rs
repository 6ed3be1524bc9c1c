//! On a terminal: nothing from outside is obeyed by it. A terminal of util-linux's `script`, which every Debian has.

use std::ffi::OsString;
use std::fs;
use std::os::unix::ffi::OsStringExt;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::run::{edit, sealed};

/// A clear screen, a title, a carriage return, a line of its own, a turned direction, the C1 form of an escape sequence.
const HOSTILE: &str = "x\u{1b}[2J\u{1b}]0;t\u{7}\rwithin\nerror: y\u{202e}z\u{9b}31m\u{2066}";

/// What a terminal is sent, without the sequences of colours, which are relent's own.
fn shown(folder: &Path, arguments: &[&str]) -> String {
    let quoted: Vec<String> = arguments
        .iter()
        .map(|it| format!("'{}'", it.replace('\'', r"'\''")))
        .collect();
    let command = format!(
        "stty -onlcr cols 200; exec '{}' {}",
        env!("CARGO_BIN_EXE_relent"),
        quoted.join(" ")
    );
    let output = Command::new("script")
        .args(["-qec", &command, "/dev/null"])
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let sent = String::from_utf8_lossy(&output.stdout).into_owned();
    let mut parts = sent.split("\u{1b}[");
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        match part.split_once('m') {
            Some((colour, rest)) if colour.bytes().all(|it| it.is_ascii_digit() || it == b';') => {
                plain += rest;
            }
            _ => plain += &format!("\u{1b}[{part}"),
        }
    }
    plain
}

fn assert_obeys_nothing(folder: &Path, arguments: &[&str]) -> String {
    let text = shown(folder, arguments);
    let acts = |it: char| {
        it != '\n'
            && (it.is_control()
                || matches!(it, '\u{200e}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}'))
    };
    let found: String = text.chars().filter(|it| acts(*it)).collect();
    assert!(found.is_empty(), "{arguments:?} sends {found:?}: {text:?}");
    let forged = text.lines().any(|line| line.starts_with("error: y"));
    assert!(!forged, "{arguments:?} forges a line: {text:?}");
    text
}

#[test]
fn names_of_files_are_shown_and_not_obeyed() {
    let (home, gate) = sealed("visit-1");
    let log = fs::read(gate.join("logs/closing-50-50-1.csv")).unwrap();
    let name = format!("{HOSTILE}.csv");
    let folder = home.path().join(HOSTILE);
    fs::create_dir(&folder).unwrap();
    fs::write(folder.join(&name), &log).unwrap();
    fs::write(folder.join(format!("2{name}")), "no log").unwrap();
    fs::write(folder.join("gate.toml"), "schema = \"relent.gate/1\"\n").unwrap();
    fs::write(gate.join("logs").join(&name), &log).unwrap();
    fs::write(gate.join("own.toml"), "nothing").unwrap();
    let absent = format!("{HOSTILE}/absent");
    let one = format!("{HOSTILE}/{name}");
    let [csv, sheet] = [
        format!("--csv={HOSTILE}/none/a.csv"),
        format!("{HOSTILE}/sheet.html"),
    ];
    for arguments in [
        ["measure", &one].as_slice(),
        &["measure", HOSTILE],
        &["measure", "--json", HOSTILE],
        &["measure", &absent],
        &["measure", HOSTILE, &csv],
        &["read", &one],
        &["read", &one, "--json"],
        &["read", &absent],
        &["read", &one, "--save-recipe", &absent],
        &["pull", &one],
        &["plan", "gate", "--sheet", &sheet],
        &["assess", "gate"],
        &["assess", HOSTILE],
        &["assess", &absent],
        &["assess", "gate", "--profile", &one],
        &["ready", HOSTILE],
        &["recheck", HOSTILE],
        &["recheck", "gate"],
        &["recheck", &absent],
        &["history", HOSTILE],
        &["compare", HOSTILE, "--series", HOSTILE, "--series", "b"],
        &["archive", ".", "--out", &absent],
        &["archive", &absent, "--out", "out"],
        &["certificate", "7", HOSTILE],
        &["limits", "show", HOSTILE],
        &["new", HOSTILE, "--motion", "sliding"],
        &["new", &absent, "--motion", "sliding"],
        &["demo", &one],
        &[&format!("--{HOSTILE}")],
        &[HOSTILE],
    ] {
        assert_obeys_nothing(home.path(), arguments);
    }
}

#[test]
fn what_stands_in_a_log_or_a_record_is_shown_and_not_obeyed() {
    let (home, gate) = sealed("visit-1");
    let heads = "time \u{1b}[2J\u{202e},force \u{9b}31m [N]\u{7}\r\n0,\u{1b}[31m\n1,2\n";
    fs::write(home.path().join("heads.csv"), heads).unwrap();
    let quoted = "\"time\nerror: y\",\"force \u{1b}[2J\u{2066}\"\n0,1\n0.001,2\n0.002,3\n";
    fs::write(home.path().join("quoted.csv"), quoted).unwrap();
    for log in ["heads.csv", "quoted.csv"] {
        for command in ["read", "measure", "pull"] {
            assert_obeys_nothing(home.path(), &[command, log]);
        }
        assert_obeys_nothing(home.path(), &["read", log, "--json"]);
    }
    let record = gate.join("report/record.json");
    let mut body = relent::record::seal::open(&fs::read(&record).unwrap())
        .unwrap()
        .body;
    body.build.version = HOSTILE.to_owned();
    body.gate_folder = format!("/{HOSTILE}");
    fs::write(&record, relent::record::seal::seal(&body).unwrap()).unwrap();
    fs::write(
        gate.join("report/report.sha256"),
        format!("0  {}\n", HOSTILE.replace('\n', " ")),
    )
    .unwrap();
    let text = assert_obeys_nothing(home.path(), &["recheck", "gate/report/record.json"]);
    assert!(text.contains("\\u001b[2J"), "{text}");
    assert_obeys_nothing(
        home.path(),
        &["recheck", "gate/report/record.json", "--json"],
    );
}

#[test]
fn a_view_that_is_drawn_anew_obeys_nothing_but_its_own_clearing() {
    let (_home, gate) = sealed("visit-2");
    edit(&gate.join("gate.toml"), "Quillmere", "Quill\u{202e}mere");
    let text = shown(&gate, &["watch", ".", "--every", "40", "--until-complete"]);
    let views: Vec<&str> = text.split("\u{1b}[H\u{1b}[2J\u{1b}[3J").collect();
    assert!(views.len() > 1, "{text:?}");
    for view in views {
        assert!(!view.contains(['\u{1b}', '\u{202e}', '\r']), "{view:?}");
    }
}

#[test]
fn a_name_that_is_no_text_is_shown_as_far_as_it_is_one() {
    let home = tempfile::tempdir().unwrap();
    let name = OsString::from_vec(b"log-\xff\xfe.csv".to_vec());
    fs::write(home.path().join(&name), "time_s,force_N\n0,0\n").unwrap();
    let text = assert_obeys_nothing(home.path(), &["measure", "."]);
    assert!(text.contains("log-\u{fffd}\u{fffd}.csv"), "{text}");
}
