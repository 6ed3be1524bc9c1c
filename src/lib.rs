//! Gate force and safety-compliance calculations for impact testing: force-gauge logs in, a verdict that can be defended out.
//!
//! The modules stand in the order the data flows. Each may use only those above it; `tests/structure` holds that rule.

pub mod quantity;

pub mod fact;

pub mod trace;

pub mod toml_tree;

pub mod ingest;

pub mod measure;

pub mod limitation;

pub mod limits;

pub mod uncertainty;

pub mod verdict;

pub mod gate;

pub mod readiness;

pub mod visit;

pub use visit::{Visit, VisitError};

pub mod compare;

pub mod impact;

pub mod record;

pub mod words;

pub mod view;

pub mod archive;

pub mod report;

#[cfg(feature = "cli")]
pub mod cli;
