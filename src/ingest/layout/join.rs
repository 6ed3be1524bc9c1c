//! Numbers that were torn apart at a comma or a blank which is also the delimiter, joined again where there is one way only.

use std::borrow::Cow;

use super::shape::{self, Kind};
use crate::ingest::tokens::cells::{self, Cells};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Grouping, Value};

/// Rows with more columns or more torn numbers than this are not joined.
const MOST_COLUMNS: usize = 24;

/// Ways that are tried before a row is given up.
const MOST_TRIES: usize = 4096;

/// The row with neighbouring cells joined to `width` cells, if exactly one way makes numbers of them.
pub(in crate::ingest) fn joined<'a>(
    cells: &Cells<'a>,
    width: usize,
    mark: Mark,
    between: u8,
) -> Option<Cells<'a>> {
    if width > MOST_COLUMNS || cells.len() > 2 * MOST_COLUMNS {
        return None;
    }
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut tries = MOST_TRIES;
    let joins = |cells: &[Cow<'_, [u8]>]| is_joined(cells, mark, between);
    search(
        cells,
        width,
        &joins,
        &mut Vec::new(),
        &mut found,
        &mut tries,
    );
    let ([only], true) = (found.as_slice(), tries > 0) else {
        return None;
    };
    let mut rest = cells.as_slice();
    let mut row = Vec::with_capacity(width);
    for length in only {
        let (taken, left) = rest.split_at(*length);
        row.push(Cow::Owned(taken.join(&between)));
        rest = left;
    }
    Some(row)
}

/// Whether neighbouring cells are one number that the delimiter tore.
type Joins<'a> = dyn Fn(&[Cow<'_, [u8]>]) -> bool + 'a;

/// Tries every cell alone or joined with those after it; stops at two ways.
fn search(
    cells: &[Cow<'_, [u8]>],
    width: usize,
    joins: &Joins<'_>,
    lengths: &mut Vec<usize>,
    found: &mut Vec<Vec<usize>>,
    tries: &mut usize,
) {
    if found.len() > 1 || cells.len() < width || *tries == 0 {
        return;
    }
    *tries -= 1;
    if width == 0 {
        if cells.is_empty() {
            found.push(lengths.clone());
        }
        return;
    }
    for length in 1..=(cells.len() - (width - 1)).min(4) {
        if length > 1 && !joins(&cells[..length]) {
            continue;
        }
        lengths.push(length);
        search(&cells[length..], width - 1, joins, lengths, found, tries);
        lengths.pop();
    }
}

/// Whether cells joined are one number that needs what joins it.
fn is_joined(cells: &[Cow<'_, [u8]>], mark: Mark, between: u8) -> bool {
    let text = cells.join(&between);
    match number::value(&text, mark) {
        Value::Number(number) => between == mark.byte() || number.grouping != Grouping::None,
        _ => false,
    }
}

/// What stood between two cells, written as a thousands mark that a number may have: a blank as an apostrophe.
pub(in crate::ingest) const fn between(delimiter: Delimiter) -> u8 {
    match delimiter {
        Delimiter::Byte(byte) => byte,
        Delimiter::Blanks | Delimiter::None => b'\'',
    }
}

/// Whether the cell at `at` and the next one look like one number with a thousands mark between them: one to three digits
/// and no decimals, then exactly three digits, with or without decimals.
pub(in crate::ingest) fn is_torn(cells: &Cells<'_>, at: usize, mark: Mark) -> bool {
    let (Some(left), Some(right)) = (cells.get(at), cells.get(at + 1)) else {
        return false;
    };
    let digits = left.strip_prefix(b"-").unwrap_or(left);
    let whole = (1..=3).contains(&digits.len()) && digits.iter().all(u8::is_ascii_digit);
    whole && digits.first() != Some(&b'0') && is_joined(&[left.clone(), right.clone()], mark, b'\'')
}

/// Whether a line of a bare column is several numbers, parted by anything that parts cells.
pub(in crate::ingest) fn several(line: &[u8]) -> bool {
    const DELIMITERS: [Delimiter; 5] = [
        Delimiter::Byte(b'\t'),
        Delimiter::Byte(b';'),
        Delimiter::Byte(b','),
        Delimiter::Byte(b'|'),
        Delimiter::Blanks,
    ];
    if shape::kind(line) == Kind::Number {
        return false;
    }
    let mut cells = Vec::new();
    DELIMITERS.into_iter().any(|delimiter| {
        cells::split(line, delimiter, &mut cells);
        cells.len() > 1 && cells.iter().all(|cell| shape::kind(cell) == Kind::Number)
    })
}
