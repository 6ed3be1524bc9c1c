//! Gauges that are not fit for the test.

use super::folder::Folder;
use super::{Row, row};

pub(super) fn rows() -> Vec<Row> {
    let class = "The gauge";
    let told = |attack, expected, folder: Folder| row(class, attack, expected, folder.outcome());
    let of = |peak: f64| Folder::of(&[peak, peak + 1.0, peak - 1.0]);
    let expired = |peak| {
        of(peak).declare(
            "calibration_due = 2027-01-11",
            "calibration_due = 2026-04-30",
        )
    };
    let coarse = |peak| of(peak).declare("accuracy_percent = 1", "accuracy_percent = 9");
    let spring = |peak, rate: &str| of(peak).declare("spring_rate_n_per_mm = 500", rate);
    vec![
        told("honest twin: 350 N, calibrated, ± 1 %", "within", of(350.0)),
        told(
            "calibration expired, 600 N",
            "over: not-current, over-anyway",
            expired(600.0),
        ),
        told(
            "calibration expired, 410 N",
            "undecided: hit-over, not-current",
            expired(410.0),
        ),
        told(
            "calibration expired, 300 N",
            "undecided: not-current",
            expired(300.0),
        ),
        told(
            "± 9 % where ± 5 % are demanded, 390 N",
            "undecided: gauge-accuracy",
            coarse(390.0),
        ),
        told(
            "± 9 %, 600 N",
            "over: gauge-accuracy, over-anyway",
            coarse(600.0),
        ),
        told(
            "spring rate of 200 N/mm, 390 N",
            "undecided: spring-rate",
            spring(390.0, "spring_rate_n_per_mm = 200"),
        ),
        told(
            "spring rate not known, 390 N",
            "undecided: spring-rate",
            spring(390.0, ""),
        ),
    ]
}
