//! Lines of text between rows: what they are is known only when it is known what follows.

use super::super::cells::{Line, shown};
use super::super::columns::Instants;
use super::super::number;
use super::super::table::{Table, Why};
use super::{MOST_PENDING, Pending, Slow};

impl Slow<'_> {
    /// Puts a line of text by until it is known what follows.
    pub(super) fn wait(&mut self, line: Line<'_>, damaged: bool, table: &mut Table) {
        if self.pending.len() == MOST_PENDING {
            let first = self.pending.remove(0);
            self.inside(first, table);
        }
        let trimmed = number::trim(line.text);
        self.pending.push(Pending {
            line: line.number,
            text: shown(trimmed),
            damaged: damaged
                || trimmed.first().is_some_and(|byte| {
                    byte.is_ascii_digit() || matches!(byte, b'-' | b'+' | b'.')
                }),
        });
    }

    /// Rows follow: the lines put by are no footer.
    pub(in super::super) fn data_goes_on(&mut self, table: &mut Table) {
        for pending in std::mem::take(&mut self.pending) {
            self.inside(pending, table);
        }
    }

    /// A line of text between rows: a lost row if it is a damaged one or all the row there can be, else a remark.
    fn inside(&self, pending: Pending, table: &mut Table) {
        let no_clock = self.plan.instants == Instants::Rows;
        if pending.damaged || self.dialect.width == 1 {
            let name = if no_clock { "force" } else { "instant" };
            table.notices.add("cell", Some(pending.line), || {
                format!("`{}` where an {name} was expected", pending.text)
            });
            let why = if no_clock {
                table.next_row();
                Why::Force
            } else {
                Why::Instant
            };
            table.lose(pending.line, pending.text, why);
        } else {
            table.notices.add("remark", Some(pending.line), || {
                format!("`{}`", pending.text)
            });
        }
    }

    /// The end of the log: the lines put by are its footer.
    pub(in super::super) fn end(&mut self, table: &mut Table) {
        for pending in std::mem::take(&mut self.pending) {
            table.notices.add("footer", Some(pending.line), || {
                format!("`{}`", pending.text)
            });
        }
    }
}
