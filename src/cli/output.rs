//! Outputs appear whole or not at all: written to a temporary name beside the target, then moved.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};

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
    file: io::BufWriter<NamedTempFile>,
}

impl Draft {
    /// Starts an output, so that an unwritable place is noticed before the work.
    ///
    /// # Errors
    /// [`WriteError`] if the folder does not exist or cannot be written to.
    pub fn create(path: &Path) -> Result<Self, WriteError> {
        let failed = |source| WriteError::new(path, source);
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        if path.is_dir() {
            return Err(failed(io::Error::from(io::ErrorKind::IsADirectory)));
        }
        let mut builder = Builder::new();
        builder.prefix(".relent-").suffix(".part");
        #[cfg(unix)]
        let builder = {
            use std::os::unix::fs::PermissionsExt;
            builder.permissions(fs::Permissions::from_mode(0o666))
        };
        let file = builder.tempfile_in(folder).map_err(failed)?;
        Ok(Self {
            path: path.to_owned(),
            file: io::BufWriter::new(file),
        })
    }

    /// Moves the finished output to its name.
    ///
    /// # Errors
    /// [`WriteError`] if the last bytes cannot be written or the move fails; nothing is left behind then.
    pub fn publish(self) -> Result<(), WriteError> {
        let Self { path, file } = self;
        let failed = |source| WriteError::new(&path, source);
        let file = file
            .into_inner()
            .map_err(|error| failed(error.into_error()))?;
        file.as_file().sync_all().map_err(failed)?;
        file.persist(&path).map_err(|error| failed(error.error))?;
        Ok(())
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

/// Writes a whole file.
///
/// # Errors
/// [`WriteError`], with the old content untouched.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let mut draft = Draft::create(path)?;
    draft
        .write_all(bytes)
        .map_err(|source| WriteError::new(path, source))?;
    draft.publish()
}

/// Takes away a file that an earlier run wrote and this one does not; one that is not there is no fault.
///
/// # Errors
/// [`WriteError`] if it cannot be taken away.
pub fn remove(path: &Path) -> Result<(), WriteError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(WriteError::new(path, error)),
        Ok(()) | Err(_) => Ok(()),
    }
}

/// Writes a file that must not be there yet.
///
/// # Errors
/// [`WriteError`], also if there is one already; that one is left as it is.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let failed = |source| WriteError::new(path, source);
    let mut file = fs::File::create_new(path).map_err(failed)?;
    file.write_all(bytes).map_err(failed)
}

/// Makes a folder with all its parents.
///
/// # Errors
/// [`WriteError`] if it cannot be made.
pub fn make_folder(path: &Path) -> Result<(), WriteError> {
    fs::create_dir_all(path).map_err(|source| WriteError::new(path, source))
}
