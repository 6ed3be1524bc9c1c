//! Numbers that were torn apart at a comma which is also the delimiter, joined again where there is one way only.

use std::borrow::Cow;

use super::cells::Cells;
use super::dialect::Mark;
use super::number::{self, Grouping, Value};

/// Rows with more columns or more torn numbers than this are not joined.
const MOST_COLUMNS: usize = 24;

/// Ways that are tried before a row is given up.
const MOST_TRIES: usize = 4096;

/// The row with neighbouring cells joined by commas to `width` cells, if exactly one way makes numbers of them.
pub(super) fn joined<'a>(cells: &Cells<'a>, width: usize, mark: Mark) -> Option<Cells<'a>> {
    if width > MOST_COLUMNS || cells.len() > 2 * MOST_COLUMNS {
        return None;
    }
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut tries = MOST_TRIES;
    search(cells, width, mark, &mut Vec::new(), &mut found, &mut tries);
    let ([only], true) = (found.as_slice(), tries > 0) else {
        return None;
    };
    let mut rest = cells.as_slice();
    let mut row = Vec::with_capacity(width);
    for length in only {
        let (taken, left) = rest.split_at(*length);
        row.push(Cow::Owned(taken.join(&b',')));
        rest = left;
    }
    Some(row)
}

/// Tries every cell alone or joined with those after it; stops at two ways.
fn search(
    cells: &[Cow<'_, [u8]>],
    width: usize,
    mark: Mark,
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
        if length > 1 && !is_joined(&cells[..length], mark) {
            continue;
        }
        lengths.push(length);
        search(&cells[length..], width - 1, mark, lengths, found, tries);
        lengths.pop();
    }
}

/// Whether cells joined by commas are one number that needs its commas.
fn is_joined(cells: &[Cow<'_, [u8]>], mark: Mark) -> bool {
    let text = cells.join(&b',');
    match number::value(&text, mark) {
        Value::Number(number) => mark == Mark::Comma || number.grouping != Grouping::None,
        _ => false,
    }
}

/// Whether the cell at `at` and the next one look like one number with a thousands mark between them: one to three digits
/// and no decimals, then exactly three digits, with or without decimals.
pub(super) fn is_torn(cells: &Cells<'_>, at: usize) -> bool {
    let (Some(left), Some(right)) = (cells.get(at), cells.get(at + 1)) else {
        return false;
    };
    let digits = left.strip_prefix(b"-").unwrap_or(left);
    let whole = (1..=3).contains(&digits.len()) && digits.iter().all(u8::is_ascii_digit);
    whole && digits.first() != Some(&b'0') && is_joined(&[left.clone(), right.clone()], Mark::Point)
}
