//! Tables as CSV.

use std::borrow::Cow;
use std::io::Write;

use super::column::{Cell, Columns, cells, columns};

/// A table as CSV, written row by row: RFC 4180, UTF-8, decimal points, unrounded. An empty cell is a value that does not
/// exist; text that a spreadsheet would take for a formula gets an apostrophe before it.
pub struct CsvTable<W: Write> {
    writer: csv::Writer<W>,
}

impl<W: Write> CsvTable<W> {
    /// A table of rows of one type, with its headings.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn of<Row: Columns>(to: W) -> Result<Self, csv::Error> {
        let mut writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .from_writer(to);
        writer.write_record(columns::<Row>().iter().map(|column| column.name))?;
        Ok(Self { writer })
    }

    /// Writes a row.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn add<Row: Columns>(&mut self, row: &Row) -> Result<(), csv::Error> {
        self.writer
            .write_record(cells(row).into_iter().map(written))
    }

    /// Ends the table and gives back what it was written to.
    ///
    /// # Errors
    /// [`csv::Error`] of the last bytes.
    pub fn finish(self) -> Result<W, csv::Error> {
        self.writer
            .into_inner()
            .map_err(|error| error.into_error().into())
    }
}

fn written(cell: Cell<'_>) -> String {
    fn shown(value: Option<impl ToString>) -> String {
        value.map(|it| it.to_string()).unwrap_or_default()
    }
    match cell {
        Cell::Text(text) => text.map_or_else(String::new, |text| guarded(&text).into_owned()),
        Cell::Number(number) => shown(number),
        Cell::Whole(number) => shown(number),
        Cell::Day(day) => shown(day),
        Cell::Flag(flag) => shown(flag),
    }
}

/// The text of a cell, with a leading apostrophe where a spreadsheet would take it for a formula.
///
/// Spreadsheets evaluate a cell that starts with `=`, `+`, `-`, `@`, a tab or a carriage return. Only text passes through
/// here: numbers are written as numbers.
///
/// # Example
/// ```
/// assert_eq!(relent::view::table::guarded("=cmd()"), "'=cmd()");
/// assert_eq!(relent::view::table::guarded("north gate"), "north gate");
/// ```
#[must_use]
pub fn guarded(raw: &str) -> Cow<'_, str> {
    if raw.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        Cow::Owned(format!("'{raw}"))
    } else {
        Cow::Borrowed(raw)
    }
}
