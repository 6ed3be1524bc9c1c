//! `reports/conformance.md`: every outside check with source, expected, computed, difference and tolerance. Stale = failure.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use crate::check::{Check, Tolerance};

const HEAD: &str = "# Conformance\n\n\
Every check of relent against something outside it: where the expected value comes from, what relent computes, the difference and\n\
how far they may differ. Written by `RELENT_BLESS=1 cargo test --test reference`; the test fails when this file is stale.\n\
Differences are given to two digits, and as 0 below 10⁻¹² of the value, where they depend on the machine.\n";

/// A number for people: all digits that matter, without noise of the last places.
fn number(value: f64) -> String {
    let size = value.abs();
    if value == 0.0 {
        "0".to_owned()
    } else if (1e-3..1e9).contains(&size) {
        let digits = (11 - size.log10().floor() as i32).clamp(0, 15) as usize;
        let text = format!("{value:.digits$}");
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    } else {
        format!("{value:.9e}")
    }
}

fn difference(check: &Check) -> String {
    let difference = check.computed - check.expected;
    if difference.abs() <= 1e-12 * check.expected.abs().max(1e-12) {
        "0".to_owned()
    } else {
        format!("{difference:.1e}")
    }
}

/// The computed value with the digits that the tolerance supports, so that the last bits of a machine do not show.
fn computed(check: &Check) -> String {
    let (below, above) = check.band();
    let finest = below
        .min(above)
        .max(1e-11 * check.expected.abs())
        .max(1e-300);
    let digits = (1.0 - finest.log10().floor()).clamp(0.0, 15.0) as usize;
    if check.computed == 0.0 || check.computed.abs() >= 1e-3 && check.computed.abs() < 1e9 {
        format!("{:.digits$}", check.computed)
    } else {
        format!("{:.9e}", check.computed)
    }
}

fn tolerance(check: &Check) -> String {
    match check.tolerance {
        Tolerance::Absolute(most) => format!("± {most:e}"),
        Tolerance::Relative(share) => format!("± {share:e} of it"),
        Tolerance::Between { below, above } => format!("−{below:e} … +{above:e}"),
    }
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

fn render(topics: &[(&str, Vec<Check>)]) -> String {
    let mut page = HEAD.to_owned();
    let total: usize = topics.iter().map(|(_, checks)| checks.len()).sum();
    let _ = writeln!(page, "\n{total} checks in {} topics.", topics.len());
    for (topic, checks) in topics {
        let _ = write!(
            page,
            "\n## {topic}\n\n| what | expected | computed | unit | difference | tolerance | source |\n|---|---:|---:|---|---:|---|---|\n"
        );
        for check in checks {
            let _ = writeln!(
                page,
                "| {} | {} | {} | {} | {} | {} | {} |",
                cell(&check.what),
                number(check.expected),
                computed(check),
                check.unit,
                difference(check),
                tolerance(check),
                cell(check.source),
            );
        }
    }
    page
}

#[test]
fn the_conformance_report_is_fresh_and_every_check_in_it_holds() {
    let topics = crate::topics();
    for (topic, checks) in &topics {
        assert!(!checks.is_empty(), "{topic} has no check");
        crate::check::hold(checks, checks.len());
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reports/conformance.md");
    let fresh = render(&topics);
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &fresh).unwrap();
    }
    let committed = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == fresh,
        "reports/conformance.md is stale: run RELENT_BLESS=1 cargo test --test reference"
    );
}
