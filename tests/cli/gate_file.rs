//! What a user is told about a gate file and the names of its logs: each fault as `fixtures/faults/gate` holds it, beside
//! the complaint under `complaints/`.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use relent::cli::complaint::{self, Colours, Complaint, Excerpt};
use relent::cli::exit::Exit;
use relent::gate::names::{PlaceProblem, Placed, place};
use relent::gate::{self, Kind, PatternError};
use relent::words::{Language, Words};

use crate::run::snapshot;

fn fixtures(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fixtures")
        .join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    files
}

fn stem(path: &Path) -> String {
    path.file_stem().unwrap().to_str().unwrap().to_owned()
}

fn text(complaints: &[Complaint]) -> String {
    complaints
        .iter()
        .map(|complaint| complaint.render(Colours::Plain))
        .collect()
}

/// The name of each kind of problem; the compiler keeps this list whole.
fn kind(kind: &Kind) -> &'static str {
    match kind {
        Kind::NotUtf8 { .. } => "NotUtf8",
        Kind::Syntax(_) => "Syntax",
        Kind::UnknownKey { .. } => "UnknownKey",
        Kind::UnknownSection { .. } => "UnknownSection",
        Kind::MissingSection { .. } => "MissingSection",
        Kind::MissingKey { .. } => "MissingKey",
        Kind::WrongKind { .. } => "WrongKind",
        Kind::UnknownWord { .. } => "UnknownWord",
        Kind::Blank { .. } => "Blank",
        Kind::ControlCharacter { .. } => "ControlCharacter",
        Kind::NotFinite { .. } => "NotFinite",
        Kind::OutOfRange { .. } => "OutOfRange",
        Kind::NotADay { .. } => "NotADay",
        Kind::DueBeforeCalibrated { .. } => "DueBeforeCalibrated",
        Kind::ObstacleWithoutSpace => "ObstacleWithoutSpace",
        Kind::SpaceWithoutObstacle { .. } => "SpaceWithoutObstacle",
        Kind::EmptyCertificate => "EmptyCertificate",
        Kind::CertificateWithoutFactor => "CertificateWithoutFactor",
        Kind::BandWithoutGuard => "BandWithoutGuard",
        Kind::NamesAndList => "NamesAndList",
        Kind::NeitherNamesNorList => "NeitherNamesNorList",
        Kind::Pattern(PatternError::LoneBrace { .. }) => "Pattern LoneBrace",
        Kind::Pattern(PatternError::UnknownField { .. }) => "Pattern UnknownField",
        Kind::Pattern(PatternError::Twice { .. }) => "Pattern Twice",
        Kind::Pattern(PatternError::Touching { .. }) => "Pattern Touching",
        Kind::Pattern(PatternError::Lacks { .. }) => "Pattern Lacks",
        Kind::Pattern(PatternError::Folder { .. }) => "Pattern Folder",
    }
}

#[test]
fn every_fault_of_a_gate_file_is_told_with_its_place_and_what_helps() {
    let mut kinds = BTreeSet::new();
    let files = fixtures("faults/gate");
    assert_eq!(files.len(), 55);
    for path in files {
        let name = stem(&path);
        let error = gate::read(&fs::read(&path).unwrap()).expect_err(&name);
        kinds.extend(error.problems.iter().map(|problem| kind(&problem.kind)));
        let complaints = complaint::gate_file("gate.toml", &error);
        assert!(complaints.iter().all(|it| it.exit() == Exit::Failed));
        snapshot(&format!("gate-{name}"), &text(&complaints));
    }
    assert_eq!(kinds.len(), 27, "a kind of problem has no fault: {kinds:?}");
}

#[cfg(feature = "schema")]
#[test]
fn the_schema_for_editors_is_that_of_the_structs() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/gate/schema.json");
    let made = format!("{:#}\n", gate::schema_of_structs());
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &made).unwrap();
    }
    assert!(
        fs::read_to_string(&path).unwrap() == made,
        "src/gate/schema.json is stale: run RELENT_BLESS=1 cargo test --features schema --test cli schema"
    );
}

#[test]
fn what_looks_odd_in_a_gate_file_is_a_warning() {
    for (name, count) in [("odd", 5), ("calibrated-after", 1)] {
        let path = fixtures("gates")
            .into_iter()
            .find(|path| stem(path) == name);
        let bytes = fs::read(path.unwrap()).unwrap();
        let read = gate::read(&bytes).unwrap();
        assert_eq!(read.warnings.len(), count);
        let source = std::str::from_utf8(&bytes).unwrap();
        let complaints = complaint::gate_warnings("gate.toml", source, &read.warnings);
        assert!(complaints.iter().all(|it| it.exit() == Exit::Done));
        snapshot(&format!("gate-warnings-{name}"), &text(&complaints));
    }
}

