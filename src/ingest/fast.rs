//! The fast path: rows of plain decimals, straight from the bytes. A row that is anything else is left to the slow path.

use super::columns::{Instants, Plan};
use super::dialect::{Delimiter, Dialect};
use super::stamp;
use super::table::Table;
use crate::quantity::ForceUnit;

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
pub(super) struct Fast {
    slots: Vec<Slot>,
    factors: Vec<f64>,
    /// Fewest decimals of a force: one in a log where a whole number may be what a delimiter left of a number.
    least: Vec<usize>,
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
            slots,
            factors: plan
                .forces
                .iter()
                .map(|force| force.unit.map_or(1.0, ForceUnit::newtons))
                .collect(),
            least: plan
                .forces
                .iter()
                .map(|force| usize::from(dialect.may_tear(force.column)))
                .collect(),
            extra_factors: plan.extras.iter().map(|extra| extra.factor).collect(),
            delimiter: dialect.delimiter,
            mark: dialect.mark.byte(),
            padded: dialect.delimiter != Delimiter::Blanks,
            rows,
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
        let (factor, least) = (self.factors[0], self.least[0]);
        let delimiter = match (self.slots.as_slice(), self.delimiter) {
            ([Slot::Time, Slot::Force(0)], Delimiter::Byte(byte)) => Some(byte),
            _ => None,
        };
        loop {
            if let Some(delimiter) = delimiter {
                let next_pair = |at| pair(text, at, delimiter, self.mark, least);
                let mut full = true;
                while full {
                    let block = Block::of(&mut at, factor, next_pair);
                    table.push_rows(block.times(), block.forces(), line);
                    line += block.rows as u64;
                    full = block.rows == BLOCK;
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

    #[inline]
    /// One row; the sum of forces starts at −0, which leaves a sum of one value as it is.
    fn row(&self, text: &[u8], mut at: usize, line: u64, table: &mut Table) -> Option<usize> {
        let mut time = 0.0;
        let mut force = -0.0;
        let last = self.slots.len() - 1;
        if self.delimiter == Delimiter::Blanks {
            at = blanks(text, at);
        }
        for (place, slot) in self.slots.iter().enumerate() {
            match *slot {
                Slot::Skip => at = self.skip(text, at)?,
                Slot::SkipNumber => {
                    if text.get(at).is_some_and(u8::is_ascii_alphabetic) {
                        return None;
                    }
                    at = self.skip(text, at)?;
                }
                Slot::Time => (time, at) = self.cell(text, at, 0)?,
                Slot::Force(which) => {
                    let value;
                    (value, at) = self.cell(text, at, self.least[which])?;
                    force += value * self.factors[which];
                }
                Slot::Extra(which) => {
                    let value;
                    (value, at) = self.cell(text, at, 0)?;
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
    fn cell(&self, text: &[u8], at: usize, least: usize) -> Option<(f64, usize)> {
        let at = if self.padded { spaces(text, at) } else { at };
        let found = decimal(text, at, self.mark)?;
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
    /// As many rows as follow from `at` on and have a place.
    #[inline(always)]
    fn of(
        at: &mut usize,
        factor: f64,
        next_pair: impl Fn(usize) -> Option<(f64, f64, usize)>,
    ) -> Self {
        let (mut times, mut forces) = ([0.0; BLOCK], [0.0; BLOCK]);
        let mut rows = 0;
        for (time, force) in times.iter_mut().zip(&mut forces) {
            let Some(found) = next_pair(*at) else { break };
            (*time, *force, *at) = (found.0, found.1 * factor, found.2);
            rows += 1;
        }
        Self {
            times,
            forces,
            rows,
        }
    }

    fn times(&self) -> &[f64] {
        &self.times[..self.rows]
    }

    fn forces(&self) -> &[f64] {
        &self.forces[..self.rows]
    }
}

/// The commonest row of all, instant and force alone, without blanks, within [`LOOK`] bytes.
///
/// Where its parts end is seen from all its bytes at once, before its numbers are known: the processor then reads the next
/// row while it still works on this one.
#[inline(always)]
fn pair(
    text: &[u8],
    at: usize,
    delimiter: u8,
    mark: u8,
    least: usize,
) -> Option<(f64, f64, usize)> {
    let row = text.get(at..)?.first_chunk::<LOOK>()?;
    let others = others(row);
    let (time, others) = part(row, 0, others, mark)?;
    if row[time.end] != delimiter {
        return None;
    }
    let (force, _) = part(row, time.end + 1, others & (others - 1), mark)?;
    let returns = usize::from(row[force.end] == b'\r');
    let end = force.end + returns;
    let plain = row.get(end) == Some(&b'\n') && force.decimals >= least;
    plain.then_some((time.value, force.value, at + end + 1))
}

/// Bytes of a row that are looked at together.
const LOOK: usize = 24;

/// Which bytes are no digits, one bit a byte, the first byte lowest.
#[inline(always)]
fn others(row: &[u8; LOOK]) -> u32 {
    let (words, _) = row.as_chunks::<8>();
    let bits = |word: usize| {
        let found = no_digits(u64::from_le_bytes(words[word]) ^ ZEROS) >> 7;
        (found.wrapping_mul(0x0102_0408_1020_4080) >> 56) as u32
    };
    bits(0) | bits(1) << 8 | bits(2) << 16
}

/// A plain decimal of at most eight bytes after its sign, from `start` on; and the bits of `others` from its end on.
#[inline(always)]
fn part(row: &[u8; LOOK], start: usize, others: u32, mark: u8) -> Option<(Decimal, u32)> {
    let negative = *row.get(start)? == b'-';
    let first = start + usize::from(negative);
    let others = others & !(u32::from(negative) << start);
    let point = others.trailing_zeros() as usize;
    let word = u64::from_le_bytes(*row.get(first..)?.first_chunk::<8>()?) ^ ZEROS;
    if *row.get(point)? != mark {
        let length = point
            .checked_sub(first)
            .filter(|length| (1..=8).contains(length))?;
        let decimal = signed(whole(word, length), 0, negative, point);
        return Some((decimal, others));
    }
    let after = others & (others - 1);
    let end = after.trailing_zeros() as usize;
    let (before, decimals) = (point.checked_sub(first)?, end - point - 1);
    if before == 0 || decimals == 0 || before + decimals > 7 || end >= LOOK {
        return None;
    }
    let below = (1_u64 << (8 * before)) - 1;
    let squeezed = (word & below) | ((word >> 8) & !below);
    let decimal = signed(whole(squeezed, before + decimals), decimals, negative, end);
    Some((decimal, after))
}

const ZEROS: u64 = u64::from_le_bytes([b'0'; 8]);

/// The highest bit of each byte that is no digit, of bytes from which `0` was taken off.
#[inline(always)]
fn no_digits(digits: u64) -> u64 {
    const LOW: u64 = u64::from_le_bytes([0x7f; 8]);
    const HIGH: u64 = !LOW;
    /// What takes ten, and no digit, up to the highest bit.
    const SIX: u64 = u64::from_le_bytes([0x76; 8]);
    (((digits & LOW) + SIX) | digits) & HIGH
}

/// The whole number of the first `count` digits (1 to 8), in three multiplications.
#[inline(always)]
fn whole(digits: u64, count: usize) -> u64 {
    let high = digits << (64 - 8 * count);
    let pairs = (high.wrapping_mul(10) + (high >> 8)) & 0x00ff_00ff_00ff_00ff;
    let fours = (pairs.wrapping_mul(100) + (pairs >> 16)) & 0x0000_ffff_0000_ffff;
    (fours.wrapping_mul(10_000) + (fours >> 32)) & 0xffff_ffff
}

/// ±whole/10^decimals, decimals at most 7.
#[inline(always)]
fn signed(whole: u64, decimals: usize, negative: bool, end: usize) -> Decimal {
    /// The smallest number whose last place is one: a whole number put in its last places is added to it exactly.
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    let whole = f64::from_bits(TWO_52.to_bits() | whole) - TWO_52;
    let value = (whole / TENS[decimals & 7]).to_bits();
    Decimal {
        value: f64::from_bits(value | (u64::from(negative) << 63)),
        decimals,
        end,
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

/// A plain decimal as it was found.
pub(super) struct Decimal {
    pub(super) value: f64,
    /// Digits after the mark.
    pub(super) decimals: usize,
    pub(super) end: usize,
}

/// A plain decimal from `at` on and where it ends: `-12.5`. Exact: a whole number below 2⁵³ divided by a power of ten up to
/// 10²² is rounded once, like the correctly rounded parse (Clinger 1990).
#[inline]
pub(super) fn decimal(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    quick(text, at, mark).or_else(|| long(text, at, mark))
}

/// A plain decimal that ends within eight bytes, with at least that many bytes left.
#[inline(always)]
fn quick(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    let bytes = text.get(at..)?.first_chunk::<8>()?;
    let word = u64::from_le_bytes(*bytes);
    let negative = word as u8 == b'-';
    let sign = usize::from(negative);
    let (whole, decimals, length) = short(word >> (8 * sign), mark)?;
    Some(signed(whole, decimals, negative, at + sign + length))
}

/// The digits of a decimal that ends within eight bytes, as one whole number, with the number of decimals (at most 6) and of
/// bytes. A zero byte, as a shift leaves it at the end, is no digit.
#[inline(always)]
fn short(word: u64, mark: u8) -> Option<(u64, usize, usize)> {
    let digits = word ^ ZEROS;
    let others = no_digits(digits);
    let first = others.trailing_zeros() as usize / 8;
    if first == 0 || first == 8 {
        return None;
    }
    if (word >> (8 * first)) as u8 != mark {
        return Some((whole(digits, first), 0, first));
    }
    let after = others & (others - 1);
    let end = after.trailing_zeros() as usize / 8;
    if after == 0 || end == first + 1 {
        return None;
    }
    let below = (1_u64 << (8 * first)) - 1;
    let squeezed = (digits & below) | ((digits >> 8) & !below);
    Some((whole(squeezed, end - 1), end - 1 - first, end))
}

/// Any plain decimal, byte by byte.
#[cold]
#[inline(never)]
fn long(text: &[u8], at: usize, mark: u8) -> Option<Decimal> {
    let negative = text.get(at) == Some(&b'-');
    let start = at + usize::from(negative);
    let mut at = start;
    let mut whole: u64 = 0;
    while let Some(digit) = digit(text, at) {
        whole = whole.wrapping_mul(10).wrapping_add(digit);
        at += 1;
    }
    let mut digits = at - start;
    let mut decimals = 0;
    if digits == 0 {
        return None;
    }
    if text.get(at) == Some(&mark) {
        at += 1;
        let first = at;
        while let Some(digit) = digit(text, at) {
            whole = whole.wrapping_mul(10).wrapping_add(digit);
            at += 1;
        }
        decimals = at - first;
        digits += decimals;
        if decimals == 0 {
            return None;
        }
    }
    if digits > 19 || whole > 1 << 53 {
        return None;
    }
    let value = whole as f64 / TENS[decimals];
    Some(Decimal {
        value: if negative { -value } else { value },
        decimals,
        end: at,
    })
}

#[inline]
fn digit(text: &[u8], at: usize) -> Option<u64> {
    let digit = text.get(at)?.wrapping_sub(b'0');
    (digit < 10).then_some(u64::from(digit))
}
