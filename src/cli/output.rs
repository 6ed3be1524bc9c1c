//! Outputs appear whole or not at all: written to a temporary name beside the target, then moved.
//!
//! A run that was killed leaves its temporary files behind; the next one that writes into the folder takes them away. Each
//! temporary file is locked by the run that writes it, and a lock ends with its process, so that nobody takes away a file of
//! a run that is still at work. Files that belong together are a [`Set`]: all are complete before the first is moved, and two
//! runs at once into one folder wait for one another. A set ends with the list of its digests, so that one of which a kill left
//! half is told apart from a whole one.
//!
//! Nothing takes the place of what is no earlier output of its own [`Kind`], or was read by this run.

mod kind;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, TempPath};

use crate::ingest;
use crate::record::signature;

pub use kind::Kind;

/// An output that could not be written.
#[derive(Debug, thiserror::Error)]
#[error("cannot write {}", path.display())]
pub struct WriteError {
    /// The file or folder that was to be written.
    pub path: PathBuf,
    /// Why.
    #[source]
    pub source: io::Error,
}

impl WriteError {
    /// An output at a path, and why it could not be written.
    #[must_use]
    pub fn new(path: &Path, source: io::Error) -> Self {
        Self {
            path: path.to_owned(),
            source,
        }
    }
}

/// A file being written under a temporary name; [`Draft::publish`] gives it its own name.
#[derive(Debug)]
pub struct Draft {
    path: PathBuf,
    kind: Kind,
    file: io::BufWriter<File>,
    place: TempPath,
}

/// What the names of temporary files start and end with.
const DRAFT: (&str, &str) = (".relent-", ".part");

impl Draft {
    /// Starts an output, so that an unwritable place is noticed before the work. Takes away what killed runs left there.
    ///
    /// # Errors
    /// [`WriteError`] if something else lies there, or the folder does not exist or cannot be written to.
    pub fn create(path: &Path, kind: Kind) -> Result<Self, WriteError> {
        let failed = |source| WriteError::new(path, source);
        let folder = folder_of(path);
        kind.may_be(path).map_err(failed)?;
        clear(folder);
        let mut builder = Builder::new();
        builder.prefix(DRAFT.0).suffix(DRAFT.1);
        #[cfg(unix)]
        let builder = {
            use std::os::unix::fs::PermissionsExt;
            builder.permissions(fs::Permissions::from_mode(0o666))
        };
        loop {
            let (file, place) = builder.tempfile_in(folder).map_err(failed)?.into_parts();
            // Where nothing can be locked, nothing is taken away either.
            let _ = file.lock();
            // Between its making and its lock another run may have taken it for one that was left behind.
            if place.exists() {
                return Ok(Self {
                    path: path.to_owned(),
                    kind,
                    file: io::BufWriter::new(file),
                    place,
                });
            }
        }
    }

    /// Moves the finished output to its name.
    ///
    /// # Errors
    /// [`WriteError`] if the last bytes cannot be written or the move fails; nothing is left behind then.
    pub fn publish(self) -> Result<(), WriteError> {
        let finished = self.finish()?;
        let folder = folder_of(&finished.path).to_owned();
        finished.publish()?;
        keep(&folder);
        Ok(())
    }

    /// Everything on the disk, still under the temporary name.
    fn finish(self) -> Result<Finished, WriteError> {
        let Self {
            path,
            kind,
            file,
            place,
        } = self;
        let failed = |source| WriteError::new(&path, source);
        let file = file
            .into_inner()
            .map_err(|error| failed(error.into_error()))?;
        file.sync_all().map_err(failed)?;
        Ok(Finished {
            path,
            kind,
            place,
            _lock: file,
        })
    }
}

impl Write for Draft {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

/// A complete output that does not have its name yet.
#[derive(Debug)]
struct Finished {
    path: PathBuf,
    kind: Kind,
    place: TempPath,
    _lock: File,
}

impl Finished {
    /// Whether it may still have its name: files are read, and written by others, while an output is made.
    fn may_be(&self) -> Result<(), WriteError> {
        let may_be = self.kind.may_be(&self.path);
        may_be.map_err(|source| WriteError::new(&self.path, source))
    }

    fn publish(self) -> Result<(), WriteError> {
        self.may_be()?;
        let moved = match self.kind {
            Kind::Once => self.place.persist_noclobber(&self.path),
            _ => self.place.persist(&self.path),
        };
        moved.map_err(|error| WriteError::new(&self.path, error.error))
    }
}

/// The right to write into a folder; it ends with this value, or with the process.
#[derive(Debug)]
pub struct Claim {
    _lock: Option<File>,
}

impl Claim {
    /// The right to write into a folder, as soon as no other run has it.
    #[must_use]
    pub fn wait(folder: &Path) -> Self {
        let lock = lock_of(folder).ok().filter(|file| file.lock().is_ok());
        Self { _lock: lock }
    }

