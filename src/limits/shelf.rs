//! The shelf of built-in profiles, and the reading of a profile's text.

use thiserror::Error;

use super::overlay::Overlay;
use super::profile::Profile;
use super::schema::Document;
use crate::toml_tree::{Fault, Tree};

/// Name and text of every built-in profile.
const SHELF: [(&str, &str); 7] = [
    ("en12453-2017", include_str!("profiles/en12453-2017.toml")),
    ("en12453-2000", include_str!("profiles/en12453-2000.toml")),
    ("en16005-2012", include_str!("profiles/en16005-2012.toml")),
    ("unr107", include_str!("profiles/unr107.toml")),
    ("16cfr1211", include_str!("profiles/16cfr1211.toml")),
    ("bs7036-4-1996", include_str!("profiles/bs7036-4-1996.toml")),
    ("a156.19", include_str!("profiles/a156.19.toml")),
];

/// Why a profile cannot be used.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ProfileError {
    /// No built-in profile has this name.
    #[error("no limit profile {found:?} on the shelf, expected one of {}", names().join(", "))]
    Unknown {
        /// The name given.
        found: String,
    },
    /// The text is no TOML, or a key is unknown, missing or of the wrong kind.
    #[error("{file}, {fault}")]
    Syntax {
        /// File or profile.
        file: String,
        /// What is wrong, and where.
        fault: Box<Fault>,
    },
    /// A key holds something that cannot be right.
    #[error("{file}, line {line}: {key} is {found:?}, expected {expected}")]
    Invalid {
        /// File or profile.
        file: String,
        /// Line, from 1.
        line: usize,
        /// Path of the key.
        key: String,
        /// The text found.
        found: String,
        /// What was expected.
        expected: String,
    },
}

/// Makes errors that say where in a text something is wrong.
pub(super) struct Complaint<'a> {
    file: &'a str,
    text: &'a str,
}

impl Complaint<'_> {
    pub(super) fn at(&self, start: usize, key: &str, found: &str, expected: &str) -> ProfileError {
        ProfileError::Invalid {
            file: self.file.to_owned(),
            line: line_of(self.text, start),
            key: key.to_owned(),
            found: found.to_owned(),
            expected: expected.to_owned(),
        }
    }

    /// At the first line that starts with the key.
    pub(super) fn key(&self, key: &str, found: &str, expected: &str) -> ProfileError {
        let start = self
            .text
            .lines()
            .position(|line| line.trim_start().starts_with(key));
        let line = start.map_or(1, |before| before + 1);
        ProfileError::Invalid {
            file: self.file.to_owned(),
            line,
            key: key.to_owned(),
            found: found.to_owned(),
            expected: expected.to_owned(),
        }
    }

    fn syntax(&self, fault: Fault) -> ProfileError {
        ProfileError::Syntax {
            file: self.file.to_owned(),
            fault: Box::new(fault),
        }
    }
}

fn line_of(text: &str, start: usize) -> usize {
    text.bytes()
        .take(start)
        .filter(|byte| *byte == b'\n')
        .count()
        + 1
}

/// The names of the built-in profiles, in the order of the shelf.
#[must_use]
pub fn names() -> Vec<&'static str> {
    SHELF.iter().map(|(name, _)| *name).collect()
}

/// A built-in profile by its name.
///
/// # Errors
/// [`ProfileError::Unknown`] with the names there are.
pub fn profile(name: &str) -> Result<Profile, ProfileError> {
    let text = source(name)?;
    let place = Complaint { file: name, text };
    read(&place)?.build(&place)
}

/// The text of a profile of the shelf, as a pattern for one of a user's own.
///
/// # Errors
/// [`ProfileError::Unknown`] for a name that is not on the shelf.
pub fn source(name: &str) -> Result<&'static str, ProfileError> {
    let known = SHELF.iter().find(|(known, _)| *known == name);
    known.map(|(_, text)| *text).ok_or_else(|| {
        let found = name.to_owned();
        ProfileError::Unknown { found }
    })
}

/// Reads the text of a profile file: a whole profile, or an overlay that `extends` one of the shelf.
///
/// `file` is what errors call it.
///
/// # Errors
/// [`ProfileError`] with file, line, key, what was found and what was expected.
///
/// # Example
/// ```
/// use relent::limits::{SourceKind, parse};
/// let own = parse("own.toml", r#"
/// extends = "en12453-2017"
///
/// [[confirm]]
/// limit = "static-force"
/// value = 150
/// unit = "N"
/// confirmed_on = "2026-03-02"
/// confirmed_from = "the owner's copy"
/// "#)?;
/// let limit = own.limits.iter().find(|limit| limit.short_name() == "static-force").unwrap();
/// assert_eq!(limit.source, SourceKind::Confirmed);
/// # Ok::<(), relent::limits::ProfileError>(())
/// ```
pub fn parse(file: &str, text: &str) -> Result<Profile, ProfileError> {
    let profile = parse_over(file, text, None)?;
    let of_shelf = names().contains(&&*profile.name);
    if of_shelf && profile.extends.is_none() {
        let place = Complaint { file, text };
        let expected =
            "a name that no profile on the shelf has: nobody may take these limits for its own";
        return Err(place.key("name", &profile.name, expected));
    }
    Ok(profile)
}

/// As [`parse`], but an overlay is laid over this text of the profile that it extends, where one is given, and not over that
/// of the shelf: an old overlay means the profile as it was then.
///
/// # Errors
/// As [`parse`].
pub fn parse_over(file: &str, text: &str, extended: Option<&str>) -> Result<Profile, ProfileError> {
    let place = Complaint { file, text };
    let tree = Tree::first(text).map_err(|fault| place.syntax(fault))?;
    if tree.root().get("extends").is_none() {
        let document = Document::of(&tree).map_err(|fault| place.syntax(fault))?;
        return document.build(&place);
    }
    let overlay = Overlay::of(&tree).map_err(|fault| place.syntax(fault))?;
    let base = &overlay.extends;
    let text = match extended {
        Some(text) => text,
        None => source(base).map_err(|_| {
            let expected = format!("one of {}", names().join(", "));
            place.at(tree.place(&["extends"]).start, "extends", base, &expected)
        })?,
    };
    let document = read(&Complaint { file: base, text })?;
    overlay.lay_over(document, &place)?.build(&place)
}

fn read(place: &Complaint<'_>) -> Result<Document, ProfileError> {
    let document = Tree::first(place.text).and_then(|tree| Document::of(&tree));
    document.map_err(|fault| place.syntax(fault))
}
