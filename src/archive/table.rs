//! The tables of an archive as CSV.

use std::io::Write;

use super::JudgedGate;
use super::column::{Cell, Column, FoundAt, findings, gates};
use crate::record::cell;

/// A table as CSV, written row by row: RFC 4180, UTF-8, decimal points, unrounded. An empty cell is a value that does not
/// exist; text that a spreadsheet would take for a formula gets an apostrophe before it.
pub struct CsvTable<W: Write> {
    writer: csv::Writer<W>,
}

impl<W: Write> CsvTable<W> {
    fn start<Row: ?Sized>(to: W, columns: &[Column<Row>]) -> Result<Self, csv::Error> {
        let mut writer = csv::WriterBuilder::new()
            .terminator(csv::Terminator::CRLF)
            .from_writer(to);
        writer.write_record(columns.iter().map(|column| column.name))?;
        Ok(Self { writer })
    }

    /// The table of gate folders, with its headings.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn of_gates(to: W) -> Result<Self, csv::Error> {
        Self::start(to, &gates())
    }

    /// The table of findings, with its headings.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn of_findings(to: W) -> Result<Self, csv::Error> {
        Self::start(to, &findings())
    }

    fn add<Row: ?Sized>(&mut self, columns: &[Column<Row>], row: &Row) -> Result<(), csv::Error> {
        self.writer
            .write_record(columns.iter().map(|column| written((column.cell)(row))))
    }

    /// The row of a folder, for the table of gate folders.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn add_gate(&mut self, judged: &JudgedGate) -> Result<(), csv::Error> {
        self.add(&gates(), &judged.gate)
    }

    /// The rows of a folder, for the table of findings.
    ///
    /// # Errors
    /// [`csv::Error`] of the writer.
    pub fn add_findings(&mut self, judged: &JudgedGate) -> Result<(), csv::Error> {
        let gate = &judged.gate;
        for finding in &judged.findings {
            self.add(&findings(), &FoundAt { gate, finding })?;
        }
        Ok(())
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
    match cell {
        Cell::Text(text) => text.map_or_else(String::new, |text| cell::text(&text).into_owned()),
        Cell::Number(number) => number.map(|it| it.to_string()).unwrap_or_default(),
        Cell::Whole(number) => number.map(|it| it.to_string()).unwrap_or_default(),
        Cell::Day(day) => day.map(|it| it.to_string()).unwrap_or_default(),
        Cell::Flag(flag) => flag
            .map(|it| if it { "yes" } else { "no" }.to_owned())
            .unwrap_or_default(),
    }
}
