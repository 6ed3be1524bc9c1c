//! Visits that leave something out.

use super::folder::{Folder, peak};
use super::{Row, row};

const OTHER_EDGE: &str = "\n[[points]]\ndirection = \"opening\"\nhazard = \"other-edge\"\ngap_mm = 60\nheight_mm = 50\nhits = 3\n";

pub(super) fn rows() -> Vec<Row> {
    let class = "What is left out";
    let told = |attack, expected, folder: Folder| row(class, attack, expected, folder.outcome());
    let whole = || Folder::of(&[350.0, 352.0, 351.0]);
    let declared = || {
        whole().declare(
            "opening_side = \"clear\"",
            "opening_side = \"clear\"\nhazards = [\"other-edge\"]",
        )
    };
    let mut tested = declared().and(OTHER_EDGE);
    for number in 1..=3 {
        tested.log(
            &format!("opening-other-edge-60-50-{number}.csv"),
            peak(300.0 + f64::from(number)),
        );
    }
    let one = |motion: &str, profile: &str| {
        Folder::of(&[250.0])
            .declare("motion = \"sliding\"", &format!("motion = \"{motion}\""))
            .declare(
                "profile = \"en12453-2017\"",
                &format!("profile = \"{profile}\""),
            )
    };
    let chosen = "\n[[points]]\ndirection = \"closing\"\ngap_mm = 50\nheight_mm = 50\nhits = 1\n";
    let mut unnamed = whole();
    unnamed.log("north side.csv", peak(700.0));
    let mut packed = whole();
    packed.log("extra.zip", peak(700.0));
    let mut notes = whole();
    notes.file("logs/README.md", "invented");
    let mut broken = Folder::of(&[350.0, 352.0]);
    broken.file("logs/closing-closing-edge-50-50-3.csv", "");
    vec![
        told(
            "honest twin: every hit of the one test point",
            "within",
            whole(),
        ),
        told(
            "a hazard declared and never tested",
            "undecided: hazard-not-tested",
            declared(),
        ),
        told(
            "honest twin: the hazard tested at a point of the tester's",
            "within: chosen-points",
            tested,
        ),
        told(
            "one log for a boom",
            "undecided: plan-open",
            one("boom", "en12453-2017"),
        ),
        told(
            "honest twin: its point chosen in the gate file",
            "within: chosen-points",
            one("boom", "en12453-2017").and(chosen),
        ),
        told(
            "one log for a bus door",
            "undecided: hit-over, plan-open, spring-rate",
            one("sliding", "unr107"),
        ),
        told(
            "one log for a pedestrian door",
            "undecided: plan-open",
            one("swing", "en16005-2012"),
        ),
        told(
            "a log of 700 N under another name",
            "undecided: files-not-placed, not-placed",
            unnamed,
        ),
        told(
            "a log of 700 N named as an archive",
            "undecided: files-not-placed, not-placed",
            packed,
        ),
        told(
            "honest twin: a note beside the logs",
            "within: ignored",
            notes,
        ),
        told(
            "an empty log for a hit",
            "undecided: no-value, not-measured, points-incomplete",
            broken,
        ),
    ]
}
