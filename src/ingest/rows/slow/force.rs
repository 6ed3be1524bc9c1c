//! The force of one row: the sum of its columns in newtons, or why there is none.

use super::{Cell, Slow};
use crate::ingest::layout::columns::Force;
use crate::ingest::layout::dialect::{ShortRows, Source};
use crate::ingest::layout::sample::Column;
use crate::ingest::rows::table::Table;
use crate::ingest::tokens::cells::{Cells, shown};
use crate::ingest::tokens::delimiter::Delimiter;
use crate::ingest::tokens::number::{self, Grouping, Value};
use crate::ingest::tokens::units;
use crate::ingest::{Ask, Doubt, Kind, Noticed, Question};

impl<'a> Slow<'a> {
    /// The force of a row in newtons: the sum of its columns.
    pub(super) fn force(&mut self, line: u64, cells: &Cells<'a>, table: &mut Table) -> Cell {
        let short = self.dialect.delimiter == Delimiter::Blanks && cells.len() < self.dialect.width;
        table.short_rows += usize::from(short);
        if short && self.dialect.short_rows == ShortRows::Lost {
            let found: Vec<String> = cells.iter().map(|cell| shown(cell)).collect();
            return Cell::Bad(found.join(" "));
        }
        let mut sum = -0.0;
        let plan = self.plan;
        for (at, force) in plan.forces.iter().enumerate() {
            let Some(cell) = cells.get(force.column) else {
                return Cell::Missing;
            };
            match number::value(cell, plan.decimal_mark(force.column)) {
                Value::Number(number) => {
                    if number.grouping != Grouping::None {
                        self.grouped(line, cell, force.column, number.grouping, table);
                    }
                    let Some(factor) = self.factor(line, cells, at, table) else {
                        return Cell::Bad(shown(cell));
                    };
                    sum += number.value * factor;
                }
                Value::Missing if cell.is_empty() => return Cell::Missing,
                Value::Missing | Value::NotFinite => return Cell::NotFinite(shown(cell)),
                Value::Text => match self.force_with_unit(line, cell, force, table) {
                    Some(newtons) => sum += newtons,
                    None => return Cell::Bad(shown(cell)),
                },
            }
        }
        Cell::Number(sum)
    }

    /// What one of the unit of a force is in newtons: the unit of its column, or that which the cell beside it has.
    fn factor(&self, line: u64, cells: &Cells<'a>, at: usize, table: &mut Table) -> Option<f64> {
        let force = &self.plan.forces[at];
        let Some(beside) = force.unit_in.map(|column| cells.get(column)) else {
            return Some(self.factors[at]);
        };
        let text = String::from_utf8_lossy(number::trim(beside?));
        let unit = units::force_unit(&text)?;
        if Some(unit) != force.unit {
            let found = text.into_owned();
            let fact = || Noticed::OtherUnitBeside { found };
            table.notices.add(Kind::Unit, Some(line), fact);
        }
        Some(unit.newtons() * force.scale)
    }

    /// A force with its unit in the cell, in newtons; another unit than that of the column is told.
    fn force_with_unit(
        &mut self,
        line: u64,
        cell: &[u8],
        force: &Force,
        table: &mut Table,
    ) -> Option<f64> {
        let (number, text) = number::with_unit(cell, self.plan.decimal_mark(force.column))?;
        let unit = units::force_unit(text)?;
        if Some(unit) != force.unit {
            let fact = || Noticed::OtherUnitInCell {
                found: shown(cell),
                force_unit: unit,
            };
            table.notices.add(Kind::Unit, Some(line), fact);
        }
        if number.grouping != Grouping::None {
            self.grouped(line, cell, force.column, number.grouping, table);
        }
        Some(number.value * unit.newtons() * force.scale)
    }

    /// A thousands mark: told, and asked where it may be a decimal mark.
    fn grouped(
        &mut self,
        line: u64,
        cell: &[u8],
        column: usize,
        grouping: Grouping,
        table: &mut Table,
    ) {
        let seen = self.dialect.columns.get(column);
        let fewest = seen.map_or(0, |seen| seen.fewest);
        let open = seen.is_some_and(Column::is_open) && !self.dialect.mark_open;
        let always = fewest > 0 && fewest < usize::MAX || open;
        if grouping == Grouping::Lone && always && self.dialect.mark_from == Source::Log {
            self.doubts += 1;
            if self.doubts == 1 {
                table.questions.push(Question {
                    ask: Ask::DecimalMark,
                    doubt: Doubt::ThousandsOrDecimals {
                        line,
                        column: self.column(column),
                        found: shown(cell),
                        mark: self.plan.decimal_mark(column).char(),
                    },
                });
            }
        }
        let fact = || Noticed::ThousandsMark { found: shown(cell) };
        table.notices.add(Kind::ThousandsMark, Some(line), fact);
    }

    /// The force of a last line without a line end: lost if it can be seen to be torn off.
    pub(super) fn torn_force(&mut self, line: u64, cells: &Cells<'a>, table: &mut Table) -> Cell {
        let force = self.force(line, cells, table);
        let last = cells.len().saturating_sub(1);
        let (Cell::Number(newtons), Some(cell)) = (&force, cells.get(last)) else {
            return force;
        };
        let seen = &self.dialect.columns[last.min(self.dialect.width - 1)];
        let (Value::Number(number), true) = (
            number::value(cell, self.plan.decimal_mark(last)),
            self.plan.forces.iter().any(|force| force.column == last) && seen.fewest < usize::MAX,
        ) else {
            return force;
        };
        let short = number.decimals < seen.most.max(1);
        if number.decimals < seen.fewest || (short && falls(*newtons, &table.forces)) {
            return Cell::Bad(shown(cell));
        }
        if short {
            let fact = || Noticed::NoLineEnd { found: shown(cell) };
            table.notices.add(Kind::LastLine, Some(line), fact);
        }
        force
    }
}

/// True for a last force far nearer to zero than the one before it, where the steps before it were small.
fn falls(last: f64, before: &[f64]) -> bool {
    const FEW: usize = 20;
    let tail = &before[before.len().saturating_sub(FEW)..];
    let Some(previous) = tail.last() else {
        return false;
    };
    let step = tail
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).abs())
        .fold(0.0, f64::max);
    last.abs() < 0.5 * previous.abs() && (last - previous).abs() > 5.0 * step
}
