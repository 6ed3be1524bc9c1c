//! `relent compare` on the demo's firmware series and its two visits.

use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

fn demo() -> TempDir {
    let folder = TempDir::new().unwrap();
    for file in relent::impact::demo::files().unwrap() {
        let path = folder.path().join(&file.path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, file.bytes).unwrap();
    }
    folder
}

fn compare(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    let Output {
        status,
        stdout,
        stderr,
    } = Command::cargo_bin("relent")
        .unwrap()
        .current_dir(folder)
        .arg("compare")
        .args(arguments)
        .output()
        .unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

const MARGINS: [&str; 4] = ["--margin-force", "20", "--margin-time", "20"];

fn against<'a>(new: &'a [&'a str]) -> Vec<&'a str> {
    let mut arguments = vec!["firmware", "--series", "2.3.1"];
    arguments.extend(new.iter().flat_map(|it| ["--series", *it]));
    arguments
}

#[test]
fn the_exit_status_and_the_words_follow_what_is_shown_and_the_report_stands_by_itself() {
    let folder = demo();
    let at = folder.path();
    let with_margins = |new: &[&str]| {
        let mut arguments = against(new);
        arguments.extend(MARGINS);
        compare(at, &arguments)
    };
    let (code, out, _) = with_margins(&["2.4.0"]);
    assert_eq!(code, 0, "{out}");
    assert!(
        out.contains("2.4.0 is not worse than 2.3.1 by more than the margin"),
        "{out}"
    );
    assert!(out.contains("ms sooner (95 %: "), "{out}");
    let (code, out, _) = with_margins(&["2.4.0", "2.5.0"]);
    assert_eq!(code, 1, "{out}");
    assert!(
        out.contains("worse by more than 20 N at one point or more"),
        "{out}"
    );

    let report = at.join("firmware/comparison");
    let json: Value =
        serde_json::from_slice(&std::fs::read(report.join("compare.json")).unwrap()).unwrap();
    assert_eq!(json["schema"], "relent.compare/1");
    assert_eq!(json["comparisons"][0]["outcome"], "not-worse");
    assert_eq!(json["comparisons"][1]["outcome"], "worse-beyond-margin");
    let page = std::fs::read_to_string(report.join("compare.html")).unwrap();
    assert!(page.contains("The versions in order") && !page.contains("<script"));
    let text = format!("{page}{out}").to_lowercase();
    for word in [" equal ", "identical", "compliant", "is safe"] {
        assert!(!text.contains(word), "{word}");
    }
}

#[test]
fn without_a_margin_nothing_is_decided() {
    let folder = demo();
    let mut arguments = against(&["2.5.0"]);
    arguments.push("--no-report");
    let (code, out, _) = compare(folder.path(), &arguments);
    assert_eq!(code, 0);
    assert!(
        out.contains("compared without a margin: differences only, nothing decided"),
        "{out}"
    );
    assert!(!folder.path().join("firmware/comparison").exists());
}

#[test]
fn another_edge_must_be_accepted_and_then_missing_points_and_lower_bounds_leave_it_undecided() {
    let folder = demo();
    let (code, out, told) = compare(folder.path(), &["visit-1", "visit-2"]);
    assert_eq!((code, out.as_str()), (3, ""));
    assert!(
        told.contains("travel of the edge: 17 mm before, 45 mm after"),
        "{told}"
    );
    assert!(told.contains("--accept edge"), "{told}");
    assert!(!folder.path().join("visit-2/comparison").exists());

    let (code, out, _) = compare(
        folder.path(),
        &[
            "visit-1",
            "visit-2",
            "--accept",
            "edge",
            "--margin-force",
            "20",
        ],
    );
    assert_eq!(code, 3, "{out}");
    assert!(
        out.contains("gap 500 mm, height 1500 mm: no hit in visit-1"),
        "{out}"
    );
    assert!(out.contains("closing-300-900-2.csv was left out"), "{out}");
    assert!(
        out.contains("setting speed_step: 7 before, 5 after"),
        "{out}"
    );
}

#[test]
fn what_cannot_be_compared_is_refused() {
    let folder = demo();
    let refused = |arguments: &[&str], words: &str| {
        let (code, out, told) = compare(folder.path(), arguments);
        assert_eq!((code, out.as_str()), (2, ""), "{told}");
        assert!(told.contains(words), "{told}");
    };
    refused(&["visit-1"], "one series alone cannot be compared");
    refused(&["visit-1", "visit-1"], "hold the same samples");
    refused(
        &["visit-1", "visit-2", "--series", "logs"],
        "expected one gate folder with --series",
    );
    refused(
        &["visit-1", "visit-2", "--margin-force", "0"],
        "--margin-force: the margin is 0",
    );
    refused(
        &["visit-1", "visit-2", "--confidence", "100"],
        "--confidence",
    );
    refused(
        &["firmware", "--series", "2.3.1", "--series", "9.9.9"],
        "9.9.9",
    );
    refused(&["firmware", "--design"], "--design without a margin");
}

#[test]
fn the_design_tells_how_many_hits_are_needed() {
    let folder = demo();
    let (code, out, told) = compare(
        folder.path(),
        &[
            "firmware",
            "--series",
            "2.3.1",
            "--design",
            "--margin-force",
            "5",
        ],
    );
    assert_eq!(code, 0, "{told}");
    assert!(out.contains("at each of 4 test points, pooled:"), "{out}");
    assert!(out.contains("hits a version (power "), "{out}");
}
