//! TOML as people write it: a text as a tree that knows where each value stands, and the reading of it into structs.
//!
//! Every file that a person writes or changes, and every table that the crate carries, is read here: a fault has the line,
//! the column and the path of the value, whatever struct was asked for.

mod fault;
mod node;
mod spot;

use std::cell::Cell;
use std::ops::Range;
use std::ptr;

use serde::de::DeserializeOwned;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use node::{Node, Part, Refusal};

pub use fault::Fault;
pub use spot::Spot;

/// The most faults of one text: finding the line and column of one looks at all that stands before it.
const MOST_FAULTS: usize = 20;

/// A text of TOML and the places of its values.
#[derive(Debug)]
pub struct Tree<'t> {
    text: &'t str,
    root: Spanned<DeValue<'t>>,
}

/// Reads a text into what it should hold.
///
/// # Errors
/// [`Fault`] if the text is no TOML, or has a key or value that does not belong; the first one found.
///
/// # Example
/// ```
/// use std::collections::BTreeMap;
/// let wrong = "[gauge]\nspring_n_per_mm = 500\ncapacity_n = \"much\"\n";
/// let fault = relent::toml_tree::read::<BTreeMap<String, BTreeMap<String, f64>>>(wrong).unwrap_err();
/// assert_eq!(
///     fault.to_string(),
///     "line 3, column 14: gauge.capacity_n: invalid type: string \"much\", expected f64"
/// );
/// ```
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, Fault> {
    Tree::first(text)?.read()
}

impl<'t> Tree<'t> {
    /// The tree of a text.
    ///
    /// # Errors
    /// The [`Fault`]s that could be found in one go, if the text is no TOML; at least one, and the first of many.
    pub fn parse(text: &'t str) -> Result<Self, Vec<Fault>> {
        let (root, errors) = DeTable::parse_recoverable(text);
        if !errors.is_empty() {
            let told = errors.iter().take(MOST_FAULTS);
            let faults = told.map(|error| Fault::syntax(text, error));
            return Err(faults.collect());
        }
        let span = root.span();
        let root = Spanned::new(span, DeValue::Table(root.into_inner()));
        Ok(Self { text, root })
    }

    /// As [`Tree::parse`], but with the first fault only.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn first(text: &'t str) -> Result<Self, Fault> {
        Self::parse(text).map_err(|mut faults| faults.swap_remove(0))
    }

    /// What the text should hold.
    ///
    /// # Errors
    /// [`Fault`] with the place of the first key or value that does not belong.
    pub fn read<T: DeserializeOwned>(&self) -> Result<T, Fault> {
        let reading = Cell::new(Part::Value(&self.root));
        let node = Node::new(&self.root, &reading);
        T::deserialize(node).map_err(|refusal| self.fault(refusal, reading.get()))
    }

    /// The value of the whole text: a table.
    #[must_use]
    pub fn root(&self) -> &DeValue<'t> {
        self.root.get_ref()
    }

    /// The bytes of the value at a path such as `["gauge", "calibrated_on"]`; numbers index lists. Where the path ends
    /// early, those of the innermost part that is there.
    #[must_use]
    pub fn place(&self, path: &[&str]) -> Range<usize> {
        let (mut value, mut span) = (self.root.get_ref(), 0..0);
        for part in path {
            let next = match value {
                DeValue::Table(table) => table.get(*part),
                DeValue::Array(list) => part.parse().ok().and_then(|at: usize| list.get(at)),
                _ => None,
            };
            let Some(next) = next else { break };
            (value, span) = (next.get_ref(), next.span());
        }
        span
    }

    #[cold]
    fn fault(&self, refusal: Refusal, part: Part<'_>) -> Fault {
        let key = path_of(part, &self.root, String::new());
        let span = match part {
            Part::Key(key) => key.span(),
            Part::Value(value) => value.span(),
        };
        Fault::of_form(self.text, key.unwrap_or_default(), refusal.0, span)
    }
}

/// The path of a part of the tree, if it is in or below a value of this path.
fn path_of(part: Part<'_>, value: &Spanned<DeValue<'_>>, path: String) -> Option<String> {
    if matches!(part, Part::Value(wanted) if ptr::eq(wanted, value)) {
        return Some(path);
    }
    match value.get_ref() {
        DeValue::Table(table) => table.iter().find_map(|(key, value)| {
            let path = within(&path, key.get_ref());
            match part {
                Part::Key(wanted) if ptr::eq(wanted, key) => Some(path),
                _ => path_of(part, value, path),
            }
        }),
        DeValue::Array(items) => {
            let mut numbered = items.iter().zip(1..);
            numbered.find_map(|(value, number)| path_of(part, value, item(&path, number)))
        }
        _ => None,
    }
}

/// The path of a key in a section; the path of the whole text is empty.
#[must_use]
pub fn within(section: &str, key: &str) -> String {
    if section.is_empty() {
        key.to_owned()
    } else if section.contains(", item ") {
        format!("{section}, {key}")
    } else {
        format!("{section}.{key}")
    }
}

/// The path of an item of a list, counted from 1.
#[must_use]
pub fn item(list: &str, number: usize) -> String {
    format!("{list}, item {number}")
}
