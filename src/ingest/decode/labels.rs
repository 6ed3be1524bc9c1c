//! Rows that name each of their values, as programs print them over a serial line → a table: `t=0.001 F=12.5`, `Load: 12.5 N`.

use std::borrow::Cow;

use crate::ingest::Noticed;
use crate::ingest::tokens::cells::Lines;
use crate::ingest::tokens::delimiter::Mark;
use crate::ingest::tokens::number::{self, Value};
use crate::ingest::tokens::stamp;

/// A value and the label in front of it, if it has one.
type Part<'a> = (Option<&'a str>, &'a str);

/// A text without the labels in front of its values, which become heads one line above the rest; the text itself where its rows have none.
/// A line with other labels stays as it is.
pub(super) fn heads<'a>(text: Cow<'a, [u8]>, remarks: &mut Vec<Noticed>) -> (Cow<'a, [u8]>, bool) {
    let Some(labels) = labels(&text) else {
        return (text, false);
    };
    let place = |(at, label): (usize, &String)| match label.as_str() {
        "" => format!("column {}", at + 1),
        label => label.to_owned(),
    };
    let heads: Vec<String> = labels.iter().enumerate().map(place).collect();
    let mut table = heads.join("\t").into_bytes();
    table.push(b'\n');
    for line in Lines::new(&text, 0, 1) {
        let line = String::from_utf8_lossy(line.text);
        match parts(&line).filter(|parts| same(parts, &labels)) {
            Some(parts) => {
                let values: Vec<&str> = parts.iter().map(|(_, value)| *value).collect();
                table.extend_from_slice(values.join("\t").as_bytes());
            }
            None => table.extend_from_slice(line.as_bytes()),
        }
        table.push(b'\n');
    }
    if !text.ends_with(b"\n") {
        table.pop();
    }
    remarks.push(Noticed::LabelsAsHeads {
        labels: labels
            .into_iter()
            .filter(|label| !label.is_empty())
            .collect(),
    });
    (Cow::Owned(table), true)
}

/// The labels that the values of most of the first lines have, empty where a value has none.
fn labels(text: &[u8]) -> Option<Vec<String>> {
    const LOOK: usize = 64;
    const FEWEST: usize = 3;
    const LONGEST: usize = 1024;
    let head = Lines::new(text, 0, 1).filter(|line| !number::trim(line.text).is_empty());
    let head: Vec<Cow<'_, str>> = head
        .take(LOOK)
        .filter(|line| line.text.len() < LONGEST)
        .map(|line| String::from_utf8_lossy(line.text))
        .collect();
    let last = head.iter().rev().skip(1).find_map(|line| parts(line))?;
    let labels: Vec<String> = last
        .iter()
        .map(|(label, _)| label.unwrap_or_default().to_owned())
        .collect();
    let fit = |line: &&Cow<'_, str>| parts(line).is_some_and(|parts| same(&parts, &labels));
    let fits = head.iter().filter(fit).count();
    (fits >= FEWEST && fits * 4 > head.len() * 3).then_some(labels)
}

fn same(parts: &[Part<'_>], labels: &[String]) -> bool {
    parts.len() == labels.len()
        && parts
            .iter()
            .zip(labels)
            .all(|((label, _), known)| label.unwrap_or_default() == known)
}

/// The values of a line, of which at least one has a label; `None` if anything else stands in it.
fn parts(line: &str) -> Option<Vec<Part<'_>>> {
    if !line.contains(['=', ':']) {
        return None;
    }
    let mut parts = Vec::new();
    for cell in cells(line) {
        parts_of_cell(cell, &mut parts)?;
    }
    parts
        .iter()
        .any(|(label, _)| label.is_some())
        .then_some(parts)
}

/// The cells of a line: parted by tabs, semicolons and bars, and by commas that do not stand between digits.
fn cells(line: &str) -> impl Iterator<Item = &str> {
    let bytes = line.as_bytes();
    let digit = |at: Option<usize>| {
        at.and_then(|at| bytes.get(at))
            .is_some_and(u8::is_ascii_digit)
    };
    let parts = move |at: usize| match bytes[at] {
        b'\t' | b';' | b'|' => true,
        b',' => !(digit(at.checked_sub(1)) && digit(Some(at + 1))),
        _ => false,
    };
    let ends = (0..bytes.len())
        .filter(move |at| parts(*at))
        .chain([bytes.len()]);
    let mut start = 0;
    let cells = ends.map(move |end| {
        let cell = line[start..end].trim();
        start = end + 1;
        cell
    });
    cells.filter(|cell| !cell.is_empty())
}

/// The values of a cell with their labels: one, or several parted by blanks. What stands before the first label is a value of its own.
fn parts_of_cell<'a>(cell: &'a str, parts: &mut Vec<Part<'a>>) -> Option<()> {
    let mut found = signs(cell);
    let Some((first, _)) = found.first().copied() else {
        return is_value(cell).then(|| parts.push((None, cell)));
    };
    let (before, label) = label_before(cell, first, found.len() == 1);
    let before = before.trim_end_matches(['-', '>', '→', ' ']);
    if !before.is_empty() {
        is_value(before).then(|| parts.push((None, before)))?;
    }
    let mut label = label;
    found.push((cell.len(), cell.len()));
    for pair in found.windows(2) {
        let (start, next) = (pair[0].1, pair[1].0);
        let (value, following) = if next == cell.len() {
            (&cell[start..], "")
        } else {
            let (before, following) = label_before(cell, next, false);
            (&before[start.min(before.len())..], following)
        };
        let value = value.trim();
        is_value(value).then(|| parts.push((Some(label), value)))?;
        label = following;
    }
    Some(())
}

/// Where a sign of a value stands after a label, and where the value begins.
fn signs(cell: &str) -> Vec<(usize, usize)> {
    let named = |before: &str| {
        let name = before.trim_end();
        let last = name.rsplit(' ').next().unwrap_or(name);
        last.starts_with(char::is_alphabetic) && !last.contains(':')
    };
    cell.char_indices()
        .filter(|(at, sign)| matches!(sign, '=' | ':') && named(&cell[..*at]))
        .map(|(at, _)| (at, at + 1))
        .collect()
}

/// What stands before the label that ends at `end`, and the label: one word, or all words where they are the start of the cell.
fn label_before(cell: &str, end: usize, all: bool) -> (&str, &str) {
    let text = cell[..end].trim_end();
    let whole = text
        .chars()
        .all(|letter| !letter.is_ascii_digit() && letter != '>');
    if all && whole {
        return ("", text);
    }
    let start = text.rfind(' ').map_or(0, |at| at + 1);
    (&text[..start], &text[start..])
}

/// Whether a text is a number, with or without a unit, a clock stamp, or a word for nothing.
fn is_value(text: &str) -> bool {
    let cell = text.as_bytes();
    let number = |mark| {
        !matches!(number::value(cell, mark), Value::Text) || number::with_unit(cell, mark).is_some()
    };
    number(Mark::Point) || number(Mark::Comma) || stamp::stamp(cell).is_some()
}
