//! What the lines of a head look like under one delimiter, and where the rows of numbers begin.

use crate::ingest::tokens::cells::{self, Cells, Line};
use crate::ingest::tokens::decimal;
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Value};
use crate::ingest::tokens::stamp;

/// What a cell looks like before the decimal mark is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Kind {
    Number,
    Stamp,
    Missing,
    Text,
}

/// The shape of one line that is neither blank nor a remark.
struct Shape {
    /// Its place in the lines given.
    place: usize,
    number: u64,
    /// Its cells among all kinds.
    cells: std::ops::Range<usize>,
    /// Cells with a number or a stamp, and cells with text.
    values: usize,
    texts: usize,
    /// Whether it begins like a number.
    begins_like_one: bool,
}

/// The shapes of lines under one delimiter.
pub(in crate::ingest) struct Shapes {
    lines: Vec<Shape>,
    kinds: Vec<Kind>,
    delimiter: Delimiter,
}

/// A block of rows.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Block {
    /// Place of its first line in the lines given.
    pub(in crate::ingest) first: usize,
    /// Most frequent number of cells in its rows.
    pub(in crate::ingest) width: usize,
    pub(in crate::ingest) widest: usize,
    pub(in crate::ingest) narrowest: usize,
    /// Columns with numbers or stamps in most rows, and columns with text.
    pub(in crate::ingest) numeric: usize,
    pub(in crate::ingest) texts: usize,
    /// Rows in it.
    pub(in crate::ingest) rows: usize,
    /// Lines from its first one on that are neither blank nor remarks.
    pub(in crate::ingest) lines: usize,
}

impl Block {
    /// Share of rows among the lines from the first row on.
    pub(in crate::ingest) fn coverage(&self) -> f64 {
        self.rows as f64 / self.lines as f64
    }

    pub(in crate::ingest) const fn ragged(&self) -> bool {
        self.widest != self.narrowest
    }
}

/// What the columns of most rows hold.
struct Columns {
    /// Whether most rows have a number or a stamp there.
    numeric: Vec<bool>,
    /// How many columns on the left are empty in most rows.
    empty_first: usize,
}

/// Smallest share of rows among the lines of a block.
const COVERAGE: f64 = 0.5;

impl Shapes {
    /// Looks at lines under a delimiter.
    pub(in crate::ingest) fn of<'a>(lines: &[Line<'a>], delimiter: Delimiter) -> Self {
        let mut shapes = Self {
            lines: Vec::with_capacity(lines.len()),
            kinds: Vec::new(),
            delimiter,
        };
        let mut found: Cells<'a> = Vec::new();
        for (place, line) in lines.iter().enumerate() {
            let text = number::trim(line.text);
            if text.is_empty() || is_remark(text, delimiter) {
                continue;
            }
            cells::split(line.text, delimiter, &mut found);
            let start = shapes.kinds.len();
            let (mut values, mut texts) = (0, 0);
            for cell in &found {
                let kind = kind(cell);
                match kind {
                    Kind::Number | Kind::Stamp => values += 1,
                    Kind::Text => texts += 1,
                    Kind::Missing => {}
                }
                shapes.kinds.push(kind);
            }
            shapes.lines.push(Shape {
                place,
                number: line.number,
                cells: start..shapes.kinds.len(),
                values,
                texts,
                begins_like_one: number::begins_one(text),
            });
        }
        shapes
    }

    /// The first line with more than `most` cells.
    pub(in crate::ingest) fn too_wide(&self, most: usize) -> Option<u64> {
        self.lines
            .iter()
            .find(|line| line.cells.len() > most)
            .map(|line| line.number)
    }

    fn kinds(&self, at: usize) -> &[Kind] {
        &self.kinds[self.lines[at].cells.clone()]
    }

    fn like_a_row(&self, at: usize) -> bool {
        let line = &self.lines[at];
        let wide = self.delimiter == Delimiter::None || line.cells.len() > 1;
        wide && line.values > 0 && line.values >= line.texts
    }

    /// The rows of numbers, if there are any.
    pub(in crate::ingest) fn block(&self) -> Option<Block> {
        let rows: Vec<usize> = (0..self.lines.len())
            .filter(|at| self.like_a_row(*at))
            .collect();
        let width = most_frequent(rows.iter().map(|at| self.kinds(*at).len()))?;
        let columns = self.columns(&rows, width);
        if !columns.numeric.contains(&true) {
            return None;
        }
        let first = self.start(&rows, width, &columns)?;
        let inside: Vec<usize> = (first..self.lines.len())
            .filter(|at| self.like_a_row(*at) && self.agrees(*at, &columns))
            .collect();
        let widths = || inside.iter().map(|at| self.kinds(*at).len());
        let block = Block {
            first: self.lines[first].place,
            width,
            widest: widths().max()?,
            narrowest: widths().min()?,
            numeric: columns.numeric.iter().filter(|numeric| **numeric).count(),
            texts: self.text_columns(&inside, width),
            rows: inside.len(),
            lines: self.lines.len() - first,
        };
        (block.coverage() >= COVERAGE).then_some(block)
    }

    /// The columns in which most rows of the usual width have a number or a stamp.
    fn numeric_columns(&self, rows: &[usize], width: usize) -> Vec<bool> {
        (0..width)
            .map(|column| {
                let (mut values, mut texts) = (0, 0);
                for at in rows {
                    match self.kinds(*at).get(column) {
                        Some(Kind::Number | Kind::Stamp) => values += 1,
                        Some(Kind::Text) => texts += 1,
                        _ => {}
                    }
                }
                values > texts
            })
            .collect()
    }

    /// The columns in which most rows have text.
    fn text_columns(&self, rows: &[usize], width: usize) -> usize {
        let texts = |column: &usize| {
            let is_text = |at: &&usize| self.kinds(**at).get(*column) == Some(&Kind::Text);
            rows.iter().filter(is_text).count() * 2 > rows.len()
        };
        (0..width).filter(texts).count()
    }

    /// A row agrees if it has no text where the others have numbers, nor in front of them where the others have nothing.
    fn agrees(&self, at: usize, columns: &Columns) -> bool {
        let mut kinds = self.kinds(at).iter().enumerate();
        !kinds.any(|(column, kind)| {
            let numeric = columns.numeric.get(column).copied().unwrap_or(false);
            *kind == Kind::Text && (numeric || column < columns.empty_first)
        })
    }

    /// What the columns of most rows of the usual width hold.
    fn columns(&self, rows: &[usize], width: usize) -> Columns {
        let numeric = self.numeric_columns(rows, width);
        let empty = |column: &usize| {
            let missing = |at: &&usize| self.kinds(**at).get(*column) == Some(&Kind::Missing);
            rows.iter().filter(missing).count() * 2 > rows.len()
        };
        Columns {
            empty_first: (0..width).take_while(empty).count(),
            numeric,
        }
    }

    /// The first row: the first one that agrees and has the usual width, then up over rows with a bad cell.
    fn start(&self, rows: &[usize], width: usize, columns: &Columns) -> Option<usize> {
        let usual = |at: &usize| {
            let kinds = self.kinds(*at);
            kinds.len() == width && self.agrees(*at, columns)
        };
        let mut first = rows
            .iter()
            .copied()
            .find(usual)
            .or_else(|| rows.iter().copied().find(|at| self.agrees(*at, columns)))?;
        let key = columns.numeric.iter().position(|numeric| *numeric)?;
        while let Some(above) = first.checked_sub(1) {
            let kinds = self.kinds(above);
            let keyed = matches!(kinds.get(key), Some(Kind::Number | Kind::Stamp))
                && !kinds[..columns.empty_first.min(kinds.len())].contains(&Kind::Text);
            let like = self.like_a_row(above);
            let close = kinds.len() == width || (like && self.agrees(above, columns));
            let bare = width == 1 && self.lines[above].begins_like_one;
            if !(bare || keyed && close && (width > 1 || like)) {
                break;
            }
            first = above;
        }
        Some(first)
    }
}

