//! Hits added, left out, renumbered or declared void.

use super::folder::{Folder, Pulse, peak};
use super::{Row, row};

pub(super) fn rows() -> Vec<Row> {
    let class = "Hits that are counted";
    let told = |attack, expected, folder: Folder| row(class, attack, expected, folder.outcome());
    let numbered = |numbers: [usize; 3]| {
        let mut folder = Folder::new();
        for number in numbers {
            folder.hit(number, peak(350.0 + number as f64));
        }
        folder
    };
    let one = |peak: f64| {
        Folder::of(&[peak])
            .declare("motion = \"sliding\"", "motion = \"boom\"")
            .declare("decision = \"simple\"", "decision = \"guarded\"")
            .and("\n[[points]]\ndirection = \"closing\"\ngap_mm = 50\nheight_mm = 50\nhits = 1\n")
    };
    let knocked = |knock: f64| {
        let mut folder = Folder::of(&[350.0, 352.0]);
        folder.knocked(3, peak(351.0), knock, 2.0);
        folder
    };
    // Both samples of each pulse lie at 0.56 of its top.
    let slow = || {
        let mut folder = Folder::new();
        for number in 1..=3_usize {
            let mut lines = vec!["time (s),force (N)".to_owned()];
            for row in 0..1240 {
                let at = f64::from(row) / 200.0;
                let into = (at - 0.4985 - 0.05 * number as f64) / 0.008;
                let force = if (0.0..1.0).contains(&into) {
                    700.0 * (std::f64::consts::PI * into).sin()
                } else {
                    0.0
                };
                let ripple =
                    f64::from(row * row % 7) / 10.0 + f64::from(row % (3 + number as i32)) / 10.0;
                lines.push(format!("{at:.4},{:.1}", force + ripple));
            }
            folder.file(
                &format!("logs/closing-closing-edge-50-50-{number}.csv"),
                lines.join("\n"),
            );
        }
        folder
    };
    let void = "\n[[logs.void]]\nfile = \"closing-closing-edge-50-50-2.csv\"\nreason = \"the gauge slipped\"\n";
    let mut nine = vec![420.0, 421.0, 419.0];
    nine.extend((0..9).map(|at| 350.0 + f64::from(at)));
    let mut lasting = Folder::of(&[350.0, 352.0]);
    lasting.hit(
        3,
        Pulse {
            lasts: 1.97,
            ..peak(351.0)
        },
    );
    let mut remaining = Folder::of(&[350.0, 352.0]);
    remaining.hit(
        3,
        Pulse {
            remains: 66.0,
            ..peak(351.0)
        },
    );
    vec![
        told(
            "honest twin: three hits of 389 to 391 N",
            "within",
            Folder::of(&[390.0, 391.0, 389.0]),
        ),
        told(
            "three hits of 405 N on average",
            "over",
            Folder::of(&[405.0, 406.0, 404.0]),
        ),
        told(
            "the same, and a fourth of 370 N",
            "over",
            Folder::of(&[405.0, 406.0, 404.0, 370.0]),
        ),
        told(
            "three of 420 N, and nine of 350 N",
            "over",
            Folder::of(&nine),
        ),
        told(
            "honest twin: a fourth hit like the others",
            "within",
            Folder::of(&[390.0, 391.0, 389.0, 390.5]),
        ),
        told(
            "one hit of 415 N under a mean within",
            "within: hit-over",
            Folder::of(&[380.0, 381.0, 415.0]),
        ),
        told(
            "one hit a point, guarded: nothing says how hits scatter",
            "undecided: chosen-points, uncertainty-incomplete",
            one(350.0),
        ),
        told(
            "honest twin: the scatter declared",
            "within: chosen-points",
            one(350.0).declare(
                "decision = \"guarded\"",
                "decision = \"guarded\"\nrepeatability_percent = 2",
            ),
        ),
        told(
            "a knock of 700 N two seconds after a hit of 350 N",
            "undecided: hit-over, later-contact",
            knocked(700.0),
        ),
        told(
            "honest twin: a touch of 40 N two seconds after it",
            "within",
            knocked(40.0),
        ),
        told(
            "700 N for 8 ms, read as 389 N at 200 Hz",
            "undecided: slow-sampling",
            slow(),
        ),
        told(
            "hits 1, 3 and 7",
            "undecided: hits-unaccounted",
            numbered([1, 3, 7]),
        ),
        told("honest twin: hits 1 to 3", "within", numbered([1, 2, 3])),
        told(
            "hit 2 declared void, three others",
            "within: void-hit",
            Folder::of(&[380.0, 460.0, 381.0, 379.0]).and(void),
        ),
        told(
            "hit 2 declared void, two others",
            "undecided: hits-missing, points-incomplete, void-hit",
            Folder::of(&[380.0, 460.0, 381.0]).and(void),
        ),
        told(
            "hit 2 declared void, its log deleted",
            "undecided: hits-unaccounted",
            numbered([1, 3, 4]).and(void),
        ),
        told("0.07, 0.07 and 1.97 s above 150 N", "over", lasting),
        told(
            "0, 0 and 66 N that remain",
            "over: ends-early, over-anyway",
            remaining,
        ),
    ]
}
