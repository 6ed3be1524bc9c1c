//! What is wrong with a text of TOML, and where.

use std::fmt;
use std::ops::Range;

use super::Spot;

/// The longest stretch of text that is repeated in a fault, in characters.
const REPEATED: usize = 60;

/// One thing that is wrong with a text of TOML.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub spot: Spot,
    /// Path of the key or value, as `gauge.capacity_n`; empty for the whole text and for a text that is no TOML.
    pub key: String,
    /// What is wrong, on one line.
    pub what: String,
    /// The text found there, where `what` does not say it; empty if there is none.
    pub found: String,
}

impl Fault {
    pub(super) fn syntax(text: &str, error: &toml::de::Error) -> Self {
        let spot = Spot::new(text, error.span().unwrap_or(0..0));
        let line = text[spot.span.clone()].lines().next().unwrap_or_default();
        Self {
            found: line.trim_end().chars().take(REPEATED).collect(),
            key: String::new(),
            what: one_line(error.message()),
            spot,
        }
    }

    pub(super) fn of_form(text: &str, key: String, what: String, span: Range<usize>) -> Self {
        Self {
            spot: Spot::new(text, span),
            key,
            what: one_line(&what),
            found: String::new(),
        }
    }

    /// The path and what is wrong, for where the place is said otherwise.
    #[must_use]
    pub fn without_place(&self) -> String {
        match self {
            Self { key, what, .. } if !key.is_empty() => format!("{key}: {what}"),
            Self { what, found, .. } if !found.is_empty() => format!("{what}, found `{found}`"),
            Self { what, .. } => what.clone(),
        }
    }
}

impl std::error::Error for Fault {}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Spot { line, column, .. } = self.spot;
        write!(f, "line {line}, column {column}: {}", self.without_place())
    }
}

fn one_line(text: &str) -> String {
    text.trim_end().replace('\n', ", ")
}
