//! Reading files that others may be writing: bytes count only if their file did not change while they were read.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, SystemTime};

use super::input;

/// A file that was changed less than this before it was looked at may change again within the same tick of its clock: two
/// seconds is the coarsest clock of a usual file system (FAT; common knowledge, no source).
pub const TICK: Duration = Duration::from_secs(2);

/// How often a file that changes while it is read is read, before it is given up.
const TRIES: usize = 3;

/// A file that changed every time it was read.
#[derive(Debug, thiserror::Error)]
#[error("changed while being read, {TRIES} times in a row")]
struct Changing;

/// Pause before a fresh file is looked at once more: longer than a tick of the clocks of local disks (milliseconds; common
/// knowledge, no source).
const PAUSE: Duration = Duration::from_millis(20);

/// What the disk says of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Its size in bytes.
    pub size: u64,
    /// When it was changed last, where the file system says so.
    pub changed: Option<SystemTime>,
}

impl Stamp {
    /// The stamp of a file.
    #[must_use]
    pub fn of(metadata: &fs::Metadata) -> Self {
        Self {
            size: metadata.len(),
            changed: metadata.modified().ok(),
        }
    }

    /// Whether a later change could leave the time of change as it is.
    fn is_fresh(self) -> bool {
        let age = self.changed.and_then(|at| at.elapsed().ok());
        age.is_none_or(|age| age < TICK)
    }
}

/// The bytes of a file that had a stamp before and has it still after it was read; `None` where it has another one.
///
/// # Errors
/// Those of the system.
pub fn whole(path: &Path, before: Stamp) -> io::Result<Option<Vec<u8>>> {
    let bytes = input::bytes(path, input::MOST_OF_A_LOG)?;
    let after = Stamp::of(&fs::metadata(path)?);
    let same = after == before && bytes.len() as u64 == before.size;
    Ok(same.then_some(bytes))
}

/// A file that was read, and how it stood then.
struct Held {
    stamp: Stamp,
    bytes: Vec<u8>,
}

impl Held {
    fn take(path: &Path) -> io::Result<Option<Self>> {
        let stamp = Stamp::of(&fs::metadata(path)?);
        let bytes = whole(path, stamp)?;
        Ok(bytes.map(|bytes| Self { stamp, bytes }))
    }

    /// Whether the file is as it was read. One that is fresh is read once more: its times do not tell.
    fn holds(&self, path: &Path) -> io::Result<bool> {
        if self.stamp.is_fresh() {
            return Ok(whole(path, self.stamp)?.as_ref() == Some(&self.bytes));
        }
        Ok(Stamp::of(&fs::metadata(path)?) == self.stamp)
    }
}

/// The bytes of files, in their order, each as it stood at one moment; a file that changed meanwhile is read again, a few times.
///
/// # Errors
/// For each file those of the system, or that it changed every time it was read.
pub fn all(paths: &[PathBuf]) -> Vec<io::Result<Vec<u8>>> {
    let mut held: Vec<io::Result<Option<Held>>> = paths.iter().map(|_| Ok(None)).collect();
    for _ in 0..TRIES {
        for (path, held) in paths.iter().zip(&mut held) {
            if matches!(held, Ok(None)) {
                *held = Held::take(path);
            }
        }
        let fresh = |held: &Option<Held>| held.as_ref().is_none_or(|it| it.stamp.is_fresh());
        if held.iter().flatten().any(fresh) {
            thread::sleep(PAUSE);
        }
        for (path, held) in paths.iter().zip(&mut held) {
            if let Ok(Some(taken)) = held {
                match taken.holds(path) {
                    Ok(true) => {}
                    Ok(false) => *held = Ok(None),
                    Err(error) => *held = Err(error),
                }
            }
        }
        if !held.iter().any(|held| matches!(held, Ok(None))) {
            break;
        }
    }
    let bytes =
        |held: Option<Held>| held.map_or(Err(io::Error::other(Changing)), |it| Ok(it.bytes));
    held.into_iter().map(|held| held.and_then(bytes)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set_time(path: &Path, time: SystemTime) -> io::Result<()> {
        fs::File::options()
            .write(true)
            .open(path)?
            .set_modified(time)
    }

    #[test]
    fn the_bytes_of_files_that_lie_still_come_in_their_order() -> io::Result<()> {
        let home = tempfile::tempdir()?;
        let paths: Vec<PathBuf> = ["b", "a"].map(|name| home.path().join(name)).into();
        let [first, second] = paths.as_slice() else {
            unreachable!("two were named");
        };
        fs::write(first, "one")?;
        fs::write(second, "two")?;
        for (age, fresh) in [
            (SystemTime::now() - 2 * TICK, false),
            (SystemTime::now() + 2 * TICK, true),
        ] {
            set_time(first, age)?;
            assert_eq!(Stamp::of(&fs::metadata(first)?).is_fresh(), fresh);
            let read: Result<Vec<_>, _> = all(&paths).into_iter().collect();
            assert_eq!(read.ok(), Some(vec![b"one".to_vec(), b"two".to_vec()]));
        }
        Ok(())
    }

    #[test]
    fn a_change_that_leaves_size_and_time_as_they_are_is_seen_while_the_file_is_fresh()
    -> io::Result<()> {
        let home = tempfile::tempdir()?;
        let path = home.path().join("log");
        fs::write(&path, "one")?;
        let held = Held {
            stamp: Stamp::of(&fs::metadata(&path)?),
            bytes: b"one".to_vec(),
        };
        assert!(held.holds(&path)?);
        fs::write(&path, "two")?;
        set_time(&path, held.stamp.changed.unwrap_or_else(SystemTime::now))?;
        assert_eq!(Stamp::of(&fs::metadata(&path)?), held.stamp);
        assert!(!held.holds(&path)?);
        Ok(())
    }
}
