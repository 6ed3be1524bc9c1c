//! Attacks on the verdict, one file a class: each on the gate of [`site`], whose truth is known, and each with an honest twin.
//!
//! The table stands in `reports/attacks.md`, written by `RELENT_BLESS=1 cargo test --test properties attack`; stale = failure.

mod clipped;
mod complete;
mod copied;
mod counted;
mod declared;
mod folder;
mod gauge;
mod limits;
mod logged;
mod zero;

pub(crate) mod site;

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// One attack or honest twin, with what must come of it and what does.
pub(crate) struct Row {
    class: &'static str,
    attack: &'static str,
    expected: &'static str,
    actual: String,
}

/// A row of a class.
pub(crate) fn row(
    class: &'static str,
    attack: &'static str,
    expected: &'static str,
    actual: String,
) -> Row {
    Row {
        class,
        attack,
        expected,
        actual,
    }
}

fn rows() -> Vec<Row> {
    [
        counted::rows(),
        complete::rows(),
        limits::rows(),
        gauge::rows(),
        copied::rows(),
        clipped::rows(),
        logged::rows(),
        zero::rows(),
        declared::rows(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

const HEAD: &str = "# Attacks\n\n\
What comes of attempts to get a wrong verdict, and of honest records that look like one. Each is made from the second visit to the demo\n\
gate, whose truth is known from the model: complete, and within every limit. After the verdict on the whole stand the codes of what was\n\
found. Written by `RELENT_BLESS=1 cargo test --test properties attack`; the test fails when this file is stale.\n";

fn page(rows: &[Row]) -> String {
    let mut page = HEAD.to_owned();
    let mut class = "";
    for row in rows {
        if row.class != class {
            class = row.class;
            let heads = "| attack | expected | actual |\n|---|---|---|";
            let _ = writeln!(page, "\n## {class}\n\n{heads}");
        }
        let _ = writeln!(
            page,
            "| {} | {} | {} |",
            row.attack, row.expected, row.actual
        );
    }
    page
}

#[test]
fn every_attack_ends_as_it_must_and_every_honest_twin_passes() {
    let rows = rows();
    let fresh = page(&rows);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reports/attacks.md");
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &fresh).unwrap();
    }
    let wrong: Vec<String> = rows
        .iter()
        .filter(|row| row.actual != row.expected)
        .map(|row| {
            format!(
                "{}: {}: {} for {}",
                row.class, row.attack, row.actual, row.expected
            )
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let committed = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == fresh,
        "reports/attacks.md is stale: run RELENT_BLESS=1 cargo test --test properties attack"
    );
}
