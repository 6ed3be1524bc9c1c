//! What stands between two cells, and between the whole and the decimals of a number.

/// The decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Mark {
    Point,
    Comma,
}

impl Mark {
    pub(in crate::ingest) const fn byte(self) -> u8 {
        match self {
            Self::Point => b'.',
            Self::Comma => b',',
        }
    }

    pub(in crate::ingest) const fn other(self) -> Self {
        match self {
            Self::Point => Self::Comma,
            Self::Comma => Self::Point,
        }
    }

    pub(in crate::ingest) const fn char(self) -> char {
        self.byte() as char
    }
}

/// What stands between two cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Delimiter {
    /// One byte.
    Byte(u8),
    /// Any number of blanks.
    Blanks,
    /// Nothing: one bare column.
    None,
}

impl Delimiter {
    /// As `relent.read/1` shows it.
    pub(in crate::ingest) const fn char(self) -> Option<char> {
        match self {
            Self::Byte(byte) => Some(byte as char),
            Self::Blanks => Some(' '),
            Self::None => None,
        }
    }

    /// Its code in facts; a byte that is rarely a delimiter stands for itself.
    pub(in crate::ingest) fn code(self) -> String {
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
