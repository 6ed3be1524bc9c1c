//! A visit played through as the help tells it: start the folder, look the gate over, plan, hit while it is watched, assess, hand over.

use std::fs;
use std::path::Path;

use crate::run::{edit, relent, visit};
use crate::watch::Watching;

/// What the demo's second visit says under a head, to the next empty line.
fn section(gate: &str, head: &str) -> String {
    let from = gate.find(head).unwrap_or_else(|| panic!("no {head}"));
    gate[from..]
        .split_once("\n\n")
        .map_or(&gate[from..], |(section, _)| section)
        .to_owned()
        + "\n"
}

/// Fills in what the new gate file asks for, with the answers of the invented gate.
fn fill_in(file: &Path, demo: &str) {
    let text = fs::read_to_string(file).unwrap();
    let kept = text.split("\n[gauge]").next().unwrap();
    let rest = &text[text.find("\n[visit]").unwrap()..text.find("\n[readiness]").unwrap()];
    let gauge = section(demo, "[gauge]");
    let (answers, handover) = (
        section(demo, "[readiness.answers]"),
        section(demo, "[handover]"),
    );
    fs::write(
        file,
        format!("{kept}\n{gauge}{rest}\n{answers}\n{handover}"),
    )
    .unwrap();
    let text = fs::read_to_string(file).unwrap();
    let line = text
        .lines()
        .find(|line| line.contains("opening_side ="))
        .unwrap()
        .to_owned();
    edit(file, &line, "opening_side = \"clear\"");
}

/// The log of the demo that a planned name asks for.
fn log_for(name: &str, logs: &Path) -> Vec<u8> {
    let stem = name
        .trim_end_matches(".csv")
        .replace("closing-closing-edge-", "closing-")
        + ".";
    let mut entries = fs::read_dir(logs)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let log = entries.find(|path| {
        path.file_name()
            .unwrap()
            .to_string_lossy()
            .starts_with(&stem)
    });
    fs::read(log.unwrap_or_else(|| panic!("no log for {name}"))).unwrap()
}

#[test]
fn a_visit_from_the_empty_folder_to_the_handover() {
    let (home, demo) = visit("visit-2");
    let here = home.path();
    let start = "new yard --name Yard --motion sliding --height 1800 --width 5200 --opening 4500 --mass 420 --rated-mass 600 \
                 --date 2026-03-31 --visit after-change";
    let new = relent(here, &start.split_whitespace().collect::<Vec<_>>());
    assert_eq!(new.status, 0, "{}", new.err);
    assert!(new.out.contains("relent watch yard"), "{}", new.out);
    assert_eq!(
        relent(here, &["ready", "yard"]).status,
        3,
        "nobody has looked at anything"
    );
    fill_in(
        &here.join("yard/gate.toml"),
        &fs::read_to_string(demo.join("gate.toml")).unwrap(),
    );
    let ready = relent(here, &["ready", "yard"]);
    assert_eq!(ready.status, 0, "{}{}", ready.out, ready.err);

    assert_eq!(
        relent(here, &["plan", "yard", "--sheet", "sheet.html"]).status,
        3
    );
    assert!(
        fs::read_to_string(here.join("sheet.html"))
            .unwrap()
            .contains("Test points of Yard")
    );
    let names = relent(here, &["plan", "yard", "--names"]).out;
    assert_eq!(names.lines().count(), 27);

    let watching = Watching::start(&here.join("yard"), &["--until-complete"]);
    let mut next = watching.line("Next: ");
    for name in names.lines() {
        assert!(next.ends_with(&format!("save as {name}")), "{next}");
        fs::write(
            here.join("yard/logs").join(name),
            log_for(name, &demo.join("logs")),
        )
        .unwrap();
        next = watching
            .until("27 required hits recorded")
            .pop()
            .unwrap_or_default();
        if name.ends_with("500-1500-2.csv") {
            break;
        }
    }
    let last = names.lines().last().unwrap();
    assert!(next.ends_with(last), "{next}");
    fs::write(
        here.join("yard/logs").join(last),
        log_for(last, &demo.join("logs")),
    )
    .unwrap();
    let (status, lines) = watching.end();
    assert_eq!(status, 0, "{lines:?}");
    assert!(
        lines.iter().any(|line| line.contains("All hits recorded")),
        "{lines:?}"
    );

    assert_eq!(relent(here, &["plan", "yard"]).status, 0);
    let assessed = relent(here, &["assess", "yard"]);
    assert_eq!(assessed.status, 0, "{}{}", assessed.out, assessed.err);
    let report = fs::read_to_string(here.join("yard/report/report.html")).unwrap();
    for wanted in [
        "within the limits assessed",
        "every check answered and in order",
        "30 September 2026",
        "B. Larkspur, yard keeper (invented)",
        "log book of the gate",
    ] {
        assert!(report.contains(wanted), "{wanted}");
    }
    assert!(!here.join("yard/report/must-not-stay.html").exists());
}
