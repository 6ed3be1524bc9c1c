//! The fast path: rows of plain decimals, straight from the bytes. A row that is anything else is left to the slow path.

use super::alike::{Alike, AlikeAtTheEnd};
use super::table::Table;
use crate::ingest::layout::columns::{Force, Instants, Plan};
use crate::ingest::layout::dialect::Dialect;
use crate::ingest::tokens::decimal::decimal;
use crate::ingest::tokens::delimiter::Delimiter;
use crate::ingest::tokens::stamp;

/// What is done with one column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Slot {
    Skip,
    /// Not read, but a number: words in its place make another kind of line.
    SkipNumber,
    Time,
    Stamp,
    /// Added to the force, with the number of the factor.
    Force(usize),
    Extra(usize),
}

/// The row reader for one dialect and plan.
pub(in crate::ingest) struct Fast {
    slots: Vec<Slot>,
    factors: Vec<f64>,
    /// Fewest decimals of a force: one in a log where a whole number may be what a delimiter left of a number.
    least: Vec<usize>,
    extra_factors: Vec<f64>,
    delimiter: Delimiter,
    /// The decimal mark of each column.
    marks: Vec<u8>,
    /// Whether blanks around a number belong to its cell.
    padded: bool,
    rows: bool,
}

impl Fast {
    /// Prepares the fast path; `None` where a log cannot use it.
    pub(in crate::ingest) fn new(dialect: &Dialect, plan: &Plan) -> Option<Self> {
        let ambiguous = plan
            .decimal_marks
            .iter()
            .any(|mark| dialect.delimiter == Delimiter::Byte(mark.byte()));
        let units = plan.forces.iter().any(|force| force.unit_in.is_some());
        if units
            || plan.fraction.is_some()
            || plan.direction.is_some()
            || plan.quality.is_some()
            || plan.run.is_some()
            || ambiguous
        {
            return None;
        }
        let rows = plan.instants == Instants::Rows;
        let mut slots: Vec<Slot> = dialect
            .columns
            .iter()
            .map(|seen| {
                if rows && seen.is_numbers() {
                    Slot::SkipNumber
                } else {
                    Slot::Skip
                }
            })
            .collect();
        for (at, force) in plan.forces.iter().enumerate() {
            *slots.get_mut(force.column)? = Slot::Force(at);
        }
        match plan.instants {
            Instants::Numbers(column, _) | Instants::Count(column) => slots[column] = Slot::Time,
            Instants::Stamps(column) => slots[column] = Slot::Stamp,
            Instants::Rows => {}
        }
        for (at, extra) in plan.extras.iter().enumerate() {
            if matches!(slots[extra.column], Slot::Skip | Slot::SkipNumber) {
                slots[extra.column] = Slot::Extra(at);
            }
        }
        Some(Self {
            factors: plan.forces.iter().map(Force::factor).collect(),
            least: plan
                .forces
                .iter()
                .map(|force| usize::from(dialect.may_tear(force.column)))
                .collect(),
            extra_factors: plan.extras.iter().map(|extra| extra.factor).collect(),
            delimiter: dialect.delimiter,
            marks: (0..slots.len())
                .map(|column| plan.decimal_mark(column).byte())
                .collect(),
            slots,
            padded: dialect.delimiter != Delimiter::Blanks,
            rows,
        })
    }

    /// Takes what one number of each force column is in newtons.
    pub(in crate::ingest) fn set_factors(&mut self, factors: &[f64]) {
        self.factors.copy_from_slice(factors);
    }

