//! One line → its cells.

use std::borrow::Cow;

use super::delimiter::Delimiter;

/// The most cells a row may have.
pub(in crate::ingest) const WIDEST: usize = 4096;

/// The longest line, in bytes.
pub(in crate::ingest) const LONGEST_LINE: usize = 1 << 20;

/// The cells of one line, without the quotes around them.
pub(in crate::ingest) type Cells<'a> = Vec<Cow<'a, [u8]>>;

/// Whether every quote of a line was closed on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Quotes {
    Closed,
    Open,
}

/// Splits a line; a quote counts only at the start of a cell, and two of them inside stand for one.
///
/// A quoted cell that is not closed, or that goes on after its closing quote, is taken as it stands.
pub(in crate::ingest) fn split<'a>(
    line: &'a [u8],
    delimiter: Delimiter,
    cells: &mut Cells<'a>,
) -> Quotes {
    cells.clear();
    match delimiter {
        Delimiter::None => {
            let (cell, _, quotes) = cell(line, |_| false);
            cells.push(cell);
            quotes
        }
        Delimiter::Byte(byte) => bytes(line, byte, cells),
        Delimiter::Blanks => blanks(line, cells),
    }
}

fn bytes<'a>(line: &'a [u8], byte: u8, cells: &mut Cells<'a>) -> Quotes {
    let mut rest = line;
    let mut all = Quotes::Closed;
    loop {
        let (found, length, quotes) = cell(rest, |other| other == byte);
        cells.push(found);
        if quotes == Quotes::Open {
            all = Quotes::Open;
        }
        if length >= rest.len() {
            return all;
        }
        rest = &rest[length + 1..];
    }
}

fn blanks<'a>(line: &'a [u8], cells: &mut Cells<'a>) -> Quotes {
    let mut rest = line.trim_ascii();
    let mut all = Quotes::Closed;
    while !rest.is_empty() {
        let (found, length, quotes) = cell(rest, |other| other == b' ' || other == b'\t');
        cells.push(found);
        if quotes == Quotes::Open {
            all = Quotes::Open;
        }
        rest = rest[length.min(rest.len())..].trim_ascii_start();
    }
    all
}

/// The first cell of `rest`, and where it ends: at a byte that parts cells or at the end.
fn cell(rest: &[u8], parts: impl Fn(u8) -> bool) -> (Cow<'_, [u8]>, usize, Quotes) {
    let lead = rest
        .iter()
        .take_while(|byte| matches!(**byte, b' ' | b'\t') && !parts(**byte))
        .count();
    let mut quotes = Quotes::Closed;
    if rest.get(lead) == Some(&b'"') {
        match quoted(&rest[lead..]) {
            Some((inner, length)) => {
                let after = lead + length;
                let blank = rest[after..]
                    .iter()
                    .take_while(|byte| matches!(**byte, b' ' | b'\t') && !parts(**byte))
                    .count();
                let end = after + blank;
                if rest.get(end).is_none_or(|byte| parts(*byte)) {
                    return (inner, end, Quotes::Closed);
                }
            }
            None => quotes = Quotes::Open,
        }
    }
    let end = rest
        .iter()
        .position(|byte| parts(*byte))
        .unwrap_or(rest.len());
    (Cow::Borrowed(rest[..end].trim_ascii()), end, quotes)
}

/// The inside of a line that is one quoted cell.
pub(in crate::ingest) fn whole(line: &[u8]) -> Option<Cow<'_, [u8]>> {
    if !line.starts_with(b"\"") {
        return None;
    }
    let (inner, length) = quoted(line)?;
    (length == line.len()).then_some(inner)
}

/// The inside of a quoted cell and its length with both quotes.
fn quoted(text: &[u8]) -> Option<(Cow<'_, [u8]>, usize)> {
    let mut end = 1;
    let mut doubled = false;
    loop {
        end += memchr::memchr(b'"', &text[end..])?;
        if text.get(end + 1) != Some(&b'"') {
            break;
        }
        doubled = true;
        end += 2;
    }
    let inner = &text[1..end];
    let cell = if doubled {
        Cow::Owned(unescape(inner))
    } else {
        Cow::Borrowed(inner)
    };
    Some((cell, end + 1))
}

fn unescape(inner: &[u8]) -> Vec<u8> {
    let mut plain = Vec::with_capacity(inner.len());
    let mut after_quote = false;
    for byte in inner {
        after_quote = *byte == b'"' && !after_quote;
        if !after_quote {
            plain.push(*byte);
        }
    }
    plain
}

/// A text with a sign for every letter that a terminal would obey and not show; a tab becomes one blank.
///
/// ```
/// use relent::ingest::printable;
/// assert_eq!(printable("Gate\tQuillmere\u{1b}"), "Gate Quillmere\u{fffd}");
/// ```
#[must_use]
pub fn printable(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\t' => ' ',
        letter if letter.is_control() => '\u{fffd}',
        letter => letter,
    };
    text.chars().map(shown).collect()
}

/// A cell as text for a message, shortened.
pub(in crate::ingest) fn shown(cell: &[u8]) -> String {
    const LONGEST: usize = 60;
    let text = String::from_utf8_lossy(&cell[..cell.len().min(4 * LONGEST)]);
    let mut text = printable(&text);
    if let Some((end, _)) = text.char_indices().nth(LONGEST) {
        text.truncate(end);
        text.push('…');
    }
    text
}

/// The lines of a text with their numbers and offsets, without their ends.
pub(in crate::ingest) struct Lines<'a> {
    text: &'a [u8],
    at: usize,
    number: u64,
}

/// One line.
#[derive(Clone, Copy, Debug)]
pub(in crate::ingest) struct Line<'a> {
    /// Number, from 1.
    pub(in crate::ingest) number: u64,
    /// Offset of its first byte.
    pub(in crate::ingest) start: usize,
    /// Its bytes, without the line end.
    pub(in crate::ingest) text: &'a [u8],
}

impl<'a> Lines<'a> {
    /// The lines of `text` from byte `at` on, which is line `number`.
    pub(in crate::ingest) const fn new(text: &'a [u8], at: usize, number: u64) -> Self {
        Self { text, at, number }
    }

    /// Offset of the next line.
    pub(in crate::ingest) const fn offset(&self) -> usize {
        self.at
    }
}

impl<'a> Iterator for Lines<'a> {
    type Item = Line<'a>;

    fn next(&mut self) -> Option<Line<'a>> {
        if self.at >= self.text.len() {
            return None;
        }
        let (start, number) = (self.at, self.number);
        let rest = &self.text[start..];
        let length = memchr::memchr(b'\n', rest).unwrap_or(rest.len());
        self.at = start + length + 1;
        self.number += 1;
        let mut text = &rest[..length];
        while let Some(shorter) = text.strip_suffix(b"\r") {
            text = shorter;
        }
        Some(Line {
            number,
            start,
            text,
        })
    }
}
