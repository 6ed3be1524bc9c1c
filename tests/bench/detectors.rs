//! Counts what the detectors find in simulated hits, and writes the reports: `cargo bench --bench detectors`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    dead_code
)]

#[path = "../properties/copies/table.rs"]
mod copies;
#[path = "../properties/detectors/table.rs"]
mod detectors;
#[path = "../properties/simulated/mod.rs"]
mod simulated;

use std::fs;
use std::path::Path;

fn main() {
    let reports = Path::new(env!("CARGO_MANIFEST_DIR")).join("reports");
    let counted = copies::count(copies::Size {
        gates: 16,
        hits: 50,
        altered: 4,
    });
    fs::write(reports.join("copies.md"), copies::render(&counted)).unwrap();
    println!("copies.md written");
    let counted = detectors::count(160);
    fs::write(reports.join("detectors.md"), detectors::render(&counted)).unwrap();
    println!("detectors.md written");
}
