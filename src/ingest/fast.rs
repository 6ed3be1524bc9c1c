//! The fast path: rows of plain decimals, straight from the bytes. A row that is anything else is left to the slow path.

use super::columns::{Instants, Plan};
use super::dialect::{Delimiter, Dialect};
use super::stamp;
use super::table::Table;

/// What is done with one column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Slot {
    Skip,
    Time,
    Stamp,
    /// Added to the force, with the number of the factor.
    Force(usize),
    Extra(usize),
}

/// The row reader for one dialect and plan.
pub(super) struct Fast {
    slots: Vec<Slot>,
    factors: Vec<f64>,
    extra_factors: Vec<f64>,
    delimiter: Delimiter,
    mark: u8,
    /// Whether blanks around a number belong to its cell.
    padded: bool,
    rows: bool,
}

/// Powers of ten that are exact in a double.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

impl Fast {
    /// Prepares the fast path; `None` where a log cannot use it.
    pub(super) fn new(dialect: &Dialect, plan: &Plan) -> Option<Self> {
        if plan.quality.is_some() {
            return None;
        }
        let mut slots = vec![Slot::Skip; dialect.width];
        for (at, force) in plan.forces.iter().enumerate() {
            *slots.get_mut(force.column)? = Slot::Force(at);
        }
        match plan.instants {
            Instants::Numbers(column, _) | Instants::Count(column) => slots[column] = Slot::Time,
            Instants::Stamps(column) => slots[column] = Slot::Stamp,
            Instants::Rows => {}
        }
        for (at, extra) in plan.extras.iter().enumerate() {
            if slots[extra.column] == Slot::Skip {
                slots[extra.column] = Slot::Extra(at);
            }
        }
        Some(Self {
            slots,
            factors: plan
                .forces
                .iter()
                .map(|force| force.unit.map_or(1.0, |unit| unit.newtons()))
                .collect(),
            extra_factors: plan.extras.iter().map(|extra| extra.factor).collect(),
            delimiter: dialect.delimiter,
            mark: dialect.mark.byte(),
            padded: dialect.delimiter != Delimiter::Blanks,
            rows: plan.instants == Instants::Rows,
        })
    }

    /// Reads rows until one is not plain; returns where that one starts and its line.
    pub(super) fn rows(
        &self,
        text: &[u8],
        mut at: usize,
        mut line: u64,
        table: &mut Table,
    ) -> (usize, u64) {
        while let Some(next) = self.row(text, at, line, table) {
            at = next;
            line += 1;
        }
        (at, line)
    }

    #[inline]
    fn row(&self, text: &[u8], mut at: usize, line: u64, table: &mut Table) -> Option<usize> {
        let mut time = 0.0;
        let mut force = 0.0;
        let last = self.slots.len() - 1;
        if self.delimiter == Delimiter::Blanks {
            at = blanks(text, at);
        }
        for (place, slot) in self.slots.iter().enumerate() {
            match *slot {
                Slot::Skip => at = self.skip(text, at)?,
                Slot::Time => (time, at) = self.cell(text, at)?,
                Slot::Force(which) => {
                    let value;
                    (value, at) = self.cell(text, at)?;
                    force += value * self.factors[which];
                }
                Slot::Extra(which) => {
                    let value;
                    (value, at) = self.cell(text, at)?;
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
    fn cell(&self, text: &[u8], at: usize) -> Option<(f64, usize)> {
        if self.padded {
            let (value, at) = decimal(text, spaces(text, at), self.mark)?;
            return Some((value, spaces(text, at)));
        }
        decimal(text, at, self.mark)
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

/// A plain decimal from `at` on and where it ends: `-12.5`. Exact: a whole number below 2⁵³ divided
/// by a power of ten up to 10²² is rounded once, like the correctly rounded parse (Clinger 1990).
#[inline]
pub(super) fn decimal(text: &[u8], mut at: usize, mark: u8) -> Option<(f64, usize)> {
    let negative = text.get(at) == Some(&b'-');
    at += usize::from(negative);
    let mut whole: u64 = 0;
    let start = at;
    while let Some(digit) = digit(text, at) {
        whole = whole.wrapping_mul(10).wrapping_add(digit);
        at += 1;
    }
    let mut digits = at - start;
    if digits == 0 {
        return None;
    }
    let mut decimals = 0;
    if text.get(at) == Some(&mark) {
        at += 1;
        let start = at;
        while let Some(digit) = digit(text, at) {
            whole = whole.wrapping_mul(10).wrapping_add(digit);
            at += 1;
        }
        decimals = at - start;
        digits += decimals;
        if decimals == 0 {
            return None;
        }
    }
    if digits > 19 || whole > (1 << 53) {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "at most 2⁵³")]
    let value = whole as f64 / TENS[decimals];
    Some((if negative { -value } else { value }, at))
}

#[inline]
fn digit(text: &[u8], at: usize) -> Option<u64> {
    let digit = text.get(at)?.wrapping_sub(b'0');
    (digit < 10).then_some(u64::from(digit))
}
