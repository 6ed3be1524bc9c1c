//! Which files are meant when a user names files and folders of logs.

use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::visit::input::of_the_system;

/// Endings under which a folder's files are taken for logs. A file that is named itself is always taken.
pub const LOG_ENDINGS: [&str; 12] = [
    "csv", "txt", "tsv", "tab", "dat", "asc", "log", "lvm", "mot", "gz", "zip", "xlsx",
];

/// A file or folder that cannot be listed.
#[derive(Debug, thiserror::Error)]
#[error("cannot read {}", path.display())]
pub struct ListError {
    /// The path as given.
    pub path: PathBuf,
    /// Why.
    #[source]
    pub source: io::Error,
}

/// True for a name that a folder's log would have.
#[must_use]
pub fn looks_like_a_log(path: &Path) -> bool {
    path.extension()
        .and_then(|ending| ending.to_str())
        .is_some_and(|ending| {
            LOG_ENDINGS
                .iter()
                .any(|known| known.eq_ignore_ascii_case(ending))
        })
}

/// The named files, and the logs below the named folders, each folder's in the order of their names; `except` is left out.
///
/// # Errors
/// [`ListError`] for a path that does not exist or a folder that cannot be listed.
pub fn gather(paths: &[PathBuf], except: Option<&Path>) -> Result<Vec<PathBuf>, ListError> {
    let mut found = Vec::new();
    for path in paths {
        let kind = std::fs::metadata(path).map_err(|source| ListError {
            path: path.clone(),
            source,
        })?;
        if !kind.is_dir() {
            found.push(path.clone());
            continue;
        }
        for entry in WalkDir::new(path).follow_links(true).sort_by_file_name() {
            let entry = entry.map_err(|error| {
                let path = error.path().unwrap_or(path).to_owned();
                ListError {
                    path,
                    source: of_the_system(error),
                }
            })?;
            if !entry.file_type().is_dir()
                && looks_like_a_log(entry.path())
                && Some(entry.path()) != except
            {
                found.push(entry.into_path());
            }
        }
    }
    Ok(found)
}
