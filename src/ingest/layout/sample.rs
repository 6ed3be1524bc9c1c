//! What the cells of each column look like in the first rows.

use super::join;
use crate::ingest::tokens::cells::{self, Line};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Grouping, Value};
use crate::ingest::tokens::stamp::{self, Dated};
use crate::ingest::tokens::units;

/// What was seen in one column.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Column {
    /// The mark under which it was looked at.
    pub(in crate::ingest) mark: Mark,
    /// Fewest digits after the decimal mark.
    pub(in crate::ingest) fewest: usize,
    /// Most digits after the decimal mark.
    pub(in crate::ingest) most: usize,
    /// Cells with a number.
    pub(in crate::ingest) numbers: usize,
    /// Numbers of which the other mark would make others: three digits after it and nothing else.
    lone: usize,
    /// Cells with a clock stamp.
    pub(in crate::ingest) stamps: usize,
    /// Most digits after the seconds of a clock stamp.
    stamp_decimals: usize,
    /// Cells with a clock stamp that has a date.
    pub(in crate::ingest) dated: usize,
    /// Cells with other text.
    pub(in crate::ingest) texts: usize,
    /// Whether the numbers are whole and rise.
    pub(in crate::ingest) counts: bool,
    /// Whether no number is below the one before it, and some are above.
    pub(in crate::ingest) rises: bool,
    /// The unit after the first number that has one.
    pub(in crate::ingest) unit: Option<String>,
    /// The first cell that is nothing but a unit, and how many are.
    word: Option<String>,
    words: usize,
    /// The first cell that is a word for push or pull, how many are, and how many cells were looked at.
    pub(in crate::ingest) direction: Option<String>,
    directions: usize,
    cells: usize,
    /// Short cells and how often each was seen, the first few of them.
    short: Vec<(String, usize)>,
    /// The first cell with a number.
    pub(in crate::ingest) found: String,
    last: Option<f64>,
    first: Option<f64>,
    /// The greatest number, and whether all are whole and none is negative.
    greatest: f64,
    whole: bool,
}

impl Column {
    /// Whether a cell of digits does not look like the others of this column: a leading zero, or another number of decimals where
    /// that is fixed.
    pub(in crate::ingest) fn is_odd(&self, cell: &[u8]) -> bool {
        let decimals = cell
            .iter()
            .rev()
            .take_while(|byte| byte.is_ascii_digit())
            .count();
        let marked = decimals < cell.len();
        let leads = cell.len() > 1 && cell[0] == b'0' && cell[1].is_ascii_digit();
        leads || (self.is_fixed() && (!marked || decimals != self.most))
    }

    const fn new(mark: Mark) -> Self {
        Self {
            mark,
            fewest: usize::MAX,
            most: 0,
            numbers: 0,
            lone: 0,
            stamps: 0,
            stamp_decimals: 0,
            dated: 0,
            texts: 0,
            counts: true,
            rises: true,
            unit: None,
            word: None,
            words: 0,
            direction: None,
            directions: 0,
            cells: 0,
            short: Vec::new(),
            found: String::new(),
            last: None,
            first: None,
            greatest: 0.0,
            whole: true,
        }
    }

    fn look(&mut self, cell: &[u8]) {
        let mark = self.mark;
        self.cells += 1;
        self.count_short(cell);
        if sign_of(cell).is_some() {
            self.directions += 1;
            self.direction
                .get_or_insert_with(|| String::from_utf8_lossy(cell).into_owned());
        }
        match number::value(cell, mark) {
            Value::Number(number) => {
                if self.numbers == 0 {
                    self.found = cells::shown(cell);
                }
                self.numbers += 1;
                if number.grouping == Grouping::Lone {
                    self.lone += 1;
                } else {
                    self.fewest = self.fewest.min(number.decimals);
                    self.most = self.most.max(number.decimals);
                }
                self.greatest = self.greatest.max(number.value);
                self.whole &= number.value >= 0.0 && number.value.fract() == 0.0;
                if let Some(last) = self.last {
                    self.counts &= number.value > last && number.value.fract() == 0.0;
                    self.rises &= number.value >= last;
                }
                self.first.get_or_insert(number.value);
                self.last = Some(number.value);
            }
            Value::Missing | Value::NotFinite => {}
            Value::Text => self.look_at_text(cell, mark),
        }
    }

    fn look_at_text(&mut self, cell: &[u8], mark: Mark) {
        if let Some((number, unit)) = number::with_unit(cell, mark) {
            self.numbers += 1;
            if number.grouping == Grouping::Lone {
                self.lone += 1;
            } else {
                self.fewest = self.fewest.min(number.decimals);
                self.most = self.most.max(number.decimals);
            }
            self.unit.get_or_insert_with(|| unit.to_owned());
            return;
        }
        match stamp::stamp(cell) {
            Some(stamp) => {
                self.stamps += 1;
                self.stamp_decimals = self.stamp_decimals.max(stamp.decimals);
                self.dated += usize::from(stamp.dated == Dated::Yes);
            }
            None => {
                self.texts += 1;
                let text = String::from_utf8_lossy(cell);
                if units::measured(&text).is_some() {
                    self.words += 1;
                    self.word.get_or_insert_with(|| text.into_owned());
                }
            }
        }
    }

    /// The unit that its cells hold in place of numbers: the unit of the column before it.
    pub(in crate::ingest) fn unit_of_the_one_before(&self) -> Option<&str> {
        let mostly = self.numbers + self.stamps == 0 && self.words * 4 > self.texts * 3;
        self.word.as_deref().filter(|_| mostly)
    }

