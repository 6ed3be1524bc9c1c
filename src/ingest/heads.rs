//! What stands above the columns: names and units, in one row or in several.

use super::cells::{self, Line};
use super::dialect::{Delimiter, Mark};
use super::number::{self, Value};
use super::units::{self, Measured};
use super::words::{self, Named};
use super::{Role, stamp};

/// The head of one column.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Head {
    /// The whole text above the column, as the log writes it.
    pub(super) text: String,
    /// The text without its unit.
    pub(super) name: String,
    /// The unit as the log writes it.
    pub(super) unit: Option<String>,
    /// What that unit measures; `None` where there is no unit or an unknown one.
    pub(super) measured: Option<Measured>,
}

impl Head {
    /// Parts one head text in name and unit.
    pub(super) fn new(text: &str) -> Self {
        let text = text.trim();
        let plain = text.trim_start_matches(['#', '%', '!', '*']).trim();
        let (name, unit) = in_brackets(plain)
            .or_else(|| whole(plain))
            .or_else(|| after_sign(plain))
            .or_else(|| at_the_end(plain))
            .unwrap_or_else(|| (plain.to_owned(), None));
        let measured = unit.as_deref().and_then(units::measured);
        Self {
            text: plain.to_owned(),
            name,
            unit,
            measured,
        }
    }

    /// The same head with the unit that a unit row gives.
    fn with_unit(mut self, unit: &str) -> Self {
        if self.unit.is_none() || self.measured.is_none() {
            self.unit = Some(units::bare(unit).to_owned());
            self.measured = units::measured(unit);
        }
        self
    }
}

/// `Kraft [N]`, `Kraft (N)`, `[N]`: a bracket at the end that holds a unit, or anything where it is square.
fn in_brackets(text: &str) -> Option<(String, Option<String>)> {
    for (open, close) in [('[', ']'), ('(', ')'), ('{', '}'), ('<', '>')] {
        let Some(start) = text.rfind(open) else {
            continue;
        };
        let Some(length) = text[start..].find(close) else {
            continue;
        };
        let inner = text[start + 1..start + length].trim();
        let known = units::measured(inner).is_some();
        if known || (open == '[' && !inner.is_empty()) {
            let after = text[start + length + 1..].trim();
            let mut name = text[..start].trim().to_owned();
            if !after.is_empty() {
                name.push(' ');
                name.push_str(after);
            }
            return Some((name.trim().to_owned(), Some(inner.to_owned())));
        }
    }
    None
}

/// A head that is nothing but a unit. Single letters may be anything, but for `N`.
fn whole(text: &str) -> Option<(String, Option<String>)> {
    let long = text.chars().count() > 1;
    let unit =
        text == "N" || (long && !matches!(words::named(text), Named::Role(_) | Named::Index));
    match units::measured(text) {
        Some(measured) if unit && measured != Measured::Doubtful => {
            Some((String::new(), Some(text.to_owned())))
        }
        _ => None,
    }
}

/// `Kraft / N`, `t/s`, `Kraft in N`, `Kraft, N`, `Kraft: N`
fn after_sign(text: &str) -> Option<(String, Option<String>)> {
    for sign in [" in ", "/", ",", ":", "|"] {
        if let Some((name, unit)) = text.split_once(sign) {
            let unit = unit.trim();
            if !name.trim().is_empty() && units::measured(unit).is_some() {
                return Some((name.trim().to_owned(), Some(unit.to_owned())));
            }
        }
    }
    None
}

/// `force_N`, `force N`, `forceN`, `time_ms`: a unit at the end that measures what the words before it name.
fn at_the_end(text: &str) -> Option<(String, Option<String>)> {
    if let Some(found) = speed_at_the_end(text) {
        return Some(found);
    }
    for (start, _) in text.char_indices().skip(1) {
        let (name, unit) = text.split_at(start);
        let parted = name.ends_with(['_', ' ', '.', '-']);
        let capital = name.ends_with(char::is_lowercase) && unit.starts_with(char::is_uppercase);
        if !parted && !capital {
            continue;
        }
        let Some(measured) = units::measured(unit) else {
            continue;
        };
        let name = name.trim_end_matches(['_', ' ', '.', '-']);
        if fits(words::named(name), measured, unit) {
            return Some((name.to_owned(), Some(unit.to_owned())));
        }
    }
    unit_within(text)
}

/// `v_mm_s`: the only unit of two words.
fn speed_at_the_end(text: &str) -> Option<(String, Option<String>)> {
    for (end, unit) in [("_mm_s", "mm/s"), ("_cm_s", "cm/s"), ("_m_s", "m/s")] {
        if let Some(name) = text.strip_suffix(end) {
            return Some((name.to_owned(), Some(unit.to_owned())));
        }
    }
    None
}

/// `force_N_left`: a unit between underscores.
fn unit_within(text: &str) -> Option<(String, Option<String>)> {
    let parts: Vec<&str> = text.split('_').collect();
    let mut found = parts.iter().enumerate().skip(1).filter(|(_, part)| {
        units::measured(part).is_some_and(|measured| fits(words::named(parts[0]), measured, part))
    });
    let (place, unit) = found.next()?;
    if found.next().is_some() {
        return None;
    }
    let mut name = parts.clone();
    name.remove(place);
    Some((name.join("_"), Some((*unit).to_owned())))
}