#[test]
fn what_a_gate_file_leaves_open_is_named() {
    let minimal = fixtures("gates")
        .into_iter()
        .find(|path| stem(path) == "minimal");
    let read = gate::read(&fs::read(minimal.unwrap()).unwrap()).unwrap();
    let words = Words::of(Language::English);
    snapshot("gate-gaps", &words.facts(&read.file.gaps()).join("\n"));
}

#[test]
fn every_gap_names_a_key_that_would_close_it() {
    let minimal = "schema = 'relent.gate/1'\n[gate]\nname = 'g'\nmotion = 'boom'\n[gauge]\n[visit]\n\
                   date = 2026-11-25\nkind = 'first'\n[assessment]\nprofile = 'p'\ndecision = 'simple'";
    let gaps = gate::read(minimal.as_bytes()).unwrap().file.gaps();
    assert_eq!(gaps.len(), 18, "{gaps:?}");
    let schema = gate::schema();
    for key in gaps.iter().map(|gap| gap.key()) {
        let pointer = format!("/properties/{}", key.replace('.', "/properties/"));
        assert!(schema.pointer(&pointer).is_some(), "{key}");
    }
}

#[test]
fn a_template_leaves_nothing_open_and_looks_odd_nowhere() {
    let read = gate::read(gate::TEMPLATE.as_bytes()).unwrap();
    assert_eq!(read.warnings, []);
    assert_eq!(read.file.gaps(), []);
}

fn placed(files: &[&str], logs: &str, gate: &str) -> Placed {
    let logs = toml::from_str(logs).unwrap();
    place(files, &logs, &toml::from_str(gate).unwrap()).unwrap()
}

const SLIDING: &str = "name = 'g'\nmotion = 'sliding'\nleaf_height_mm = 1800";
const NAMES: &str = "names = '{direction}-{gap}-{height}-{repeat}'";

fn hits(placed: &Placed) -> Vec<String> {
    let hits = placed.hits.iter();
    hits.map(|hit| format!("{}: {}, repeat {}", hit.file, hit.point.key(), hit.repeat))
        .collect()
}

#[test]
fn the_name_of_a_log_says_which_hit_it_holds() {
    let files = [
        "opening-300-top-2.csv",
        "closing-50-low-1.csv",
        "Closing-50-HALF-1.CSV",
        "closing-50-950-3.txt",
        "closing-50,5-902.5-1",
        "visit 2\\closing-500-low-1.csv",
    ];
    let placed = placed(&files, NAMES, SLIDING);
    assert_eq!(placed.problems, []);
    assert_eq!(
        hits(&placed),
        [
            "closing-50-low-1.csv: closing-closing-edge-50-50, repeat 1",
            "Closing-50-HALF-1.CSV: closing-closing-edge-50-900, repeat 1",
            "closing-50-950-3.txt: closing-closing-edge-50-950, repeat 3",
            "closing-50,5-902.5-1: closing-closing-edge-50.5-902.5, repeat 1",
            "visit 2/closing-500-low-1.csv: closing-closing-edge-500-50, repeat 1",
            "opening-300-top-2.csv: opening-closing-edge-300-1500, repeat 2",
        ]
    );
}

#[test]
fn the_top_of_a_tall_leaf_is_brought_down_to_2500_mm() {
    let tall = "name = 'g'\nmotion = 'swing'\nleaf_height_mm = 3000";
    let placed = placed(&["closing-50-top-1.csv"], NAMES, tall);
    assert_eq!(placed.hits[0].point.height_mm, 2500.0);
}

#[test]
fn a_vertical_leaf_has_places_across_its_opening() {
    let gate = "name = 'g'\nmotion = 'vertical'\nclear_opening_mm = 3600";
    let names = "names = '{hazard}_{direction}_{gap}_{height}.csv'";
    let files = [
        "closing-edge_closing_50_left.csv",
        "closing-edge_closing_50_middle.csv",
        "closing-edge_closing_50_right.csv",
        "flat-face_opening_300_1700.csv",
    ];
    let placed = placed(&files, names, gate);
    assert_eq!(placed.problems, []);
    assert_eq!(
        hits(&placed),
        [
            "closing-edge_closing_50_left.csv: closing-closing-edge-50-200, repeat 1",
            "closing-edge_closing_50_middle.csv: closing-closing-edge-50-1800, repeat 1",
            "closing-edge_closing_50_right.csv: closing-closing-edge-50-3400, repeat 1",
            "flat-face_opening_300_1700.csv: opening-flat-face-300-1700, repeat 1",
        ]
    );
}

