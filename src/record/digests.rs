//! The list of digests that is written last of the files of a report, and holding the files beside it against it.
//!
//! Its form is the one that `sha256sum --check` reads. It tells a report that was written whole from one of which a kill, or
//! somebody, left a part; it is no seal.

use std::io;
use std::path::Path;

use serde::Serialize;

use crate::fact::Fact;
use crate::ingest::sha256;
use crate::visit::input;

/// Name of the list in the folder of a report.
pub const DIGESTS: &str = "report.sha256";

/// A file that is not the one that the list names.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", tag = "code")]
pub enum FileChange {
    /// Its bytes are others.
    Altered {
        /// The file.
        file: String,
    },
    /// It cannot be read.
    Gone {
        /// The file.
        file: String,
        /// What the system says.
        error: String,
    },
    /// The list of digests is none.
    NoList {
        /// The file.
        file: String,
    },
    /// The list does not name it: the files beside it are those of another run.
    NotListed {
        /// The file.
        file: String,
    },
}

impl Fact for FileChange {
    const FAMILY: &'static str = "file-change";
}

/// The files of a report by which a folder is known to hold one.
pub const REPORT: [&str; 3] = ["report.html", "assessment.json", "findings.csv"];

/// What is wrong with the report in a folder, and with one beside which a record of this name lies; nothing where there is no report.
#[must_use]
pub fn changes(folder: &Path, record: Option<&str>) -> Vec<FileChange> {
    let file = DIGESTS.to_owned();
    let gone = |error: io::Error| {
        let (file, error) = (DIGESTS.to_owned(), error.to_string());
        vec![FileChange::Gone { file, error }]
    };
    let text = match input::text(&folder.join(DIGESTS), input::MOST_OF_A_TEXT) {
        Ok(text) => text,
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let alone = REPORT.iter().all(|name| !folder.join(name).exists());
            return if alone { Vec::new() } else { gone(error) };
        }
        Err(error) => return gone(error),
    };
    let Some(listed) = listed(&text) else {
        return vec![FileChange::NoList { file }];
    };
    let changed = listed
        .iter()
        .filter_map(|(digest, file)| change(folder, digest, file));
    let mut changes: Vec<FileChange> = changed.collect();
    if let Some(record) = record
        && !listed.iter().any(|(_, file)| *file == record)
    {
        let file = record.to_owned();
        changes.push(FileChange::NotListed { file });
    }
    changes
}

/// Digests and names of files beside the list; `None` where a line has another form or leads elsewhere.
fn listed(text: &str) -> Option<Vec<(&str, &str)>> {
    let line = |line| {
        let (digest, file): (&str, &str) = str::split_once(line, "  ")?;
        (!file.contains(['/', '\\']) && file != "..").then_some((digest, file))
    };
    text.lines().map(line).collect()
}

fn change(folder: &Path, digest: &str, file: &str) -> Option<FileChange> {
    let name = file.to_owned();
    match input::bytes(&folder.join(file), input::MOST_OF_A_RECORD) {
        Ok(bytes) if sha256(&bytes) == digest => None,
        Ok(_) => Some(FileChange::Altered { file: name }),
        Err(error) => Some(FileChange::Gone {
            file: name,
            error: error.to_string(),
        }),
    }
}
