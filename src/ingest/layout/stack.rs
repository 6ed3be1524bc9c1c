//! The rows of heads above the first row of numbers: names and units, in one row or in several.

use super::heads::Head;
use super::words::Named;
use crate::ingest::Role;
use crate::ingest::tokens::cells::{self, Line};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::number::{self, Value};
use crate::ingest::tokens::stamp;
use crate::ingest::tokens::units;

/// The rows of heads above the first row of numbers, nearest first, as cells.
pub(in crate::ingest) struct Stack {
    names: Vec<Vec<String>>,
    units: Vec<Vec<String>>,
}

/// Most rows of heads that are looked at.
const ROWS: usize = 4;

impl Stack {
    /// Gathers head rows from the lines above the first row of numbers (in the order of the log).
    pub(in crate::ingest) fn gather(
        above: &[Line<'_>],
        delimiter: Delimiter,
        width: usize,
    ) -> Self {
        let mut rows: Vec<Vec<String>> = Vec::new();
        for (at, line) in above.iter().enumerate().rev() {
            if is_rule(line.text) {
                continue;
            }
            let cells = row(line.text, delimiter, width);
            if rows.is_empty() && is_between(line, cells.as_ref(), &above[..at], delimiter, width) {
                continue;
            }
            let Some(cells) = cells else { break };
            let same = cells.len() == width;
            if !rows.is_empty() && (!same || (width == 1 && !all_units(&rows[0]))) {
                break;
            }
            rows.push(cells);
            if rows.len() == ROWS {
                break;
            }
        }
        let (units, names) = rows.into_iter().partition(|row| all_units(row));
        Self { names, units }
    }

    /// Number of cells in the row of heads nearest to the numbers that is not a row of units.
    pub(in crate::ingest) fn cells(&self) -> usize {
        let row = self.names.first().or(self.units.first());
        row.map_or(0, Vec::len)
    }

    /// One head a column.
    pub(in crate::ingest) fn heads(&self) -> Vec<Head> {
        let units = self.units.first();
        let Some(nearest) = self.names.first() else {
            return units.map_or_else(Vec::new, |row| {
                row.iter()
                    .map(|unit| {
                        Head {
                            text: unit.clone(),
                            ..Head::default()
                        }
                        .with_unit(unit)
                    })
                    .collect()
            });
        };
        let texts = texts(nearest, self.names.get(1));
        let mut heads: Vec<Head> = texts.iter().map(|text| Head::new(text)).collect();
        if let Some(units) = units {
            for (head, unit) in heads.iter_mut().zip(units) {
                if !unit.trim().is_empty() {
                    *head = std::mem::take(head).with_unit(unit);
                }
            }
        }
        heads
    }
}

/// The texts of two rows of heads as one: the nearer alone, unless it repeats itself or only the upper one has known words.
fn texts(nearest: &[String], above: Option<&Vec<String>>) -> Vec<String> {
    let Some(above) = above.filter(|above| above.len() == nearest.len()) else {
        return nearest.to_vec();
    };
    let known = |row: &[String]| {
        row.iter()
            .filter(|text| matches!(Head::new(text).named, Named::Role(_)))
            .count()
    };
    let repeats =
        (1..nearest.len()).any(|i| !nearest[i].is_empty() && nearest[..i].contains(&nearest[i]));
    if !repeats {
        return if known(nearest) == 0 && known(above) > 0 {
            above.clone()
        } else {
            nearest.to_vec()
        };
    }
    let mut group = String::new();
    nearest
        .iter()
        .zip(above)
        .map(|(name, upper)| {
            if !upper.trim().is_empty() {
                group.clone_from(upper);
            }
            format!("{} {name}", group.trim()).trim().to_owned()
        })
        .collect()
}

/// True for a row in which every cell that is not empty is a unit; beside two or more that are known one may be unknown, if it
/// is written like one, or a letter that is a name as often.
fn all_units(row: &[String]) -> bool {
    let (mut known, mut strange) = (0, 0);
    for cell in row.iter().map(|cell| cell.trim()) {
        match cell {
            "" => {}
            "t" | "T" | "F" | "f" => return false,
            "C" | "K" | "V" | "W" | "J" | "p" => strange += 1,
            unit if units::measured(unit).is_some() => known += 1,
            other if other.contains(['/', '°', '²', '³', '^', '%']) => strange += 1,
            _ => return false,
        }
    }
    known > strange
}

/// The cells of a line if it can be a row of heads: words, not numbers.
fn row(line: &[u8], delimiter: Delimiter, width: usize) -> Option<Vec<String>> {
    let line = strip_remark(line);
    if width == 1 && number::begins_one(line) {
        return None;
    }
    let cells = parted(line, delimiter, width);
    let filled: Vec<&String> = cells.iter().filter(|cell| !cell.is_empty()).collect();
    let from_the_left = cells[..filled.len()].iter().all(|cell| !cell.is_empty());
    let whole = cells.len() == width;
    let units = whole && all_units(&cells);
    let few = (width > 1 && filled.len() < 2) || (filled.len() * 2 < width && !from_the_left);
    if filled.is_empty() || !units && (few || filled.len() * 2 < width && !whole) {
        return None;
    }
    let numbers = filled.iter().filter(|cell| is_value(cell)).count();
    if numbers > 0 && (width <= 3 || numbers * 5 > filled.len()) {
        return None;
    }
    Some(cells)
}

fn is_value(cell: &str) -> bool {
    let bytes = cell.as_bytes();
    matches!(number::value(bytes, Mark::Point), Value::Number(_))
        || matches!(number::value(bytes, Mark::Comma), Value::Number(_))
        || stamp::stamp(bytes).is_some()
}

/// True for a line without a word or a number, as it is drawn under heads: `---;---`, `|---|`, `;;`, or nothing at all.
fn is_rule(line: &[u8]) -> bool {
    let drawn = |byte: &u8| b"-=+|_:;,\"'*~ \t".contains(byte);
    number::trim(line).iter().all(drawn)
}

/// Whether a line stands between the heads and the rows and is neither, such as `Run 1`: the next line above it that is no
/// rule holds as many heads as there are columns, and this one does not.
fn is_between(
    line: &Line<'_>,
    cells: Option<&Vec<String>>,
    above: &[Line<'_>],
    delimiter: Delimiter,
    width: usize,
) -> bool {
    let next = above.iter().rev().find(|line| !is_rule(line.text));
    let heads = |cells: &Vec<String>| cells.len() == width && (width > 1 || names_force(cells));
    !number::begins_one(line.text)
        && !cells.is_some_and(heads)
        && next
            .and_then(|line| row(line.text, delimiter, width))
            .is_some_and(|cells| heads(&cells))
}

fn names_force(cells: &[String]) -> bool {
    cells
        .iter()
        .map(|cell| Head::new(cell))
        .any(|head| head.has_force_unit() || head.named == Named::Role(Role::Force))
}

/// A line without the sign that marks it as a remark.
fn strip_remark(line: &[u8]) -> &[u8] {
    let plain = line.trim_ascii_start();
    for mark in ["#", "%", "//", "!"] {
        if let Some(rest) = plain.strip_prefix(mark.as_bytes()) {
            return rest;
        }
    }
    line
}

/// The cells of a row of heads: by the delimiter of the rows, or by another one that gives as many cells as they have. Not
/// where commas or blanks part the rows: those may be marks inside numbers, and the delimiter of the heads the true one.
fn parted(line: &[u8], delimiter: Delimiter, width: usize) -> Vec<String> {
    let own = by(line, delimiter);
    let unit_alone = |cell: &String| cell.starts_with(['[', '(', '{']);
    let wide = match delimiter {
        Delimiter::Blanks | Delimiter::Byte(b'\t') => by_wide_blanks(line),
        _ => Vec::new(),
    };
    let units_apart = own.iter().any(unit_alone) && !own.iter().all(unit_alone);
    if delimiter == Delimiter::Blanks && units_apart {
        let joined = units_joined(own);
        return if wide.len() == width { wide } else { joined };
    }
    if own.len() == width {
        return own;
    }
    let others: &[u8] = match delimiter {
        Delimiter::Byte(b',') | Delimiter::Blanks => &[],
        _ => b"\t;,|",
    };
    for byte in others.iter().copied() {
        let other = by(line, Delimiter::Byte(byte));
        if other.len() == width && width > 1 {
            return other;
        }
    }
    if matches!(delimiter, Delimiter::Blanks | Delimiter::Byte(b'\t')) {
        if wide.len() == width {
            return wide;
        }
        let joined = units_joined(by(line, Delimiter::Blanks));
        if joined.len() == width {
            return joined;
        }
    }
    own
}

fn by(line: &[u8], delimiter: Delimiter) -> Vec<String> {
    let mut found = Vec::new();
    cells::split(line, delimiter, &mut found);
    found
        .iter()
        .map(|cell| String::from_utf8_lossy(number::trim(cell)).into_owned())
        .collect()
}

fn by_wide_blanks(line: &[u8]) -> Vec<String> {
    String::from_utf8_lossy(line)
        .trim()
        .split("  ")
        .map(|cell| cell.trim().to_owned())
        .filter(|cell| !cell.is_empty())
        .collect()
}

/// `Time`, `(s)`, `Force`, `(N)` → `Time (s)`, `Force (N)`
fn units_joined(words: Vec<String>) -> Vec<String> {
    let mut joined: Vec<String> = Vec::new();
    for word in words {
        match joined.last_mut() {
            Some(last) if word.starts_with(['(', '[', '{']) => {
                last.push(' ');
                last.push_str(&word);
            }
            _ => joined.push(word),
        }
    }
    joined
}
