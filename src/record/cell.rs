//! Text that goes into a cell of a CSV file which somebody may open in a spreadsheet.

use std::borrow::Cow;

/// The text of a cell, with a leading apostrophe where a spreadsheet would take it for a formula.
///
/// Spreadsheets evaluate a cell that starts with `=`, `+`, `-`, `@`, a tab or a carriage return. Only text passes through
/// here: numbers are written as numbers.
///
/// # Example
/// ```
/// assert_eq!(relent::record::cell::text("=cmd()"), "'=cmd()");
/// assert_eq!(relent::record::cell::text("north gate"), "north gate");
/// ```
#[must_use]
pub fn text(raw: &str) -> Cow<'_, str> {
    if raw.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        Cow::Owned(format!("'{raw}"))
    } else {
        Cow::Borrowed(raw)
    }
}
