//! A delimiter that fits a log, with what it makes of it.

use super::heads::{self, Head};
use super::shape::Block;
use super::stack::Stack;
use crate::ingest::tokens::cells::Line;
use crate::ingest::tokens::delimiter::Delimiter;

/// A delimiter that fits, with the rows it makes and the heads above them.
pub(in crate::ingest) struct Fit {
    pub(in crate::ingest) delimiter: Delimiter,
    pub(in crate::ingest) block: Block,
    /// None, or one a column.
    pub(in crate::ingest) heads: Vec<Head>,
    /// Whether they name a clock and a force, in columns of their own.
    pub(in crate::ingest) sure: bool,
    /// Number of cells in the row of heads.
    pub(in crate::ingest) cells: usize,
}

impl Fit {
    pub(in crate::ingest) fn new(lines: &[Line<'_>], delimiter: Delimiter, block: Block) -> Self {
        let stack = Stack::gather(&lines[..block.first], delimiter, block.width);
        let heads = stack.heads();
        Self {
            delimiter,
            sure: block.width > 1 && heads::names_clock_and_force(&heads),
            block,
            heads,
            cells: stack.cells(),
        }
    }

    /// Whether every line is a row under heads that name a clock and a force: then the log is no bare column.
    pub(in crate::ingest) const fn leaves_no_doubt(&self) -> bool {
        self.is_headed() && self.block.rows == self.block.lines && self.sure
    }

    /// Whether there are as many heads as columns.
    pub(in crate::ingest) const fn is_headed(&self) -> bool {
        self.cells == self.block.width
    }

    /// Whether its two heads are a name and a unit, and may be one: `Force, daN`.
    pub(in crate::ingest) fn unit_alone(&self) -> bool {
        matches!(self.heads.as_slice(), [name, unit]
            if name.measured.is_none() && unit.name.is_empty() && unit.measured.is_some())
    }
}
