//! What an output is, and whether a file that lies in its place is an earlier one of the same kind.

use std::io;
use std::path::Path;

use crate::view::column::Column;
use crate::visit::input;

/// What an output is.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A page.
    Page,
    /// JSON of the schema `relent.<name>/…`.
    Json(&'static str),
    /// A table as CSV, known by its first columns.
    Table(fn() -> Vec<Column>),
    /// A table as Parquet.
    Parquet,
    /// The digests of the files of a set.
    Digests,
    /// The journal of an archive.
    Journal,
    /// The sealed record of an invented gate. That of a real one is [`Kind::Once`].
    InventedRecord,
    /// What is written once and never written over: gate files, recipes, records, signatures.
    Once,
}

/// Bytes at the start of a file by which its kind is known; the members of JSON stand in any order.
const START: u64 = 4096;

/// Why an output does not get its name.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// It would take the place of what it was made from.
    #[error("it was read by this run, and what is read is never written over")]
    Input,
    /// Something else lies there.
    #[error("the file that lies there is not {0} that relent wrote")]
    Other(&'static str),
    /// It is written once.
    #[error("a file of this name lies there, and such a file is never written over")]
    Once,
}

impl Kind {
    /// Whether an output of this kind may have this name: nothing lies there, or an earlier output of the same kind that this run did
    /// not read.
    ///
    /// # Errors
    /// [`io::ErrorKind::AlreadyExists`] with the [`Refused`]; what is no file there; those of the system.
    pub fn may_be(self, path: &Path) -> io::Result<()> {
        match std::fs::metadata(path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                // A link to nothing is somebody's own all the same.
                return match path.symlink_metadata() {
                    Ok(_) => Err(refused(Refused::Other(self.words()))),
                    Err(_) => Ok(()),
                };
            }
            found => input::regular(&found?)?,
        }
        if input::was_read(path) {
            return Err(refused(Refused::Input));
        }
        if matches!(self, Self::Once) {
            return Err(refused(Refused::Once));
        }
        let most = match self {
            Self::Json(_) => input::MOST_OF_A_RECORD,
            _ => START,
        };
        if self.wrote(&input::start(path, most)?) {
            Ok(())
        } else {
            Err(refused(Refused::Other(self.words())))
        }
    }

    /// What it is called.
    const fn words(self) -> &'static str {
        match self {
            Self::Page => "a page",
            Self::Json(_) => "JSON of this kind",
            Self::Table(_) => "a table of this kind",
            Self::Parquet => "a table as Parquet",
            Self::Digests => "a list of digests",
            Self::Journal => "a journal",
            Self::InventedRecord | Self::Once => "a file of this kind",
        }
    }

    /// Whether a file that starts like this is of this kind.
    fn wrote(self, start: &[u8]) -> bool {
        let holds = |text: &str| memchr::memmem::find(start, text.as_bytes()).is_some();
        match self {
            Self::Page => {
                start.starts_with(b"<!DOCTYPE html>")
                    && holds("<meta name=\"generator\" content=\"relent ")
            }
            Self::Json(name) => start.starts_with(b"{") && holds(&format!("\"relent.{name}/")),
            Self::Table(columns) => {
                let first: Vec<&str> = columns().iter().take(3).map(|it| it.name).collect();
                start.starts_with(first.join(",").as_bytes())
            }
            Self::Parquet => start.starts_with(b"PAR1"),
            Self::Digests | Self::Journal => starts_with_digest(start),
            Self::InventedRecord => start.starts_with(b"{\"body\":{"),
            Self::Once => false,
        }
    }
}

/// A file whose lines start with a digest; one that was cut off within the first is one too.
fn starts_with_digest(start: &[u8]) -> bool {
    let digest = &start[..start.len().min(64)];
    let is_digest = digest
        .iter()
        .all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    is_digest && start.get(64).is_none_or(|byte| *byte == b' ')
}

fn refused(why: Refused) -> io::Error {
    io::Error::new(io::ErrorKind::AlreadyExists, why)
}
