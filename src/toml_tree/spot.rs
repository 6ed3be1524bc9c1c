//! A place in a text.

use std::ops::Range;

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
}