/// The most frequent number; of equally frequent ones the greatest.
fn most_frequent(widths: impl Iterator<Item = usize>) -> Option<usize> {
    let mut counts = std::collections::BTreeMap::new();
    for width in widths {
        *counts.entry(width).or_insert(0_usize) += 1;
    }
    counts
        .into_iter()
        .max_by_key(|(width, count)| (*count, *width))
        .map(|(width, _)| width)
}

/// What a cell looks like.
pub(in crate::ingest) fn kind(cell: &[u8]) -> Kind {
    if is_plain(cell) {
        return Kind::Number;
    }
    let read = |mark| number::value(cell, mark);
    match read(Mark::Point) {
        Value::Number(_) => return Kind::Number,
        Value::Missing | Value::NotFinite => return Kind::Missing,
        Value::Text => {}
    }
    if matches!(read(Mark::Comma), Value::Number(_)) {
        return Kind::Number;
    }
    if stamp::stamp(cell).is_some() {
        return Kind::Stamp;
    }
    let unit = [Mark::Point, Mark::Comma]
        .into_iter()
        .any(|mark| number::with_unit(cell, mark).is_some());
    if unit { Kind::Number } else { Kind::Text }
}

/// True for a cell that the fast path would read.
fn is_plain(cell: &[u8]) -> bool {
    let whole = |mark: Mark| {
        decimal::decimal(cell, 0, mark.byte()).is_some_and(|found| found.end == cell.len())
    };
    whole(Mark::Point) || whole(Mark::Comma)
}

/// True for a line that begins with the word of a spreadsheet for a cell without a value: `#N/A`.
fn begins_with_error(line: &[u8]) -> bool {
    let parts = |byte: &u8| matches!(byte, b',' | b';' | b'\t' | b'|' | b' ');
    let end = line.iter().position(parts).unwrap_or(line.len());
    line.len() > 1 && !matches!(number::value(&line[..end], Mark::Point), Value::Text)
}

/// True for a line that says of itself that it is a remark.
pub(in crate::ingest) fn is_remark(line: &[u8], delimiter: Delimiter) -> bool {
    match line.first() {
        Some(b'#') => !begins_with_error(line),
        Some(b'%' | b'!') => true,
        Some(b'/') => line.starts_with(b"//"),
        Some(b';') => delimiter != Delimiter::Byte(b';'),
        _ => false,
    }
}
