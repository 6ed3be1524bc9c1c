//! What the disk says of files: sizes, times of change, listings.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::cli::complaint::Complaint;
use crate::visit::input;
use crate::visit::whole::Stamp;

/// The stamps of files; one that is not there has none.
pub(super) fn stamps(files: &[PathBuf]) -> Vec<(String, Stamp)> {
    let stamps = files.iter().filter_map(|file| {
        Some((
            file.display().to_string(),
            Stamp::of(&fs::metadata(file).ok()?),
        ))
    });
    stamps.collect()
}

/// What is below a folder and no folder, with its stamps, by its name from it, links followed, in the order of the names. A file that goes away during the
/// look is left out.
///
/// # Errors
/// Those of the system for a folder, or one below it, that cannot be listed.
pub(super) fn listing(folder: &Path) -> io::Result<Vec<(String, Stamp)>> {
    let mut found = Vec::new();
    for entry in WalkDir::new(folder).follow_links(true) {
        let looked = entry.and_then(|entry| Ok((entry.metadata()?, entry)));
        let (metadata, entry) = match looked {
            Ok(looked) => looked,
            Err(error) if error.depth() > 0 && is_gone(&error) => continue,
            Err(error) => return Err(input::of_the_system(error)),
        };
        let inner = entry.path().strip_prefix(folder);
        if let (Ok(name), false) = (inner, metadata.is_dir()) {
            found.push((
                name.display().to_string().replace('\\', "/"),
                Stamp::of(&metadata),
            ));
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    Ok(found)
}

fn is_gone(error: &walkdir::Error) -> bool {
    let kind = error.io_error().map(io::Error::kind);
    kind == Some(io::ErrorKind::NotFound)
}

/// Why the folder of the logs cannot be listed, in a line.
pub(super) fn unlisted(folder: &Path, error: &io::Error) -> String {
    let shown = folder.display();
    if error.kind() == io::ErrorKind::NotFound {
        return format!(
            "{shown}: this folder, which the gate file names as [logs] folder, is not there: logs are read as soon as it is"
        );
    }
    Complaint::of_file("read", &shown.to_string(), error).line()
}
