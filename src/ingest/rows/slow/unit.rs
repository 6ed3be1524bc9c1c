//! Lines between rows that change the unit of the force.

use super::Slow;
use crate::ingest::layout::heads::Head;
use crate::ingest::layout::shape;
use crate::ingest::rows::table::Table;
use crate::ingest::tokens::cells::Cells;
use crate::ingest::tokens::number;
use crate::ingest::tokens::units::{self, Measured};
use crate::ingest::{Ask, Doubt, Kind, Noticed, Question};
use crate::quantity::ForceUnit;

impl Slow<'_> {
    /// The unit of force, other than that of the rows before, that a line of words names; and whether the line is made to
    /// name it: `Unit: kN`, `[s];[kN]`.
    pub(super) fn other_unit(&self, text: &[u8], cells: &Cells<'_>) -> Option<(ForceUnit, bool)> {
        const LONGEST: usize = 200;
        let now = self.unit?;
        if number::begins_one(text) || text.len() > LONGEST {
            return None;
        }
        if cells
            .iter()
            .any(|cell| matches!(shape::kind(cell), shape::Kind::Number | shape::Kind::Stamp))
        {
            return None;
        }
        let text = String::from_utf8_lossy(text);
        let heads = self.dialect.heads.len() > 1 && cells.len() == self.dialect.heads.len();
        let same = heads && self.differ_in_the_unit(cells);
        if heads && !same {
            return None;
        }
        let key = text
            .trim_start_matches(['#', '%', '!', '*', '/', ' '])
            .to_lowercase();
        let sure = same
            || ["unit", "einheit", "unité", "unidad"]
                .iter()
                .any(|word| key.starts_with(word));
        let parts = |c: char| c.is_whitespace() || "[](){}<>_;:=,|\t\"#*".contains(c);
        let symbols = text
            .split(parts)
            .filter(|word| word.len() > 1 || *word == "N");
        let mut found = symbols.filter_map(|word| match units::measured(word) {
            Some(Measured::Force(unit)) => Some(unit),
            Some(Measured::Weight(unit)) if sure => Some(unit),
            _ => None,
        });
        let unit = found.next().filter(|unit| *unit != now)?;
        found.all(|other| other == unit).then_some((unit, sure))
    }

    /// Whether cells are the heads of the log, or their units alone, but for the unit of the force.
    fn differ_in_the_unit(&self, cells: &Cells<'_>) -> bool {
        let mut places = cells.iter().zip(&self.dialect.heads).enumerate();
        places.all(|(at, (cell, own))| {
            let head = Head::new(&String::from_utf8_lossy(cell));
            let force = self.plan.forces.iter().any(|force| force.column == at);
            let unit = force || head.measured.is_none() || head.measured == own.measured;
            unit && (head.name.is_empty() || head.name == own.name)
        })
    }

    /// Reads the rows from here on in another unit: told, and asked where the line is not made to say so.
    pub(super) fn change_unit(
        &mut self,
        line: u64,
        found: String,
        (force_unit, sure): (ForceUnit, bool),
        table: &mut Table,
    ) {
        if !(sure || self.plan.unit_answered) {
            let found = found.clone();
            table.questions.push(Question {
                ask: Ask::ForceUnit,
                doubt: Doubt::UnitBetween {
                    line,
                    found,
                    force_unit,
                },
            });
        }
        for (factor, force) in self.factors.iter_mut().zip(&self.plan.forces) {
            *factor = force_unit.newtons() * force.scale;
        }
        self.unit = Some(force_unit);
        table
            .notices
            .add(Kind::Unit, Some(line), || Noticed::UnitChanges {
                found,
                force_unit,
            });
    }
}
