//! What ends a command before its work is done: complaints, each with its hint.

mod visit;

use std::fmt;
use std::io;
use std::path::Path;

use crate::cli::complaint::Complaint;
use crate::cli::logs::ListError;
use crate::cli::output::WriteError;
use crate::ingest::Foreign;
use crate::limits::ProfileError;
use crate::visit::VisitError;

/// Why a command could not do its work.
#[derive(Debug)]
pub struct Stop(pub Vec<Complaint>);

impl Stop {
    /// A stop for one reason, with what helps.
    pub fn because(what: impl fmt::Display, help: impl Into<String>) -> Self {
        Self(vec![Complaint::error(what).help(help)])
    }

    /// An error that no input is known to cause.
    pub fn fault(error: impl std::error::Error) -> Self {
        Self::because(error, "internal error: please report it")
    }

    /// A file that could not be read.
    pub fn unreadable(path: &Path, error: &io::Error) -> Self {
        Self(vec![Complaint::of_file(
            "read",
            &path.display().to_string(),
            error,
        )])
    }

    /// A folder, or something below it, that could not be looked through.
    pub fn unlisted(folder: &Path, error: walkdir::Error) -> Self {
        VisitError::unlisted(folder, error).into()
    }
}

impl From<Complaint> for Stop {
    fn from(complaint: Complaint) -> Self {
        Self(vec![complaint])
    }
}

impl From<Vec<Complaint>> for Stop {
    fn from(complaints: Vec<Complaint>) -> Self {
        Self(complaints)
    }
}

impl From<WriteError> for Stop {
    fn from(error: WriteError) -> Self {
        Complaint::of_file("write", &error.path.display().to_string(), &error.source).into()
    }
}

impl From<ListError> for Stop {
    fn from(error: ListError) -> Self {
        Self::unreadable(&error.path, &error.source)
    }
}

impl From<ProfileError> for Stop {
    fn from(error: ProfileError) -> Self {
        let help = match &error {
            ProfileError::Unknown { .. } => {
                "`relent limits` lists the profiles; a profile of your own is named by its file, ending in .toml"
            }
            _ => "`relent limits show en12453-2017 --toml` prints a profile to compare with",
        };
        Self::because(error, help)
    }
}

/// A log that was refused, with its name.
pub fn of_log(path: &Path, bytes: &[u8], error: &impl std::error::Error) -> Complaint {
    let help = match Foreign::of(bytes) {
        Some(format) => match format {
            Foreign::Tdms => "export time and force as CSV, for example with npTDMS in Python",
            Foreign::Mat | Foreign::Hdf5 => {
                "export time and force as CSV, for example with SciPy or h5py in Python"
            }
            Foreign::Mdf => "export time and force as CSV, for example with asammdf in Python",
            Foreign::Xls | Foreign::Ods => "save it in a spreadsheet program as .xlsx or as .csv",
        },
        None => "`relent read` shows what is understood of a log; the log itself is never changed",
    };
    Complaint::error(format_args!("{}: {error}", path.display())).help(help)
}
