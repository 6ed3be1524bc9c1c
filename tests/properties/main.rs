//! Does it hold? Laws on generated input.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod attacks;
mod compare_firmware;
mod compare_simulation;
mod copies;
mod detectors;
mod gate;
mod golden_record;
mod impact;
mod impact_changes;
mod impact_demo;
mod ingest_case;
mod ingest_faults;
mod ingest_forms;
mod ingest_kinds;
mod ingest_laws;
mod ingest_layout;
mod ingest_text;
mod limitation;
mod limitation_faults;
mod limitation_gauge;
mod limits;
mod measure;
mod outline;
mod readiness;
mod recipe;
mod report;
mod report_gate;
mod report_live;
mod report_page;
mod sealed_record;
mod simulated;
mod toml_tree;
mod truncation;
mod uncertainty;
mod verdict;
