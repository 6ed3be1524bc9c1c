//! Finding the limit profile that a user or a gate file names.

use std::path::Path;

use super::error::VisitError;
use super::input;
use super::sources::HeldText;
use crate::limits::{self, Profile};

/// A profile with the texts that it was read from.
pub(super) struct Found {
    /// The profile.
    pub(super) profile: Profile,
    /// Its own text.
    pub(super) text: HeldText,
    /// The text of the built-in profile that an overlay extends.
    pub(super) extends: Option<HeldText>,
}

/// Whether a profile of this name is a file of the user's own.
#[must_use]
pub fn is_file(name: &str) -> bool {
    Path::new(name)
        .extension()
        .is_some_and(|ending| ending == "toml")
}

/// The profile of this name: a file of the user's own where the name ends in `.toml`, sought from `folder`; else a built-in one.
///
/// # Errors
/// [`VisitError`] for a profile that is not there or cannot be used.
pub fn find(name: &str, folder: &Path) -> Result<Profile, VisitError> {
    Ok(find_with_text(name, folder)?.profile)
}

/// As [`find`], with the texts.
pub(super) fn find_with_text(name: &str, folder: &Path) -> Result<Found, VisitError> {
    if !is_file(name) {
        return Ok(Found {
            profile: limits::profile(name)?,
            text: HeldText::new(name, limits::source(name)?),
            extends: None,
        });
    }
    let path = folder.join(name);
    let text = input::text(&path, input::MOST_OF_A_TEXT).map_err(VisitError::unreadable(&path))?;
    let profile = limits::parse(&path.display().to_string(), &text)?;
    let extended = profile.extends.as_deref();
    let extends = extended
        .map(|name| limits::source(name).map(|text| HeldText::new(name, text)))
        .transpose()?;
    Ok(Found {
        profile,
        text: HeldText::new(name, text),
        extends,
    })
}
