//! One hit saved as several.

use super::site::Site;
use super::{Row, row};

pub(super) fn rows() -> Vec<Row> {
    let class = "Copies";
    let honest = Site::honest();
    let mut identical = honest.clone();
    let bytes = identical.log("closing-50-50-1.csv").clone();
    *identical.log("closing-50-50-2.csv") = bytes;
    vec![
        row(class, "honest twin: 27 hits", "within", honest.outcome()),
        row(
            class,
            "one log under two names",
            "undecided: copy",
            identical.outcome(),
        ),
    ]
}
