//! Numbers that were torn apart at a comma which is also the delimiter, joined again where there is one way only.

use std::borrow::Cow;

use super::cells::Cells;
use super::dialect::Mark;
use super::number::{self, Grouping, Value};

/// Rows with more columns or more torn numbers than this are not joined.
const MOST_COLUMNS: usize = 24;

/// The row with neighbouring cells joined by commas to `width` cells, if exactly one way makes numbers of them.
pub(super) fn joined<'a>(cells: &Cells<'a>, width: usize, mark: Mark) -> Option<Cells<'a>> {
    if width > MOST_COLUMNS || cells.len() > 2 * MOST_COLUMNS {
        return None;
    }
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut lengths = Vec::new();
    search(cells, width, mark, &mut lengths, &mut found);
    let [only] = found.as_slice() else {
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
) {
    if found.len() > 1 || cells.len() < width {
        return;
    }
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
        search(&cells[length..], width - 1, mark, lengths, found);
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