    /// The right to write into a folder; `None` while another run has it.
    #[must_use]
    pub fn take(folder: &Path) -> Option<Self> {
        let Ok(file) = lock_of(folder) else {
            return Some(Self { _lock: None });
        };
        match file.try_lock() {
            Ok(()) => Some(Self { _lock: Some(file) }),
            Err(TryLockError::WouldBlock) => None,
            Err(TryLockError::Error(_)) => Some(Self { _lock: None }),
        }
    }
}

/// What is locked for a folder: the folder itself where that can be opened.
fn lock_of(folder: &Path) -> io::Result<File> {
    #[cfg(unix)]
    return File::open(folder);
    #[cfg(not(unix))]
    return File::create(folder.join(".relent-lock"));
}

/// Files of one folder that belong together.
#[derive(Debug)]
pub struct Set {
    folder: PathBuf,
    /// Name of the list of their digests.
    list: Option<&'static str>,
    digests: BTreeMap<String, String>,
    finished: Vec<Finished>,
    gone: Vec<PathBuf>,
    _claim: Claim,
}

impl Set {
    /// A set of files for a folder, with the list of their digests under this name. Waits until no other run writes a set there.
    #[must_use]
    pub fn begin(folder: &Path, list: &'static str) -> Self {
        Self {
            list: Some(list),
            ..Self::under(folder, Claim::wait(folder))
        }
    }

    /// A set of files for a folder that is claimed already; the last of them is one that lists the digests of the others.
    #[must_use]
    pub fn under(folder: &Path, claim: Claim) -> Self {
        Self {
            folder: folder.to_owned(),
            list: None,
            digests: BTreeMap::new(),
            finished: Vec::new(),
            gone: Vec::new(),
            _claim: claim,
        }
    }

    /// Adds a file of this name.
    ///
    /// # Errors
    /// [`WriteError`] if it cannot be written; then no file of the set is.
    pub fn add(&mut self, name: &str, kind: Kind, bytes: &[u8]) -> Result<(), WriteError> {
        let mut draft = self.draft(name, kind)?;
        draft
            .write_all(bytes)
            .map_err(|source| WriteError::new(&self.folder.join(name), source))?;
        self.holds(name, bytes);
        self.add_draft(draft)
    }

    /// Lists a file that lies there already, with these bytes, and belongs to the set.
    pub fn holds(&mut self, name: &str, bytes: &[u8]) {
        self.digests.insert(name.to_owned(), ingest::sha256(bytes));
    }

    /// Starts a file of this name, to be written piece by piece and then added.
    ///
    /// # Errors
    /// As [`Draft::create`].
    pub fn draft(&self, name: &str, kind: Kind) -> Result<Draft, WriteError> {
        Draft::create(&self.folder.join(name), kind)
    }

    /// Adds a file that was written piece by piece.
    ///
    /// # Errors
    /// [`WriteError`] if its last bytes cannot be written.
    pub fn add_draft(&mut self, draft: Draft) -> Result<(), WriteError> {
        self.finished.push(draft.finish()?);
        Ok(())
    }

    /// Takes a file of this name away that an earlier run wrote and this one does not.
    ///
    /// # Errors
    /// [`WriteError`] if what lies there is no earlier output of this kind.
    pub fn without(&mut self, name: &str, kind: Kind) -> Result<(), WriteError> {
        let path = self.folder.join(name);
        kind.may_be(&path)
            .map_err(|source| WriteError::new(&path, source))?;
        self.gone.push(path);
        Ok(())
    }

    /// Gives all files their names, in the order in which they were added, and the list of their digests last.
    ///
    /// # Errors
    /// [`WriteError`] if a move fails.
    pub fn publish(mut self) -> Result<(), WriteError> {
        if let Some(list) = self.list {
            let text = digest_list(&self.digests);
            self.add(list, Kind::Digests, text.as_bytes())?;
        }
        for finished in &self.finished {
            finished.may_be()?;
        }
        let list = self.list.and_then(|_| self.finished.pop());
        for finished in self.finished {
            finished.publish()?;
        }
        for path in &self.gone {
            remove(path)?;
        }
        if let Some(list) = list {
            list.publish()?;
        }
        keep(&self.folder);
        Ok(())
    }
}

/// Digests and names as `sha256sum --check` reads them. A signature is not listed: it proves itself, and a record may be signed again.
fn digest_list(digests: &BTreeMap<String, String>) -> String {
    let mut list = String::new();
    let listed = |(name, _): &(&String, &String)| !name.ends_with(signature::ENDING);
    for (name, digest) in digests.iter().filter(listed) {
        let _ = writeln!(list, "{digest}  {name}");
    }
    list
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Takes away temporary files whose run has ended.
fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let ours = name
            .to_str()
            .is_some_and(|name| name.starts_with(DRAFT.0) && name.ends_with(DRAFT.1));
        let is_file = || entry.file_type().is_ok_and(|kind| kind.is_file());
        if ours
            && is_file()
            && let Ok(file) = File::open(entry.path())
            && file.try_lock().is_ok()
        {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Asks the system to keep the names in a folder through a loss of power. Not every system can; the files are whole anyway.
fn keep(folder: &Path) {
    #[cfg(unix)]
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    #[cfg(not(unix))]
    let _ = folder;
}

/// Writes a whole file.
///
/// # Errors
/// [`WriteError`], with the old content untouched.
pub fn write_whole(path: &Path, kind: Kind, bytes: &[u8]) -> Result<(), WriteError> {
    let mut draft = Draft::create(path, kind)?;
    draft
        .write_all(bytes)
        .map_err(|source| WriteError::new(path, source))?;
    draft.publish()
}

/// Takes away a file; one that is not there is no fault.
fn remove(path: &Path) -> Result<(), WriteError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(WriteError::new(path, error)),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Makes a folder with all its parents.
///
/// # Errors
/// [`WriteError`] if it cannot be made.
pub fn make_folder(path: &Path) -> Result<(), WriteError> {
    fs::create_dir_all(path).map_err(|source| WriteError::new(path, source))
}
