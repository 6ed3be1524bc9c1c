//! Where in the text of a gate file something stands.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

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

/// The places of the keys of a gate file.
pub(super) struct Places<'t, 'i> {
    root: &'t DeTable<'i>,
}

impl<'t, 'i> Places<'t, 'i> {
    pub(super) const fn new(root: &'t DeTable<'i>) -> Self {
        Self { root }
    }

    /// The bytes of the value at a path such as `["gauge", "calibrated_on"]`; numbers index lists. Where the path ends
    /// early, those of the innermost part that is there.
    pub(super) fn value(&self, path: &[&str]) -> Range<usize> {
        let mut span = 0..0;
        let mut table = Some(self.root);
        let mut list = None;
        for part in path {
            let next: Option<&Spanned<DeValue<'i>>> = match (table, list) {
                (Some(table), _) => table.get(*part),
                (None, Some(list)) => item(list, part),
                (None, None) => None,
            };
            let Some(value) = next else { break };
            span = value.span();
            table = value.get_ref().as_table();
            list = value.get_ref().as_array();
        }
        span
    }
}

fn item<'a, 'i>(list: &'a toml::de::DeArray<'i>, part: &str) -> Option<&'a Spanned<DeValue<'i>>> {
    list.get(part.parse::<usize>().ok()?)
}
