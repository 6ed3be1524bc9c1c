//! The gate folders of a tree.

use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use crate::cli::stop::Stop;
use crate::visit::{GATE_FILE, input};

/// A folder of the tree.
pub(super) struct Place {
    /// Its path.
    pub(super) path: PathBuf,
    /// Its name in the tables: from the tree, with `/` between the parts.
    pub(super) name: String,
    /// Why it cannot be looked at, where it cannot.
    pub(super) trouble: Option<String>,
}

/// Every folder below the tree that holds a gate file, and every folder that cannot be listed, in the order of their names;
/// the folder of the outputs is left out.
///
/// # Errors
/// [`Stop`] if the tree itself cannot be listed.
pub(super) fn gate_folders(tree: &Path, out: &Path) -> Result<Vec<Place>, Stop> {
    let kind = std::fs::metadata(tree).map_err(|error| Stop::unreadable(tree, &error))?;
    if !kind.is_dir() {
        return Err(Stop::because(
            format_args!(
                "{} is a file: expected a folder with gate folders below it",
                tree.display()
            ),
            "give the folder above them; `relent assess` takes a single gate",
        ));
    }
    let out = std::fs::canonicalize(out).ok();
    let is_output = |entry: &DirEntry| {
        let same_name = out
            .as_ref()
            .is_some_and(|out| out.file_name() == Some(entry.file_name()));
        entry.file_type().is_dir()
            && entry.depth() > 0
            && same_name
            && std::fs::canonicalize(entry.path()).ok() == out
    };
    let mut found = Vec::new();
    for entry in WalkDir::new(tree)
        .follow_links(true)
        .into_iter()
        .filter_entry(|entry| !is_output(entry))
    {
        match entry {
            Ok(entry) if !entry.file_type().is_dir() && entry.file_name() == GATE_FILE => {
                let folder = entry.path().parent().unwrap_or(tree);
                found.push(Place::new(tree, folder, None));
            }
            Ok(_) => {}
            Err(error) => {
                let path = error.path().unwrap_or(tree).to_owned();
                let why = input::of_the_system(error);
                if path == tree {
                    return Err(Stop::unreadable(tree, &why));
                }
                let why = format!("cannot read {}: {why}", path.display());
                found.push(Place::new(tree, &path, Some(why)));
            }
        }
    }
    found.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(found)
}

impl Place {
    fn new(tree: &Path, folder: &Path, trouble: Option<String>) -> Self {
        let inner = folder.strip_prefix(tree).unwrap_or(folder);
        let parts: Vec<_> = inner
            .components()
            .map(|part| part.as_os_str().to_string_lossy())
            .collect();
        let name = if parts.is_empty() {
            ".".to_owned()
        } else {
            parts.join("/")
        };
        // Two names that are no text could read alike in the tables and in the journal.
        let no_text = || {
            inner
                .to_str()
                .is_none()
                .then(|| "its name is not UTF-8: rename it".to_owned())
        };
        Self {
            path: folder.to_owned(),
            name,
            trouble: trouble.or_else(no_text),
        }
    }
}
