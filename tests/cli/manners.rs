//! Help, completions, manual page, profiles, the demo: what a newcomer tries first.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::run::relent;

const COMMANDS: [&str; 9] = [
    "assess", "archive", "history", "measure", "read", "limits", "watch", "demo", "schema",
];

#[test]
fn help_names_every_command_the_exit_statuses_and_the_cautions() {
    let ran = relent(Path::new("."), &["--help"]);
    assert_eq!(ran.status, 0);
    for word in COMMANDS {
        assert!(ran.out.contains(word), "{word}");
    }
    for word in [
        "Exit status",
        "does not make a gate safe",
        "Local codes and licensed practice",
    ] {
        assert!(ran.out.contains(word), "{word}");
    }
    for command in COMMANDS {
        let ran = relent(Path::new("."), &[command, "--help"]);
        assert_eq!(ran.status, 0, "{command}");
    }
}

#[test]
fn completions_and_the_manual_page_are_printed() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let ran = relent(Path::new("."), &["completions", shell]);
        assert!(ran.status == 0 && ran.out.contains("relent"), "{shell}");
    }
    let ran = relent(Path::new("."), &["man"]);
    assert!(ran.status == 0 && ran.out.contains(".TH relent"));
}

#[test]
fn every_profile_is_listed_shown_and_compared_with_where_its_values_are_source() {
    let list = relent(Path::new("."), &["limits"]);
    assert_eq!(list.status, 0);
    for name in relent::limits::names() {
        assert!(list.out.contains(name), "{name}");
        let shown = relent(Path::new("."), &["limits", "show", name]);
        assert_eq!(shown.status, 0, "{name}: {}", shown.err);
        assert!(
            ["memory", "second-hand", "read"]
                .iter()
                .any(|mark| shown.out.contains(mark)),
            "{name}"
        );
        let source = relent(Path::new("."), &["limits", "show", name, "--toml"]);
        assert!(toml::from_str::<toml::Table>(&source.out).is_ok(), "{name}");
    }
    let compared = relent(
        Path::new("."),
        &["limits", "compare", "en12453-2000", "en16005-2012"],
    );
    assert!(
        compared.status == 0 && compared.out.contains("400"),
        "{}",
        compared.err
    );
}

#[test]
fn the_demo_writes_two_visits_and_is_done() {
    let home = tempfile::tempdir().unwrap();
    let ran = relent(home.path(), &["demo"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("invented"));
    for file in [
        "visit-1/gate.toml",
        "visit-2/gate.toml",
        "visit-1/report/report.html",
    ] {
        assert!(
            home.path().join("relent-demo").join(file).is_file(),
            "{file}"
        );
    }
}

#[test]
fn the_schema_is_json_and_colours_stay_out_of_a_pipe() {
    let ran = relent(Path::new("."), &["schema"]);
    assert!(serde_json::from_str::<serde_json::Value>(&ran.out).is_ok());
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("gate.toml"), "[gate]\nnam = 1\n").unwrap();
    let ran = relent(home.path(), &["assess", "."]);
    assert!(ran.status == 2 && !ran.err.contains('\u{1b}'));
}

#[test]
fn a_reader_that_closes_the_pipe_is_no_error() {
    let binary = env!("CARGO_BIN_EXE_relent");
    let script = format!("'{binary}' schema | head -n 1 >/dev/null; exit ${{PIPESTATUS[0]}}");
    let status = Command::new("bash").args(["-c", &script]).status().unwrap();
    assert_eq!(status.code(), Some(0));
}
