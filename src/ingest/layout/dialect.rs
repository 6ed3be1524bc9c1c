//! How a log is written, as data: everything the table reader needs to know, declared before the first row is read.

use super::heads::Head;
use super::sample::Column;
use crate::ingest::tokens::delimiter::{Delimiter, Mark};

/// How one log is written.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Dialect {
    pub(in crate::ingest) delimiter: Delimiter,
    pub(in crate::ingest) mark: Mark,
    /// Who says what the decimal mark is.
    pub(in crate::ingest) mark_from: Source,
    /// Whether the mark is asked already, since no cell decides it.
    pub(in crate::ingest) mark_open: bool,
    pub(in crate::ingest) short_rows: ShortRows,
    /// Whether the rows looked at differ in their number of cells.
    pub(in crate::ingest) ragged: bool,
    /// Cells of a row.
    pub(in crate::ingest) width: usize,
    /// Line of the first row, from 1, and its offset in the text.
    pub(in crate::ingest) first_line: u64,
    pub(in crate::ingest) first_byte: usize,
    /// What was written above each column; shorter than `width` where nothing was.
    pub(in crate::ingest) heads: Vec<Head>,
    /// What the cells of each column look like in the first rows.
    pub(in crate::ingest) columns: Vec<Column>,
}

/// What is made of a row that blanks part in fewer cells than there are columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum ShortRows {
    /// Nothing: which cell is missing cannot be seen.
    Lost,
    /// Its last cells are missing, since a person named the force column of a log that has many such rows.
    EndEarly,
}

impl Dialect {
    /// Whether a whole number in this column may be what the delimiter left of a number with a thousands mark: where all others
    /// have the same number of decimals, or where rows end early and a cell too many does not show.
    pub(in crate::ingest) fn may_tear(&self, column: usize) -> bool {
        self.may_group() && (self.ragged || self.columns.get(column).is_some_and(Column::is_fixed))
    }

    /// Whether the delimiter may stand inside a number as its thousands mark.
    pub(in crate::ingest) fn may_group(&self) -> bool {
        match self.delimiter {
            Delimiter::Byte(byte) => byte == b',' && self.mark == Mark::Point,
            Delimiter::Blanks => true,
            Delimiter::None => false,
        }
    }
}

/// Who says something about a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Source {
    /// The log itself.
    Log,
    /// A person, by an option or a recipe.
    Person,
}
