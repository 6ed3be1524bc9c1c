//! An archive of many gates as tables: one row a gate folder, one row a finding, and what they amount to.
//!
//! The rows of a gate are a function of its assessment. They are kept in a journal while an archive is assessed ([`journal`]),
//! valid as long as the files they came from are what they were ([`inputs`]); every output is written from the journal, so
//! that an interrupted run and one that was not give the same bytes.

pub mod inputs;
pub mod journal;

mod row;
mod summary;

pub use row::{AssessedGate, FoundAt, GateRow, GateState};
#[cfg(feature = "schema")]
pub use summary::Record;
pub use summary::{Gauge, Offence, Output, Summary, Totals, archive_json};