    /// Reads rows until one is not plain; returns where that one starts and its line.
    pub(in crate::ingest) fn rows(
        &self,
        text: &[u8],
        mut at: usize,
        mut line: u64,
        table: &mut Table,
    ) -> (usize, u64) {
        let mut pair = match (self.slots.as_slice(), self.delimiter) {
            ([Slot::Time, Slot::Force(0)], Delimiter::Byte(byte)) => {
                Some((self.pair(byte), Block::EMPTY))
            }
            _ => None,
        };
        loop {
            if let Some((pair, block)) = &mut pair {
                block.rows = BLOCK;
                while block.rows == BLOCK {
                    block.fill(text, &mut at, self.factors[0], pair);
                    table.push_rows(block.times(), block.forces(), line);
                    line += block.rows as u64;
                }
            }
            let Some(next) = self.row(text, at, line, table) else {
                break;
            };
            at = next;
            line += 1;
        }
        (at, line)
    }

    /// Rows of an instant and a force, of which nothing was seen yet.
    fn pair(&self, delimiter: u8) -> Pair {
        Pair {
            delimiter,
            marks: [self.marks[0], self.marks[1]],
            least: self.least[0],
            instant: Alike::NONE,
            force: AlikeAtTheEnd::NONE,
        }
    }

    /// One row; the sum of forces starts at −0, which leaves a sum of one value as it is.
    #[inline]
    fn row(&self, text: &[u8], mut at: usize, line: u64, table: &mut Table) -> Option<usize> {
        let mut time = 0.0;
        let mut force = -0.0;
        let last = self.slots.len() - 1;
        if self.delimiter == Delimiter::Blanks {
            at = blanks(text, at);
        }
        for (place, (slot, mark)) in self.slots.iter().zip(&self.marks).enumerate() {
            match *slot {
                Slot::Skip => at = self.skip(text, at)?,
                Slot::SkipNumber => {
                    if text.get(at).is_some_and(u8::is_ascii_alphabetic) {
                        return None;
                    }
                    at = self.skip(text, at)?;
                }
                Slot::Time => (time, at) = self.cell(text, at, *mark, 0)?,
                Slot::Force(which) => {
                    let value;
                    (value, at) = self.cell(text, at, *mark, self.least[which])?;
                    force += value * self.factors[which];
                }
                Slot::Extra(which) => {
                    let value;
                    (value, at) = self.cell(text, at, *mark, 0)?;
                    table.pending_extras[which] = value * self.extra_factors[which];
                }
                Slot::Stamp => {
                    let end = self.skip(text, at)?;
                    let stamp = stamp::stamp(text.get(at..end)?)?;
                    time = table.since_first(stamp);
                    at = end;
                }
            }
            at = self.part(text, at, place == last)?;
        }
        if self.rows {
            time = table.next_row();
        }
        table.push(time, force, line);
        Some(at)
    }

    /// A plain decimal with the blanks around it.
    #[inline]
    fn cell(&self, text: &[u8], at: usize, mark: u8, least: usize) -> Option<(f64, usize)> {
        let at = if self.padded { spaces(text, at) } else { at };
        let found = decimal(text, at, mark)?;
        let end = if self.padded {
            spaces(text, found.end)
        } else {
            found.end
        };
        (found.decimals >= least).then_some((found.value, end))
    }

    /// Over the delimiter, or over the line end after the last cell.
    #[inline]
    fn part(&self, text: &[u8], mut at: usize, last: bool) -> Option<usize> {
        if last {
            if self.delimiter == Delimiter::Blanks {
                at = blanks(text, at);
            }
            while text.get(at) == Some(&b'\r') {
                at += 1;
            }
            return (text.get(at) == Some(&b'\n')).then_some(at + 1);
        }
        match self.delimiter {
            Delimiter::Byte(byte) => (text.get(at) == Some(&byte)).then_some(at + 1),
            Delimiter::Blanks => {
                let next = blanks(text, at);
                (next > at).then_some(next)
            }
            Delimiter::None => None,
        }
    }

