//! The files that a judgement came from, as they were: how an archive knows that it need not assess a gate again.
//!
//! A file counts as unchanged while its size, its time of change and (on Unix) the time of change of its entry are what they
//! were. That is quick and not proof: a file whose clock was turned back with its size kept is taken for unchanged on systems
//! without the last of the three.

use std::fs::{self, Metadata};
use std::io;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use serde::{Deserialize, Serialize};
use walkdir::WalkDir;

use crate::visit::whole::TICK;

/// Which files a judgement reads: names from the gate folder, or absolute.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Names {
    /// Single files, there or not.
    pub files: Vec<String>,
    /// Folders with everything below them.
    pub folders: Vec<String>,
}

/// Those files as they were.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Inputs {
    names: Names,
    stamps: Vec<Option<Stamp>>,
    /// SHA-256 over names and stamps of the files below each folder.
    folders: Vec<String>,
    newest_ns: i64,
    taken_ns: i64,
}

/// A file as it was: size in bytes, times in ns from 1970.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Stamp {
    bytes: u64,
    modified_ns: i64,
    changed_ns: i64,
}

impl Inputs {
    /// The files as they are now.
    ///
    /// # Errors
    /// [`io::Error`] of a folder that cannot be listed or a file that cannot be looked at; a file that is not there is none.
    pub fn take(gate: &Path, names: Names) -> io::Result<Self> {
        let taken_ns = nanoseconds(SystemTime::now());
        let mut newest_ns = i64::MIN;
        let mut stamps = Vec::with_capacity(names.files.len());
        for name in &names.files {
            let stamp = match fs::metadata(gate.join(name)) {
                Ok(it) => Some(Stamp::of(&it)),
                Err(error) if error.kind() == io::ErrorKind::NotFound => None,
                Err(error) => return Err(error),
            };
            newest_ns = newest_ns.max(stamp.map_or(i64::MIN, |stamp| stamp.modified_ns));
            stamps.push(stamp);
        }
        let mut folders = Vec::with_capacity(names.folders.len());
        for name in &names.folders {
            let (digest, newest) = below(&gate.join(name))?;
            newest_ns = newest_ns.max(newest);
            folders.push(digest);
        }
        Ok(Self {
            names,
            stamps,
            folders,
            newest_ns,
            taken_ns,
        })
    }

    /// Whether the files are still what they were when this was taken; `false` where that cannot be told.
    #[must_use]
    pub fn hold(&self, gate: &Path) -> bool {
        self.settled() && Self::take(gate, self.names.clone()).is_ok_and(|now| self.same(&now))
    }

    /// Whether both saw the same files.
    #[must_use]
    pub fn same(&self, other: &Self) -> bool {
        self.names == other.names && self.stamps == other.stamps && self.folders == other.folders
    }

    /// Whether every file was old enough for its time of change to tell a later change.
    fn settled(&self) -> bool {
        self.newest_ns < self.taken_ns - TICK.as_nanos() as i64
    }
}

impl Stamp {
    fn of(metadata: &Metadata) -> Self {
        Self {
            bytes: metadata.len(),
            modified_ns: metadata.modified().map_or(i64::MAX, nanoseconds),
            changed_ns: changed(metadata),
        }
    }
}

#[cfg(unix)]
fn changed(metadata: &Metadata) -> i64 {
    use std::os::unix::fs::MetadataExt;
    metadata
        .ctime()
        .saturating_mul(1_000_000_000)
        .saturating_add(metadata.ctime_nsec())
}

#[cfg(not(unix))]
fn changed(_: &Metadata) -> i64 {
    0
}

fn nanoseconds(at: SystemTime) -> i64 {
    match at.duration_since(UNIX_EPOCH) {
        Ok(after) => i64::try_from(after.as_nanos()).unwrap_or(i64::MAX),
        Err(before) => -i64::try_from(before.duration().as_nanos()).unwrap_or(i64::MAX),
    }
}

/// Digest of names and stamps of the files below a folder, and the newest of them.
fn below(folder: &Path) -> io::Result<(String, i64)> {
    let mut newest = i64::MIN;
    let mut listing = Vec::new();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let entry = entry?;
        if entry.file_type().is_dir() {
            continue;
        }
        let stamp = Stamp::of(&fs::metadata(entry.path())?);
        newest = newest.max(stamp.modified_ns);
        let inner = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        listing.extend_from_slice(inner.as_os_str().as_encoded_bytes());
        listing.push(0);
        listing.extend_from_slice(&stamp.bytes.to_le_bytes());
        listing.extend_from_slice(&stamp.modified_ns.to_le_bytes());
        listing.extend_from_slice(&stamp.changed_ns.to_le_bytes());
    }
    Ok((crate::ingest::sha256(&listing), newest))
}
