//! `reports/demo/visit-1`: the report of the demo gate's first visit, held against a fresh run.

use std::fs;
use std::path::Path;

use crate::run::{names, relent, visit};

#[test]
fn the_committed_report_of_the_demo_is_what_a_fresh_run_writes() {
    let committed = Path::new(env!("CARGO_MANIFEST_DIR")).join("reports/demo/visit-1");
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", ".", "--seal"]);
    assert_eq!(ran.status, 1);
    let fresh = gate.join("report");
    assert_eq!(
        names(&fresh),
        [
            "assessment.json",
            "findings.csv",
            "must-not-stay.html",
            "record.json",
            "report.html",
            "report.sha256"
        ]
    );
    for name in names(&fresh) {
        let new = fs::read(fresh.join(&name)).unwrap();
        if std::env::var_os("RELENT_BLESS").is_some() {
            fs::create_dir_all(&committed).unwrap();
            fs::write(committed.join(&name), &new).unwrap();
        }
        let old = fs::read(committed.join(&name)).unwrap_or_default();
        assert!(
            old == new,
            "reports/demo/visit-1/{name} is stale: run RELENT_BLESS=1 cargo test --test cli"
        );
    }
}