    /// Over a cell that is not read.
    #[inline]
    fn skip(&self, text: &[u8], at: usize) -> Option<usize> {
        let rest = text.get(at..)?;
        let length = match self.delimiter {
            Delimiter::Byte(byte) => rest
                .iter()
                .position(|b| *b == byte || matches!(*b, b'\n' | b'\r' | b'"')),
            Delimiter::Blanks => rest
                .iter()
                .position(|b| matches!(*b, b' ' | b'\t' | b'\n' | b'\r' | b'"')),
            Delimiter::None => rest.iter().position(|b| matches!(*b, b'\n' | b'\r' | b'"')),
        }?;
        (rest[length] != b'"').then_some(at + length)
    }
}

/// Rows that are added to the table together.
const BLOCK: usize = 64;

/// Some rows on their way into the table.
struct Block {
    times: [f64; BLOCK],
    forces: [f64; BLOCK],
    rows: usize,
}

impl Block {
    const EMPTY: Self = Self {
        times: [0.0; BLOCK],
        forces: [0.0; BLOCK],
        rows: 0,
    };

    /// Takes as many rows as follow from `at` on and have a place.
    #[inline(always)]
    fn fill(&mut self, text: &[u8], at: &mut usize, factor: f64, pair: &mut Pair) {
        let mut rows = 0;
        for (time, force) in self.times.iter_mut().zip(&mut self.forces) {
            let mut take = |found: (f64, f64, usize)| {
                (*time, *force) = (found.0, found.1 * factor);
                found.2
            };
            // Taken in two places, so that the common row does not pass through memory.
            *at = if let Some(found) = pair.alike(text, *at) {
                take(found)
            } else if let Some(found) = pair.otherwise(text, *at) {
                take(found)
            } else {
                break;
            };
            rows += 1;
        }
        self.rows = rows;
    }

    fn times(&self) -> &[f64] {
        &self.times[..self.rows]
    }

    fn forces(&self) -> &[f64] {
        &self.forces[..self.rows]
    }
}

/// The commonest row of all, instant and force alone, without blanks.
struct Pair {
    delimiter: u8,
    /// The decimal marks of the instants and of the forces.
    marks: [u8; 2],
    /// Fewest decimals of a force.
    least: usize,
    /// What instants and forces look like since they last looked otherwise.
    instant: Alike,
    force: AlikeAtTheEnd,
}

impl Pair {
    /// The instant and the force of a row that looks like the one before it, and where the next row begins.
    ///
    /// Where its cells end is known before they are read, so that the processor works on both, and on the next row, at once.
    #[inline(always)]
    fn alike(&self, text: &[u8], at: usize) -> Option<(f64, f64, usize)> {
        let bytes: &[u8; 16] = text.get(at..)?.first_chunk()?;
        let (time, comma) = self.instant.read(*bytes.first_chunk()?)?;
        let (force, feed) = self.force.read(*bytes.get(comma..)?.first_chunk()?)?;
        Some((time, force, at + comma + feed))
    }

    /// A row that looks otherwise; the next ones may look like it.
    #[inline(never)]
    fn otherwise(&mut self, text: &[u8], at: usize) -> Option<(f64, f64, usize)> {
        let time = decimal(text, at, self.marks[0])?;
        if text.get(time.end) != Some(&self.delimiter) {
            return None;
        }
        let force = decimal(text, time.end + 1, self.marks[1])?;
        let feed = force.end + usize::from(text.get(force.end) == Some(&b'\r'));
        if text.get(feed) != Some(&b'\n') || force.decimals < self.least {
            return None;
        }
        self.instant = Alike::new(text, at, &time);
        self.force = AlikeAtTheEnd::new(text, feed, &force);
        Some((time.value, force.value, feed + 1))
    }
}

#[inline]
fn spaces(text: &[u8], mut at: usize) -> usize {
    while text.get(at) == Some(&b' ') {
        at += 1;
    }
    at
}

#[inline]
fn blanks(text: &[u8], mut at: usize) -> usize {
    while matches!(text.get(at), Some(b' ' | b'\t')) {
        at += 1;
    }
    at
}