/// Whether a unit without brackets can be the unit of what a name names.
fn fits(named: Named, measured: Measured, unit: &str) -> bool {
    let role = match named {
        Named::Role(role) => role,
        Named::LetterF | Named::Derived => Role::Force,
        Named::Unknown => return unit.chars().count() > 1,
        Named::Torque | Named::Index | Named::Date => return measured == Measured::Else,
    };
    match measured {
        Measured::Force(_) | Measured::Weight(_) | Measured::Doubtful => role == Role::Force,
        Measured::Time(_) => role == Role::Time,
        Measured::Length(_) => role == Role::Position,
        Measured::Speed(..) => role == Role::Speed,
        Measured::Current(_) => role == Role::Current,
        Measured::Else => true,
    }
}

/// The rows of heads above the first row of numbers, nearest first, as cells.
pub(super) struct Stack {
    rows: Vec<Vec<String>>,
}

/// Most rows of heads that are looked at.
const ROWS: usize = 4;

impl Stack {
    /// Gathers head rows from the lines above the first row of numbers (in the order of the log).
    pub(super) fn gather(above: &[Line<'_>], delimiter: Delimiter, width: usize) -> Self {
        let mut rows: Vec<Vec<String>> = Vec::new();
        for line in above.iter().rev() {
            if number::trim(line.text).is_empty() {
                continue;
            }
            let Some(cells) = row(line.text, delimiter, width) else {
                break;
            };
            let same = cells.len() == width;
            if !rows.is_empty() && (!same || (width == 1 && !all_units(&rows[0]))) {
                break;
            }
            rows.push(cells);
            if rows.len() == ROWS {
                break;
            }
        }
        Self { rows }
    }

    /// Number of cells in the row of heads nearest to the numbers that is not a row of units.
    pub(super) fn cells(&self) -> usize {
        self.rows
            .iter()
            .find(|row| !all_units(row))
            .or(self.rows.first())
            .map_or(0, Vec::len)
    }

    /// One head a column.
    pub(super) fn heads(&self) -> Vec<Head> {
        let names: Vec<&Vec<String>> = self.rows.iter().filter(|row| !all_units(row)).collect();
        let units = self.rows.iter().find(|row| all_units(row));
        let Some(nearest) = names.first() else {
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
        let texts = texts(nearest, names.get(1).copied());
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
            .filter(|text| matches!(words::named(&Head::new(text).name), Named::Role(_)))
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

/// True for a row in which every cell that is not empty is a unit.
fn all_units(row: &[String]) -> bool {
    let mut some = false;
    for cell in row
        .iter()
        .map(|cell| cell.trim())
        .filter(|cell| !cell.is_empty())
    {
        let letter = matches!(
            cell,
            "t" | "T" | "F" | "f" | "C" | "K" | "V" | "W" | "J" | "p"
        );
        if letter || units::measured(cell).is_none() {
            return false;
        }
        some = true;
    }
    some
}

/// The cells of a line if it can be a row of heads: words, not numbers.
fn row(line: &[u8], delimiter: Delimiter, width: usize) -> Option<Vec<String>> {
    let line = strip_remark(line);
    let cells = parted(line, delimiter, width);
    let filled: Vec<&String> = cells.iter().filter(|cell| !cell.is_empty()).collect();
    if filled.is_empty() || (width > 1 && filled.len() < 2) || filled.len() * 2 < width {
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

/// A line without the sign that marks it as a remark.
pub(super) fn strip_remark(line: &[u8]) -> &[u8] {
    let line = line.trim_ascii_start();
    for mark in ["#", "%", "//", "!"] {
        if let Some(rest) = line.strip_prefix(mark.as_bytes()) {
            return rest;
        }
    }
    line
}

/// The cells of a row of heads: by the delimiter of the rows, or by another one that gives as many cells as they have.
fn parted(line: &[u8], delimiter: Delimiter, width: usize) -> Vec<String> {
    let own = by(line, delimiter);
    let unit_alone = |cell: &String| cell.starts_with(['[', '(', '{']);
    if delimiter == Delimiter::Blanks && own.iter().any(unit_alone) && !own.iter().all(unit_alone) {
        return units_joined(own);
    }
    if own.len() == width {
        return own;
    }
    for byte in [b'\t', b';', b',', b'|'] {
        let other = by(line, Delimiter::Byte(byte));
        if other.len() == width && width > 1 {
            return other;
        }
    }
    if matches!(delimiter, Delimiter::Blanks | Delimiter::Byte(b'\t')) {
        let wide = by_wide_blanks(line);
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

impl Head {
    /// Takes the unit that a line of the preamble gives for this column, unless the head has its own.
    pub(super) fn take_unit(&mut self, unit: &str) {
        if self.unit.is_none() && !unit.trim().is_empty() {
            *self = std::mem::take(self).with_unit(unit);
        }
    }
}