    fn count_short(&mut self, cell: &[u8]) {
        const LONGEST: usize = 8;
        const KINDS: usize = 4;
        let cell = number::trim(cell);
        if cell.len() > LONGEST {
            return;
        }
        let found = self
            .short
            .iter()
            .position(|(known, _)| known.as_bytes() == cell);
        match found {
            Some(at) => self.short[at].1 += 1,
            None if self.short.len() < KINDS => {
                self.short
                    .push((String::from_utf8_lossy(cell).into_owned(), 1));
            }
            None => {}
        }
    }

    /// The cell that most rows have, if one has.
    pub(in crate::ingest) fn usual(&self) -> Option<String> {
        let most = self.short.iter().max_by_key(|(_, count)| *count)?;
        (most.1 * 2 > self.cells).then(|| most.0.clone())
    }

    /// True if every cell is a word for push or pull.
    pub(in crate::ingest) fn is_direction(&self) -> bool {
        self.directions > 0 && self.directions == self.cells
    }

    /// True if the other mark would make other numbers of all its cells, and its own groups all their digits.
    pub(in crate::ingest) const fn is_open(&self) -> bool {
        self.lone > 0 && self.lone == self.numbers && self.texts == 0
    }

    /// The usual step between its first and last number.
    pub(in crate::ingest) fn step(&self) -> Option<f64> {
        let steps = self.numbers.checked_sub(1).filter(|steps| *steps > 0)?;
        Some((self.last? - self.first?) / steps as f64)
    }

    /// True if its numbers may be the digits after the seconds of another column: whole, and below `most`.
    pub(in crate::ingest) fn is_below(&self, most: f64) -> bool {
        self.is_numbers() && self.whole && self.greatest < most
    }

    /// True if it may hold instants without the digits after the seconds.
    pub(in crate::ingest) fn is_whole_seconds(&self) -> bool {
        if self.is_stamps() {
            self.stamp_decimals == 0
        } else {
            self.is_numbers() && self.whole
        }
    }

    /// True if its numbers all have the same number of decimals, and some.
    pub(in crate::ingest) fn is_fixed(&self) -> bool {
        self.fewest == self.most && self.most > 0
    }

    /// True if its cells are numbers, but for a few.
    pub(in crate::ingest) const fn is_numbers(&self) -> bool {
        self.numbers > 2 * self.texts
    }

    /// True if its cells are clock stamps.
    pub(in crate::ingest) const fn is_stamps(&self) -> bool {
        self.stamps > 0 && self.stamps >= self.numbers
    }

    /// True if it has anything that can be a value.
    pub(in crate::ingest) const fn has_values(&self) -> bool {
        self.numbers + self.stamps > 0
    }
}

/// How many rows are looked at.
const ROWS: usize = 64;

/// Looks at the columns of the first rows.
pub(in crate::ingest) fn columns(
    rows: &[Line<'_>],
    delimiter: Delimiter,
    mark: Mark,
    width: usize,
) -> Vec<Column> {
    let mut columns = looked_at(rows, delimiter, mark, width);
    let others = columns.iter().any(|column| column.numbers < column.texts);
    if others && delimiter != Delimiter::Byte(mark.other().byte()) {
        let other = looked_at(rows, delimiter, mark.other(), width);
        for (column, other) in columns.iter_mut().zip(other) {
            if column.numbers < column.texts && other.numbers > other.texts {
                *column = other;
            }
        }
    }
    columns
}

/// The columns of the first rows under one mark.
fn looked_at(rows: &[Line<'_>], delimiter: Delimiter, mark: Mark, width: usize) -> Vec<Column> {
    let mut columns = vec![Column::new(mark); width];
    let mut found = Vec::new();
    let groups = match delimiter {
        Delimiter::Byte(byte) => byte == b',' && mark == Mark::Point,
        Delimiter::Blanks => true,
        Delimiter::None => false,
    };
    for line in rows.iter().take(ROWS) {
        cells::split(line.text, delimiter, &mut found);
        let commas = delimiter == Delimiter::Byte(b',') && mark == Mark::Comma;
        if found.len() > width {
            match join::joined(&found, width, mark, b',').filter(|_| commas) {
                Some(joined) => found = joined,
                None => continue,
            }
        }
        for (at, column) in columns.iter_mut().enumerate().take(found.len()) {
            if !(groups && join::is_torn(&found, at, mark)) {
                column.look(&found[at]);
            }
        }
    }
    for column in &mut columns {
        column.rises &= column.first < column.last;
        column.counts &= column.numbers > 1;
    }
    columns
}

/// The sign of a push or a pull that a word names: a push is positive.
pub(in crate::ingest) fn sign_of(cell: &[u8]) -> Option<f64> {
    const LONGEST: usize = 12;
    const PUSH: [&str; 9] = [
        "push",
        "compression",
        "compr",
        "comp",
        "druck",
        "c",
        "d",
        "+",
        "compresión",
    ];
    const PULL: [&str; 9] = [
        "pull",
        "tension",
        "tens",
        "zug",
        "t",
        "z",
        "-",
        "traction",
        "tracción",
    ];
    let cell = number::trim(cell);
    let first = cell.first()?;
    if cell.len() > LONGEST || first.is_ascii_digit() || *first == b'.' {
        return None;
    }
    let word = String::from_utf8_lossy(cell).to_lowercase();
    let known = |words: &[&str]| words.contains(&word.as_str());
    if known(&PUSH) {
        Some(1.0)
    } else {
        known(&PULL).then_some(-1.0)
    }
}
