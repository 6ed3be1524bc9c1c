//! Limits of one's own, and requirements that are shown only.

use super::folder::Folder;
use super::{Row, row};

const MORE: &str = "extends = \"en12453-2017\"\nNAME\n[[confirm]]\nlimit = \"peak-force-closing-edge-50-to-500\"\nvalue = 700\nunit = \"N\"\nconfirmed_on = \"2026-03-02\"\nconfirmed_from = \"nobody's copy\"\n";

pub(super) fn rows() -> Vec<Row> {
    let class = "Whose limits";
    let told = |attack, expected, folder: Folder| row(class, attack, expected, folder.outcome());
    let own = |peak: f64, text: String| {
        let folder = Folder::of(&[peak, peak + 1.0, peak - 1.0]);
        let mut folder = folder.declare("profile = \"en12453-2017\"", "profile = \"own.toml\"");
        folder.file("own.toml", text);
        folder
    };
    let named = |name: &str| MORE.replace("NAME", name);
    let source = relent::limits::source("en12453-2017").unwrap();
    let tolerant = source.replace(
        "place_tolerance_mm = { value = 10,",
        "place_tolerance_mm = { value = 500,",
    );
    let tolerant = tolerant.replacen("name = \"en12453-2017\"", "name = \"ours\"", 1);
    let low_energy =
        |spring: f64| {
            Folder::of(&[60.0])
            .declare("motion = \"sliding\"", "motion = \"swing\"")
            .declare("profile = \"en12453-2017\"", "profile = \"a156.19\"")
            .declare("spring_rate_n_per_mm = 500", &format!("spring_rate_n_per_mm = {spring}"))
            .and("\n[[points]]\ndirection = \"closing\"\ngap_mm = 50\nheight_mm = 50\nhits = 1\n")
        };
    vec![
        told(
            "690 N against 700 N for 400 N",
            "within: own-limits",
            own(690.0, named("")),
        ),
        told(
            "the same under the name of the built-in profile",
            "refused: a name that no profile on the shelf has",
            own(690.0, named("name = \"en12453-2017\"")),
        ),
        told(
            "a whole profile under that name",
            "refused: a name that no profile on the shelf has: nobody may take these limits for its own",
            own(300.0, source.to_owned()),
        ),
        told(
            "a place tolerance of 500 mm",
            "refused: at most 50: more would let a record pass that shows nothing",
            own(300.0, tolerant),
        ),
        told(
            "honest twin: the limits of the profile",
            "within",
            Folder::of(&[350.0, 351.0, 349.0]),
        ),
        told(
            "3.6 J against 1.6 J, shown only",
            "over: chosen-points",
            low_energy(0.5),
        ),
        told(
            "honest twin: 0.9 J",
            "within: chosen-points",
            low_energy(2.0),
        ),
    ]
}
