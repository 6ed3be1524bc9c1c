//! Finding the limit profile that a user or a gate file names.

use std::path::Path;

use crate::cli::stop::Stop;
use crate::limits::{self, Profile};
use crate::record::held::HeldText;
use crate::record::input;

/// A profile with the texts that it was read from.
pub struct Found {
    /// The profile.
    pub profile: Profile,
    /// Its own text.
    pub text: HeldText,
    /// The text of the profile on the shelf that an overlay extends.
    pub extends: Option<HeldText>,
}

/// Whether a profile of this name is a file of the user's own.
pub fn is_file(name: &str) -> bool {
    Path::new(name)
        .extension()
        .is_some_and(|ending| ending == "toml")
}

/// The profile of this name: a file of the user's own where the name ends in `.toml`, sought from `folder`; else one of the
/// shelf.
pub fn find(name: &str, folder: &Path) -> Result<Profile, Stop> {
    Ok(find_with_text(name, folder)?.profile)
}

/// As [`find`], with the texts.
pub fn find_with_text(name: &str, folder: &Path) -> Result<Found, Stop> {
    if !is_file(name) {
        return Ok(Found {
            profile: limits::profile(name)?,
            text: HeldText::new(name, limits::source(name)?),
            extends: None,
        });
    }
    let path = folder.join(name);
    let text = input::text(&path, input::MOST_OF_A_TEXT)
        .map_err(|error| Stop::unreadable(&path, &error))?;
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
