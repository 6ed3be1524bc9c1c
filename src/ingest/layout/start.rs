//! Which table of a log is its record, where another one stands before it: a calibration, results, a list of parameters.

use super::fit::Fit;
use super::heads::{self, Head};
use super::shape::{self, Kind, Shapes};
use crate::ingest::tokens::cells::{self, Line};
use crate::ingest::tokens::delimiter::Delimiter;
use crate::ingest::tokens::number;

/// Most rows without heads that may stand above the heads of the record: numbers of channels, of rows.
const FEW: usize = 3;

/// The rows under heads that name a clock and a force, where those of `fit` do not, and are no rows of a record either.
pub(in crate::ingest) fn later(lines: &[Line<'_>], fit: &Fit) -> Option<Fit> {
    let (delimiter, first) = (fit.delimiter, &fit.block);
    if fit.sure {
        return None;
    }
    let at = (first.first + 1..lines.len()).find(|at| is_head(&lines[*at], delimiter))?;
    let mut block = Shapes::of(&lines[at..], delimiter).block()?;
    block.first += at;
    let before = at - first.first;
    let other = !fit.heads.is_empty() || before <= FEW || block.numeric > first.numeric;
    (other && before < block.rows).then(|| Fit::new(lines, delimiter, block))
}

/// Whether a line holds heads that name a clock and a force.
fn is_head(line: &Line<'_>, delimiter: Delimiter) -> bool {
    if number::begins_one(line.text) {
        return false;
    }
    let mut found = Vec::new();
    cells::split(line.text, delimiter, &mut found);
    let words = |cell: &&[u8]| matches!(shape::kind(cell), Kind::Text | Kind::Missing);
    if !found.iter().map(AsRef::as_ref).all(|cell| words(&cell)) {
        return false;
    }
    let heads: Vec<Head> = found
        .iter()
        .map(|cell| Head::new(&String::from_utf8_lossy(cell)))
        .collect();
    heads::names_clock_and_force(&heads)
}
