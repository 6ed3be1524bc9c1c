//! Why a visit cannot be opened or worked out.

use std::io;
use std::path::{Path, PathBuf};

use super::input;
use crate::fact::Fact;
use crate::gate::{GateError, PatternError};
use crate::ingest::RecipeError;
use crate::limits::ProfileError;
use crate::readiness::{AnswerError, CheckError};

/// Why a visit cannot be opened or worked out.
#[derive(Debug, thiserror::Error)]
pub enum VisitError {
    /// A file or folder that cannot be read.
    #[error("{}: {source}", path.display())]
    Unreadable {
        /// The file or folder.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// A folder without a gate file.
    #[error("{}: no gate file in this folder: expected {}", folder.display(), super::GATE_FILE)]
    NoGateFile {
        /// The folder.
        folder: PathBuf,
    },
    /// A gate file with faults.
    #[error("{}: {source}", file.display())]
    Gate {
        /// The gate file.
        file: PathBuf,
        /// The faults.
        source: GateError,
    },
    /// A limit profile that cannot be used.
    #[error(transparent)]
    Profile(#[from] ProfileError),
    /// A recipe that cannot be used.
    #[error(transparent)]
    Recipe(#[from] RecipeError),
    /// A list of checks that cannot be used.
    #[error(transparent)]
    Checks(#[from] CheckError),
    /// Answers of the gate file that are none.
    #[error("{}: readiness.answers: {}", file.display(), codes(errors))]
    Answers {
        /// The gate file.
        file: PathBuf,
        /// The answers.
        errors: Vec<AnswerError>,
    },
    /// A pattern of names that is none.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// Earlier visits of a gate file without a visit.
    #[error("earlier visits are named, but the gate file has no [visit]")]
    NoVisit,
    /// An earlier visit that is the visit itself.
    #[error("{name} is named as an earlier visit, but is this visit itself")]
    EarlierIsItself {
        /// The folder, as it is named.
        name: String,
    },
    /// A log of an earlier visit in a record, without a digest.
    #[error("{0}, a log of an earlier visit, has no SHA-256 digest")]
    EarlierDigest(String),
}

impl VisitError {
    pub(super) fn unreadable(path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        |source| Self::Unreadable { path, source }
    }

    /// A folder, or something below it, that cannot be listed.
    #[must_use]
    pub fn unlisted(folder: &Path, error: walkdir::Error) -> Self {
        Self::Unreadable {
            path: error.path().unwrap_or(folder).to_owned(),
            source: input::of_the_system(error),
        }
    }
}

fn codes(errors: &[AnswerError]) -> String {
    let codes: Vec<String> = errors
        .iter()
        .map(|error| format!("{} ({})", error.name(), error.code()))
        .collect();
    codes.join(", ")
}
