//! The door through which named files are read: regular files of a bounded size, opened for reading only.
//!
//! What was read is remembered by its identity on the disk, whatever name led to it, so that no output of the same run takes its
//! place.

use std::collections::BTreeSet;
use std::fs::{self, File, FileType, Metadata};
use std::io::{self, ErrorKind, Read};
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use crate::ingest;

/// The most bytes that a log on the disk may have: what a packed one may unpack to.
pub const MOST_OF_A_LOG: u64 = ingest::MOST_UNPACKED;

/// The most bytes of a file that a person writes: gate file, profile, recipe, checks, key, list of signers.
pub const MOST_OF_A_TEXT: u64 = 1 << 20;

/// The most bytes of a sealed record.
pub const MOST_OF_A_RECORD: u64 = 256 << 20;

/// Why a file is not read, though it is there.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
enum Refused {
    #[error("it is {0}, not a file")]
    NotAFile(&'static str),
    #[error("it has {} bytes, more than the {} that are read of such a file", .has, .most)]
    TooLarge { has: u64, most: u64 },
}

/// The bytes of a file.
///
/// # Errors
/// Those of the system; [`ErrorKind::InvalidInput`] for what is no regular file, [`ErrorKind::FileTooLarge`] for one above `most`.
pub fn bytes(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    into(path, most, &mut bytes)?;
    Ok(bytes)
}

/// As [`bytes`], into memory that is used again.
///
/// # Errors
/// As [`bytes`].
pub fn into(path: &Path, most: u64, bytes: &mut Vec<u8>) -> io::Result<()> {
    // Before it is opened: the mere opening of a pipe waits for somebody who writes to it.
    regular(&fs::metadata(path)?)?;
    let file = File::open(path)?;
    let found = file.metadata()?;
    regular(&found)?;
    within(found.len(), most)?;
    remember(&found, path);
    bytes.clear();
    bytes.reserve(usize::try_from(found.len()).unwrap_or_default());
    // A file can grow while it is read, and some of the system's own have no size at all.
    let has = file.take(most + 1).read_to_end(bytes)?;
    within(has as u64, most)
}

/// The first bytes of a file, which is not remembered.
///
/// # Errors
/// As [`bytes`].
pub fn start(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    regular(&fs::metadata(path)?)?;
    let mut bytes = Vec::new();
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// The text of a file.
///
/// # Errors
/// As [`bytes`], and [`ErrorKind::InvalidData`] for what is not UTF-8.
pub fn text(path: &Path, most: u64) -> io::Result<String> {
    let bytes = bytes(path, most)?;
    String::from_utf8(bytes).map_err(|_| io::Error::new(ErrorKind::InvalidData, "it is not UTF-8"))
}

/// Whether a file was read by this run, under this name or another.
#[must_use]
pub fn was_read(path: &Path) -> bool {
    let identity = fs::metadata(path).ok().map(|found| identity(&found, path));
    identity.is_some_and(|identity| read().contains(&identity))
}

/// A file that can be read to its end.
///
/// # Errors
/// [`ErrorKind::IsADirectory`] or [`ErrorKind::InvalidInput`], with what it is instead.
pub fn regular(found: &Metadata) -> io::Result<()> {
    let kind = found.file_type();
    if kind.is_file() {
        return Ok(());
    }
    let error = if kind.is_dir() {
        ErrorKind::IsADirectory
    } else {
        ErrorKind::InvalidInput
    };
    Err(io::Error::new(error, Refused::NotAFile(name(kind))))
}

/// Why a folder cannot be listed, as the system says it: the whole error names the path once more.
#[must_use]
pub fn of_the_system(error: walkdir::Error) -> io::Error {
    let whole = error.to_string();
    error
        .into_io_error()
        .unwrap_or_else(|| io::Error::other(whole))
}

fn within(has: u64, most: u64) -> io::Result<()> {
    if has <= most {
        return Ok(());
    }
    let refused = Refused::TooLarge { has, most };
    Err(io::Error::new(ErrorKind::FileTooLarge, refused))
}

/// What is no file, by name.
#[cfg(unix)]
fn name(kind: FileType) -> &'static str {
    use std::os::unix::fs::FileTypeExt;
    match kind {
        _ if kind.is_dir() => "a folder",
        _ if kind.is_fifo() => "a pipe",
        _ if kind.is_socket() => "a socket",
        _ => "a device",
    }
}

/// What is no file, by name.
#[cfg(not(unix))]
fn name(kind: FileType) -> &'static str {
    if kind.is_dir() {
        "a folder"
    } else {
        "a device"
    }
}

#[cfg(unix)]
type Identity = (u64, u64);

#[cfg(not(unix))]
type Identity = std::path::PathBuf;

/// What makes a file the same under every name.
#[cfg(unix)]
fn identity(found: &Metadata, _: &Path) -> Identity {
    use std::os::unix::fs::MetadataExt;
    (found.dev(), found.ino())
}

/// What makes a file the same under every name.
#[cfg(not(unix))]
fn identity(_: &Metadata, path: &Path) -> Identity {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// The identities of every file that this run has read.
static READ: Mutex<BTreeSet<Identity>> = Mutex::new(BTreeSet::new());

fn read() -> std::sync::MutexGuard<'static, BTreeSet<Identity>> {
    READ.lock().unwrap_or_else(PoisonError::into_inner)
}

fn remember(found: &Metadata, path: &Path) {
    read().insert(identity(found, path));
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may fail")]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_read_up_to_the_bound_and_not_beyond_it() -> io::Result<()> {
        let home = tempfile::tempdir()?;
        let path = home.path().join("log");
        fs::write(&path, "12345")?;
        assert_eq!(bytes(&path, 5)?, b"12345");
        let error = bytes(&path, 4).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::FileTooLarge);
        let said = "it has 5 bytes, more than the 4 that are read of such a file";
        assert_eq!(error.to_string(), said);
        Ok(())
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_file_is_refused_by_name_without_waiting_for_it() -> io::Result<()> {
        let home = tempfile::tempdir()?;
        let pipe = home.path().join("pipe");
        assert!(
            std::process::Command::new("mkfifo")
                .arg(&pipe)
                .status()?
                .success()
        );
        let socket = home.path().join("socket");
        let _listening = std::os::unix::net::UnixListener::bind(&socket)?;
        let told = |path: &Path| bytes(path, 9).unwrap_err().to_string();
        assert_eq!(told(&pipe), "it is a pipe, not a file");
        assert_eq!(told(&socket), "it is a socket, not a file");
        assert_eq!(told(home.path()), "it is a folder, not a file");
        assert_eq!(told(Path::new("/dev/zero")), "it is a device, not a file");
        Ok(())
    }

    #[cfg(unix)]
    #[test]
    fn what_was_read_is_known_under_every_name() -> io::Result<()> {
        let home = tempfile::tempdir()?;
        let [log, hard, soft] = ["log", "hard", "soft"].map(|it| home.path().join(it));
        fs::write(&log, "1")?;
        fs::hard_link(&log, &hard)?;
        std::os::unix::fs::symlink(&log, &soft)?;
        bytes(&soft, 9)?;
        assert!([&log, &hard, &soft].into_iter().all(|path| was_read(path)));
        Ok(())
    }
}
