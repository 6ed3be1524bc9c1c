//! One fault a file, as it may come from a logger, under `fixtures/faults/log`.

use relent::ingest::Ask::{DecimalMark, ForceColumn, Run, SamplingRate, Sign};

use relent::quantity::TimeUnit;

use crate::ingest_case::{Case, asks, judge, reads};

macro_rules! fault {
    ($name:literal) => {
        include_bytes!(concat!("../../fixtures/faults/log/", $name)).to_vec()
    };
}

/// The greatest force of the invented hit in these files.
const PEAK: f64 = 412.5;

fn faults() -> Vec<Case> {
    vec![
        asks(
            "thousands mark",
            fault!("thousands-mark-at-the-peak-unquoted.csv"),
            &[DecimalMark],
        ),
        reads(
            "torn off",
            fault!("torn-inside-the-last-force.csv"),
            41,
            407.4,
        )
        .missing(1)
        .notice("cell"),
        reads(
            "torn lines",
            fault!("torn-lines-run-together.csv"),
            78,
            PEAK,
        )
        .notice("cell"),
        reads(
            "overload",
            fault!("overload-word-at-the-peak.csv"),
            80,
            407.4,
        )
        .missing(1)
        .notice("cell"),
        reads(
            "power loss",
            fault!("zero-bytes-after-power-loss.csv"),
            50,
            PEAK,
        )
        .notice("encoding"),
        reads(
            "clock under the head of a current",
            fault!("clock-under-the-head-of-a-current.csv"),
            80,
            PEAK,
        )
        .missing(1)
        .said(|answers| {
            answers.time = Some("1".to_owned());
            answers.time_unit = Some(TimeUnit::Millisecond);
            answers.run = Some(1.into());
        })
        .notice("cell"),
        asks("second run", fault!("second-run-without-heads.csv"), &[Run]),
        reads("tick counter", fault!("tick-counter-wraps.csv"), 80, PEAK)
            .at(0.04)
            .rate(1000.0)
            .notice("wrap"),
        asks(
            "whole seconds",
            fault!("whole-second-stamps.csv"),
            &[SamplingRate],
        ),
        asks(
            "commas",
            fault!("decimal-commas-between-commas.csv"),
            &[DecimalMark],
        ),
        asks(
            "two forces",
            fault!("two-force-columns.csv"),
            &[ForceColumn],
        ),
        asks(
            "negative push",
            fault!("push-logged-as-negative.csv"),
            &[Sign],
        ),
        reads("count", fault!("count-differs-from-rows.csv"), 80, PEAK).notice("count"),
        reads(
            "still clock",
            fault!("clock-stands-still-once.csv"),
            80,
            PEAK,
        )
        .notice("repeated-instant"),
        asks("other table", fault!("another-table-below.csv"), &[Run]),
        asks(
            "volts",
            fault!("volts-instead-of-force.csv"),
            &[ForceColumn],
        ),
        reads("UTF-16", fault!("utf-16-without-mark.csv"), 80, PEAK).at(0.04),
    ]
}

#[test]
fn every_fault_in_a_file_is_read_rightly_or_asked() {
    judge(&faults(), 17);
}