#[test]
fn files_beside_the_logs_are_listed_and_left_alone() {
    let beside = [
        ".DS_Store",
        "README.md",
        "Thumbs.db",
        "closing-50-50-1.jpg",
        "desktop.ini",
        "gate.toml",
        "notes.txt",
        "~$visit.docx",
    ];
    let placed = placed(&beside, NAMES, SLIDING);
    assert_eq!(placed.ignored, beside);
    assert_eq!((placed.hits, placed.problems), (vec![], vec![]));
}

/// The name of each way a log cannot be placed; the compiler keeps this list whole.
fn way(problem: &PlaceProblem) -> &'static str {
    match problem {
        PlaceProblem::DoesNotFit { .. } => "DoesNotFit",
        PlaceProblem::TwoReadings { .. } => "TwoReadings",
        PlaceProblem::HeightUnknown { .. } => "HeightUnknown",
        PlaceProblem::BeyondLeaf { .. } => "BeyondLeaf",
        PlaceProblem::BeyondOpening { .. } => "BeyondOpening",
        PlaceProblem::SameHit { .. } => "SameHit",
        PlaceProblem::ListedTwice { .. } => "ListedTwice",
        PlaceProblem::NotThere { .. } => "NotThere",
        PlaceProblem::NotListed { .. } => "NotListed",
    }
}

#[test]
fn a_log_that_cannot_be_placed_is_told_and_never_used() {
    let listed = "[[list]]\nfile = 'a.csv'\ndirection = 'closing'\ngap_mm = 50\nheight_mm = 50\nrepeat = 1\n";
    let vertical = "name = 'g'\nmotion = 'vertical'\nleaf_width_mm = 3000";
    let boom = "name = 'g'\nmotion = 'boom'";
    let twice = format!("{listed}{listed}");
    let narrow = "name = 'g'\nmotion = 'sliding'\nclear_opening_mm = 400";
    let low = "name = 'g'\nmotion = 'vertical'\nclear_opening_mm = 2500";
    let cases: [(&[&str], &str, &str); 13] = [
        (&["closing-50-50-1 (2).csv"], NAMES, SLIDING),
        (&["closing-fifty-50-1.csv"], NAMES, SLIDING),
        (&["closing-50-50.csv"], NAMES, SLIDING),
        (&["closing-50-50-0.csv"], NAMES, SLIDING),
        (
            &["closing-50.5.5-1.csv"],
            "names = '{direction}-{gap}.{height}-{repeat}'",
            SLIDING,
        ),
        (&["closing-50-half-1.csv"], NAMES, vertical),
        (&["closing-50-top-1.csv"], NAMES, boom),
        (
            &["closing-50-50-1.csv", "closing-050-low-1.csv"],
            NAMES,
            SLIDING,
        ),
        (&["a.csv", "b.csv"], &twice, SLIDING),
        (&["b.csv"], listed, SLIDING),
        (&["closing-50-2600-1.csv"], NAMES, SLIDING),
        (&["closing-50-2600-1.csv"], NAMES, low),
        (&["closing-500-50-1.csv"], NAMES, narrow),
    ];
    let mut said = String::new();
    let mut ways = BTreeSet::new();
    for (files, logs, gate) in cases {
        let placed = placed(files, logs, gate);
        assert_eq!(placed.hits, [], "{files:?}");
        assert!(!placed.problems.is_empty(), "{files:?}");
        for problem in &placed.problems {
            ways.insert(way(problem));
            said += &complaint::place_problem(problem).render(Colours::Plain);
        }
    }
    assert_eq!(ways.len(), 9, "{ways:?}");
    snapshot("gate-logs", &said);
}

#[test]
fn a_line_of_a_log_is_shown_with_its_number() {
    let line = "0,012;12,5;ok\r\n";
    let complaint = Complaint::error("line 40213: force: \"12,5\": expected a number in N")
        .at(Excerpt::of_line("closing-50-50-1.csv", 40213, line, 6..10))
        .help("answer with --decimal-mark ,");
    snapshot("log-line", &complaint.render(Colours::Plain));
}

#[test]
fn control_characters_of_a_file_never_reach_the_terminal() {
    let complaint = Complaint::error("a\x1b[2Jb")
        .at(Excerpt::of_line("x\x1b[2J.csv", 1, "1\x1b[2J2", 0..1))
        .help("c\x1b[2Jd");
    assert!(!complaint.render(Colours::Plain).contains('\x1b'));
}

#[test]
fn the_worst_of_several_decides_the_exit_status() {
    let order = [Exit::Done, Exit::Undecided, Exit::Over, Exit::Failed];
    assert_eq!(order.map(Exit::code), [0, 3, 1, 2]);
    for (index, worst) in order.iter().enumerate() {
        for better in &order[..=index] {
            assert_eq!(Exit::worst([*better, *worst]), *worst);
            assert_eq!(Exit::worst([*worst, *better]), *worst);
        }
    }
    assert_eq!(Exit::worst([]), Exit::Done);
}
