//! The cells of one row: instant, force, channels beside them, and what to do with those that are none.

use std::borrow::Cow;

use super::{Cell, Slow};
use crate::ingest::layout::columns::Instants;
use crate::ingest::layout::dialect::Source;
use crate::ingest::layout::heads;
use crate::ingest::layout::join;
use crate::ingest::layout::shape;
use crate::ingest::rows::table::{Table, Why};
use crate::ingest::tokens::cells::{Cells, Line, shown};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Value};
use crate::ingest::tokens::stamp;
use crate::ingest::tokens::units::{self, Measured};
use crate::ingest::{Ask, Doubt, Inside, Kind, Noticed, Question};
use crate::trace::Column;

impl<'a> Slow<'a> {
    /// A row with more cells than the log has columns: empty ones are left out, words are a remark, numbers are a
    /// doubt where the delimiter may stand inside one, and damage where it cannot.
    pub(super) fn fit_width(&mut self, line: Line<'a>, cells: &mut Cells<'a>, table: &mut Table) {
        let width = self.dialect.width;
        if self.dialect.delimiter == Delimiter::None && join::several(line.text) {
            self.wide += 1;
            if self.wide == 1 {
                self.ask_wide(line, 2, table);
            }
        }
        self.mend(line, cells, table);
        while cells.len() > width
            && cells
                .last()
                .is_some_and(|cell| number::trim(cell).is_empty())
        {
            cells.pop();
        }
        if cells.len() <= width {
            return;
        }
        if self.join_as_answered(line, cells, table) || self.leave_words(line, cells, table) {
            return;
        }
        if shape::kind(&cells[0]) == shape::Kind::Text && self.plan.instants != Instants::Rows {
            return;
        }
        if let Delimiter::Byte(byte) = self.dialect.delimiter
            && byte != b','
        {
            self.damaged = true;
            table.wide_rows += 1;
            return;
        }
        self.wide += 1;
        if self.wide == 1 {
            self.ask_wide(line, cells.len(), table);
        }
    }

    /// Joins numbers that were torn apart, where a person said what the decimal mark is.
    fn join_as_answered(&self, line: Line<'a>, cells: &mut Cells<'a>, table: &mut Table) -> bool {
        let width = self.dialect.width;
        let between = join::between(self.dialect.delimiter);
        let tears = matches!(
            self.dialect.delimiter,
            Delimiter::Byte(b',') | Delimiter::Blanks
        );
        if !tears || self.dialect.mark_from != Source::Person {
            return false;
        }
        let Some(joined) = join::joined(cells, width, self.dialect.mark, between) else {
            return false;
        };
        let fact = || Noticed::CellsJoined {
            found: shown(line.text),
            cells: cells.len(),
            columns: width,
        };
        table.notices.add(Kind::Cell, Some(line.number), fact);
        *cells = joined;
        true
    }

