//! Findings and visits as rows, with one spelling of every field: the tables as CSV and Parquet, JSON and the help are made from them.
//!
//! A row is declared once, in `column::row!`: each field with its type and, as its documentation, what the column means.
//!
//! Numbers whose unit is always the same end in it (`gap_mm`). A table of findings holds forces, times and impulses; a column for each
//! unit would be empty in most rows. So `value`, `limit_value`, `headroom`, `expanded_uncertainty` and `spread` are in the unit that the
//! field `unit` of the same row names, in tables, JSON and records alike.

pub mod column;
#[cfg(feature = "parquet")]
pub mod parquet;
pub mod table;

mod finding;
mod measured;
mod visit;

pub use finding::{FindingRow, Found, RowKind, findings_csv};
pub use measured::MeasuredLog;
pub use visit::VisitRow;
