//! How a log is written, as data: everything the table reader needs to know, declared before the first row is read.

use super::sample::Column;

/// The decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Point,
    Comma,
}

impl Mark {
    pub(super) const fn byte(self) -> u8 {
        match self {
            Self::Point => b'.',
            Self::Comma => b',',
        }
    }

    pub(super) const fn other(self) -> Self {
        match self {
            Self::Point => Self::Comma,
            Self::Comma => Self::Point,
        }
    }

    pub(super) const fn char(self) -> char {
        self.byte() as char
    }
}

/// What stands between two cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Delimiter {
    /// One byte.
    Byte(u8),
    /// Any number of blanks.
    Blanks,
    /// Nothing: one bare column.
    None,
}

impl Delimiter {
    /// As `relent.read/1` shows it.
    pub(super) const fn char(self) -> Option<char> {
        match self {
            Self::Byte(byte) => Some(byte as char),
            Self::Blanks => Some(' '),
            Self::None => None,
        }
    }

    /// Its code in facts; a byte that is rarely a delimiter stands for itself.
    pub(super) fn code(self) -> String {
        match self {
            Self::Byte(b'\t') => "tab".to_owned(),
            Self::Byte(b',') => "comma".to_owned(),
            Self::Byte(b';') => "semicolon".to_owned(),
            Self::Byte(b'|') => "bar".to_owned(),
            Self::Byte(byte) => char::from(byte).to_string(),
            Self::Blanks => "blanks".to_owned(),
            Self::None => "none".to_owned(),
        }
    }
}

/// How one log is written.
#[derive(Clone, Debug)]
pub(super) struct Dialect {
    pub(super) delimiter: Delimiter,
    pub(super) mark: Mark,
    /// Who says what the decimal mark is.
    pub(super) mark_from: Source,
    pub(super) short_rows: ShortRows,
    /// Whether the rows looked at differ in their number of cells.
    pub(super) ragged: bool,
    /// Cells of a row.
    pub(super) width: usize,
    /// Line of the first row, from 1, and its offset in the text.
    pub(super) first_line: u64,
    pub(super) first_byte: usize,
    /// What was written above each column; shorter than `width` where nothing was.
    pub(super) heads: Vec<super::heads::Head>,
    /// What the cells of each column look like in the first rows.
    pub(super) columns: Vec<Column>,
}

/// What is made of a row that blanks part in fewer cells than there are columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ShortRows {
    /// Nothing: which cell is missing cannot be seen.
    Lost,
    /// Its last cells are missing, since a person named the force column of a log that has many such rows.
    EndEarly,
}

impl Dialect {
    /// Whether a whole number in this column may be what the delimiter left of a number with a thousands mark: where all others
    /// have the same number of decimals, or where rows end early and a cell too many does not show.
    pub(super) fn may_tear(&self, column: usize) -> bool {
        self.may_group() && (self.ragged || self.columns.get(column).is_some_and(Column::is_fixed))
    }

    /// Whether the delimiter may stand inside a number as its thousands mark.
    pub(super) fn may_group(&self) -> bool {
        match self.delimiter {
            Delimiter::Byte(byte) => byte == b',' && self.mark == Mark::Point,
            Delimiter::Blanks => true,
            Delimiter::None => false,
        }
    }
}

/// Who says something about a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Source {
    /// The log itself.
    Log,
    /// A person, by an option or a recipe.
    Person,
}
