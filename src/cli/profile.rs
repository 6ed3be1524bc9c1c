//! Finding the limit profile that a user or a gate file names.

use std::path::Path;

use crate::cli::stop::Stop;
use crate::limits::{self, Profile};

/// The profile of this name: a file of the user's own where the name ends in `.toml`, sought from `folder`; else one of the
/// shelf.
pub fn find(name: &str, folder: &Path) -> Result<Profile, Stop> {
    if Path::new(name)
        .extension()
        .is_none_or(|ending| ending != "toml")
    {
        return Ok(limits::profile(name)?);
    }
    let path = folder.join(name);
    let text = std::fs::read_to_string(&path).map_err(|error| Stop::unreadable(&path, &error))?;
    Ok(limits::parse(&path.display().to_string(), &text)?)
}
