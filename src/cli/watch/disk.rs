//! What the disk says of files: sizes, times of change, listings, and bytes that did not change while they were read.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::looks::Stamp;

/// The stamps of files; one that is not there has none.
pub(super) fn stamps(files: &[PathBuf]) -> Vec<(String, Stamp)> {
    let stamps = files
        .iter()
        .filter_map(|file| Some((file.display().to_string(), stamp(&fs::metadata(file).ok()?))));
    stamps.collect()
}

fn stamp(metadata: &fs::Metadata) -> Stamp {
    Stamp {
        size: metadata.len(),
        changed: metadata.modified().ok(),
    }
}

/// The files below a folder with their stamps, by their names from it, in the order of the names. A file that goes away during the
/// look is left out.
///
/// # Errors
/// Those of the system for a folder, or one below it, that cannot be listed.
pub(super) fn listing(folder: &Path) -> io::Result<Vec<(String, Stamp)>> {
    let mut found = Vec::new();
    for entry in WalkDir::new(folder) {
        let looked = entry.and_then(|entry| Ok((entry.metadata()?, entry)));
        let (metadata, entry) = match looked {
            Ok(looked) => looked,
            Err(error) if error.depth() > 0 && is_gone(&error) => continue,
            Err(error) => return Err(error.into()),
        };
        let inner = entry.path().strip_prefix(folder);
        if let (Ok(name), true) = (inner, metadata.is_file()) {
            found.push((
                name.display().to_string().replace('\\', "/"),
                stamp(&metadata),
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

/// The bytes of a file that had a stamp before and has it still after it was read; `None` where it has another one.
pub(super) fn whole(path: &Path, before: Stamp) -> io::Result<Option<Vec<u8>>> {
    let bytes = fs::read(path)?;
    let after = stamp(&fs::metadata(path)?);
    let same = after == before && bytes.len() as u64 == before.size;
    Ok(same.then_some(bytes))
}
