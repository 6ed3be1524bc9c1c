//! A place in a text.

use std::ops::Range;

/// The most bytes of a line that are shown.
const LONGEST: usize = 4096;

/// A place in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// Bytes of the text.
    pub span: Range<usize>,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl Spot {
    /// The line and column of a stretch of bytes; a stretch past the end means the end.
    #[must_use]
    pub fn new(text: &str, span: Range<usize>) -> Self {
        let start = text.floor_char_boundary(span.start.min(text.len()));
        let end = text.ceil_char_boundary(span.end.clamp(start, text.len()));
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Self {
            span: start..end,
            line: before.matches('\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }

    /// The line of the text on which the stretch begins, without its end; of a very long one the beginning.
    #[must_use]
    pub fn line_of<'t>(&self, text: &'t str) -> &'t str {
        let start = text[..self.span.start].rfind('\n').map_or(0, |at| at + 1);
        let rest = &text[start..];
        let rest = &rest[..rest.floor_char_boundary(LONGEST)];
        rest.split_once('\n').map_or(rest, |(line, _)| line)
    }

    /// The bytes of that line which belong to the stretch.
    #[must_use]
    pub fn in_its_line(&self, line: &str) -> Range<usize> {
        let mut before = line.char_indices().skip(self.column - 1);
        let start = before.next().map_or(line.len(), |(at, _)| at);
        start..(start + self.span.len()).min(line.len())
    }
}