    /// Leaves out words beyond the last column, but for the unit of the force, unless they may have been pushed there.
    fn leave_words(&self, line: Line<'a>, cells: &mut Cells<'a>, table: &mut Table) -> bool {
        let width = self.dialect.width;
        let word = |cell: &Cow<'_, [u8]>| {
            matches!(shape::kind(cell), shape::Kind::Text | shape::Kind::Missing)
        };
        if !cells[width..].iter().all(word) {
            return false;
        }
        if self.take_unit(cells) {
            return true;
        }
        if self.is_shifted(cells) {
            return false;
        }
        table.notices.add(Kind::Remark, Some(line.number), || {
            let extra = cells[width..].iter();
            let texts: Vec<String> = extra.map(|cell| shown(cell)).collect();
            Noticed::BeyondTheColumns {
                found: texts.join(" "),
            }
        });
        cells.truncate(width);
        true
    }

    /// Puts a unit of force that a blank parted from the force in the last column back to it: `0.001 1.204 kN`.
    fn take_unit(&self, cells: &mut Cells<'a>) -> bool {
        let width = self.dialect.width;
        let last = self
            .plan
            .forces
            .iter()
            .any(|force| force.column + 1 == width);
        let unit = units::force_unit(&String::from_utf8_lossy(&cells[width]));
        if self.dialect.delimiter != Delimiter::Blanks || !last || unit.is_none() {
            return false;
        }
        cells[width - 1] = [cells[width - 1].as_ref(), cells[width].as_ref()]
            .join(&b' ')
            .into();
        cells.truncate(width);
        true
    }

    /// Whether a force in a row that is too wide may be torn in two, so that the cells after it stand one place too far.
    fn is_shifted(&self, cells: &Cells<'_>) -> bool {
        self.dialect.may_group()
            && self
                .plan
                .forces
                .iter()
                .any(|force| join::is_torn(cells, force.column, self.dialect.mark))
    }

    /// A force that a comma or a blank tore in two, `1` and `408.56`: asked, or joined where a person said what the decimal mark is.
    fn mend(&mut self, line: Line<'a>, cells: &mut Cells<'a>, table: &mut Table) {
        for force in &self.plan.forces {
            let at = force.column;
            if !self.dialect.may_tear(at) || !join::is_torn(cells, at, self.dialect.mark) {
                continue;
            }
            if self.dialect.mark_from == Source::Log {
                self.wide += 1;
                if self.wide == 1 {
                    self.ask_wide(line, cells.len(), table);
                }
                continue;
            }
            let seen = &self.dialect.columns;
            let wide = cells.len() > self.dialect.width;
            let odd = seen
                .get(at + 1)
                .is_some_and(|next| next.is_odd(&cells[at + 1]));
            if !(wide || odd || seen[at].is_fixed()) {
                continue;
            }
            let joined = [&cells[at], &cells[at + 1]]
                .map(|cell| cell.to_vec())
                .join(&join::between(self.dialect.delimiter));
            let fact = || Noticed::PartedByThousandsMark {
                found: shown(&joined),
            };
            table
                .notices
                .add(Kind::ThousandsMark, Some(line.number), fact);
            cells[at] = joined.into();
            cells.remove(at + 1);
        }
    }

    fn ask_wide(&self, line: Line<'_>, cells: usize, table: &mut Table) {
        let comma = self.dialect.delimiter == Delimiter::Byte(b',');
        let (ask, inside) = match self.dialect.mark {
            Mark::Comma if comma => (Ask::Delimiter, Inside::CommaOfBoth),
            Mark::Point if comma => (Ask::DecimalMark, Inside::Comma),
            _ => (Ask::Delimiter, Inside::Delimiter),
        };
        let doubt = Doubt::TooManyCells {
            line: line.number,
            found: shown(line.text),
            cells,
            width: self.dialect.width,
            inside,
        };
        table.questions.push(Question { ask, doubt });
    }

    /// True for a last line that the log does not end.
    pub(super) fn is_torn(&self, line: Line<'_>) -> bool {
        line.start + line.text.len() == self.text.len()
    }

    /// The instant of a row, of which the digits after the seconds may stand in a column of their own.
    pub(super) fn whole_instant(&mut self, cells: &Cells<'a>, table: &mut Table) -> Cell {
        let instant = self.instant(cells, table);
        let Some(fraction) = self.plan.fraction else {
            return instant;
        };
        let cell = cells.get(fraction.column).map_or(&b""[..], |cell| cell);
        match number::value(cell, self.plan.decimal_mark(fraction.column)) {
            Value::Number(number) => {
                self.fraction = Some(number.value);
                instant
            }
            _ => Cell::Bad(shown(cell)),
        }
    }

    /// The instant of a row.
    fn instant(&self, cells: &Cells<'a>, table: &mut Table) -> Cell {
        let (column, stamps) = match self.plan.instants {
            Instants::Rows => return Cell::Number(0.0),
            Instants::Numbers(column, _) | Instants::Count(column) => (column, false),
            Instants::Stamps(column) => (column, true),
        };
        let Some(cell) = cells.get(column) else {
            return Cell::Missing;
        };
        match number::value(cell, self.plan.decimal_mark(column)) {
            Value::Number(number) if !stamps => Cell::Number(number.value),
            Value::Missing => Cell::Missing,
            Value::NotFinite => Cell::NotFinite(shown(cell)),
            _ if stamps => match stamp::stamp(cell) {
                Some(stamp) if table.dated.is_none_or(|dated| dated == stamp.dated) => {
                    Cell::Number(table.since_first(stamp))
                }
                _ => Cell::Bad(shown(cell)),
            },
            _ => self.instant_with_unit(cell),
        }
    }

    /// An instant with its unit in the cell, in the unit of the column.
    fn instant_with_unit(&self, cell: &[u8]) -> Cell {
        let Instants::Numbers(column, Some(unit)) = self.plan.instants else {
            return Cell::Bad(shown(cell));
        };
        let found = number::with_unit(cell, self.plan.decimal_mark(column));
        match found.map(|(number, text)| (number, units::measured(text))) {
            Some((number, Some(Measured::Time(own)))) if own == unit => Cell::Number(number.value),
            Some((number, Some(Measured::Time(own)))) => {
                Cell::Number(own.to_seconds(number.value) / unit.seconds())
            }
            _ => Cell::Bad(shown(cell)),
        }
    }

    /// Reads the channels beside time and force.
    pub(super) fn extras(&self, cells: &Cells<'a>, table: &mut Table) {
        for (extra, pending) in self.plan.extras.iter().zip(&mut table.pending_extras) {
            *pending = match cells
                .get(extra.column)
                .map(|cell| number::value(cell, self.plan.decimal_mark(extra.column)))
            {
                Some(Value::Number(number)) => number.value * extra.factor,
                _ => f64::NAN,
            };
        }
    }

    /// Tells of a quality word that does not say "good".
    pub(super) fn quality(&self, line: u64, cells: &Cells<'a>, table: &mut Table) {
        let Some(cell) = self.plan.quality.and_then(|column| cells.get(column)) else {
            return;
        };
        let good = [
            "", "ok", "good", "valid", "true", "1", "0", "gut", "gültig", "none", "-", "a",
        ];
        let text = shown(number::trim(cell));
        let usual = self
            .plan
            .usual_mark
            .as_deref()
            .filter(|usual| usual.parse::<f64>().is_ok() || usual.len() < 2);
        if let Some(usual) = usual {
            if usual != text {
                let fact = || Noticed::Marked { found: text };
                table.notices.add(Kind::Quality, Some(line), fact);
            }
            return;
        }
        if !good.contains(&text.to_lowercase().as_str()) {
            let fact = || Noticed::Marked { found: text };
            table.notices.add(Kind::Quality, Some(line), fact);
        }
    }

    /// Notes that another run begins where the column of the runs changes.
    pub(super) fn change_run(&mut self, cells: &Cells<'a>, table: &mut Table) {
        let Some(cell) = self.plan.run.and_then(|column| cells.get(column)) else {
            return;
        };
        if self.run.as_ref().is_some_and(|run| run != cell) {
            table.run_changes.push(table.times.len());
        }
        self.run = Some(cell.clone());
    }

    /// True for a row that has words where all others have numbers, and no force; or, where the order of the rows is the
    /// clock, even with one: `Max;412` below a table is no sample.
    pub(super) fn is_words(&self, cells: &Cells<'_>, force: &Cell) -> bool {
        let enough = match force {
            Cell::Missing => true,
            Cell::Number(_) => self.plan.instants == Instants::Rows,
            Cell::NotFinite(_) | Cell::Bad(_) => false,
        };
        enough
            && cells
                .iter()
                .zip(&self.dialect.columns)
                .any(|(cell, seen)| seen.is_numbers() && shape::kind(cell) == shape::Kind::Text)
    }

    /// True for a row that has words where others have numbers.
    pub(super) fn has_words(&self, cells: &Cells<'_>) -> bool {
        let mut places = cells.iter().zip(&self.dialect.columns).enumerate();
        places.any(|(at, (cell, seen))| {
            let force = self.plan.forces.iter().any(|force| force.column == at);
            !force && seen.is_numbers() && shape::kind(cell) == shape::Kind::Text
        })
    }

    /// True for a row in which no cell is a value.
    pub(super) fn only_text(&self, cells: &Cells<'_>) -> bool {
        cells
            .iter()
            .all(|cell| matches!(shape::kind(cell), shape::Kind::Text | shape::Kind::Missing))
            && cells
                .iter()
                .any(|cell| shape::kind(cell) == shape::Kind::Text)
    }

    pub(super) fn lose_force(&self, line: u64, bad: Cell, table: &mut Table) {
        let column = || self.column(self.plan.forces.first().map_or(0, |force| force.column));
        let text = match bad {
            Cell::Missing | Cell::Number(_) => {
                let fact = || Noticed::ForceEmpty { column: column() };
                table.notices.add(Kind::Missing, Some(line), fact);
                String::new()
            }
            Cell::NotFinite(text) => {
                let fact = || Noticed::ForceNotFinite {
                    column: column(),
                    found: text.clone(),
                };
                table.notices.add(Kind::Missing, Some(line), fact);
                text
            }
            Cell::Bad(text) => {
                let fact = || Noticed::NoForce {
                    column: column(),
                    found: text.clone(),
                };
                table.notices.add(Kind::Cell, Some(line), fact);
                text
            }
        };
        if self.plan.instants == Instants::Rows {
            table.next_row();
        }
        table.lose(line, text, Why::Force);
    }

    pub(super) fn column(&self, column: usize) -> Column {
        heads::column(&self.dialect.heads, column)
    }
}
