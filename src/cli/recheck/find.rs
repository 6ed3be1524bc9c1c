//! What there is to check in the paths given: records, gate folders, loose logs.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::cli::complaint::Complaint;
use crate::cli::logs;
use crate::cli::seal::RECORD;
use crate::cli::stop::Stop;
use crate::visit::{GATE_FILE, input};

/// What a file is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Record,
    Gate,
    Log,
}

/// One thing to check.
#[derive(Clone, Debug)]
pub struct Item {
    /// Its file: a record, a gate file, a log.
    pub path: PathBuf,
    /// What it is taken for.
    pub kind: Kind,
}

/// Everything found, each list in the order of the paths given and of the names in them.
#[derive(Debug, Default)]
pub struct Everything {
    /// Sealed records.
    pub records: Vec<Item>,
    /// Gate files.
    pub gates: Vec<Item>,
    /// Logs that lie in no gate folder.
    pub logs: Vec<Item>,
    /// What could not be looked at.
    pub unreadable: Vec<Complaint>,
}

impl Everything {
    /// How many there are to check.
    #[must_use]
    pub fn count(&self) -> usize {
        self.records.len() + self.gates.len() + self.logs.len()
    }

    /// Whether there is nothing, not even something that could not be looked at.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.count() == 0 && self.unreadable.is_empty()
    }

    /// Whether it is one visit or one log, with its record or without.
    #[must_use]
    pub fn is_one(&self) -> bool {
        self.records.len() <= 1
            && self.gates.len() <= 1
            && self.logs.len() <= 1
            && self.count() <= 2
    }

    fn add(&mut self, kind: Kind, path: &Path) {
        let list = match kind {
            Kind::Record => &mut self.records,
            Kind::Gate => &mut self.gates,
            Kind::Log => &mut self.logs,
        };
        list.push(Item {
            path: path.to_owned(),
            kind,
        });
    }
}

/// Looks through the paths. A file that is named itself is taken for what its ending says, whatever its name.
#[must_use]
pub fn find(paths: &[PathBuf]) -> Everything {
    let mut found = Everything::default();
    for path in paths {
        let files = below(path, &mut found.unreadable);
        let folders: BTreeSet<&Path> = files
            .iter()
            .filter(|file| is_named(file, GATE_FILE))
            .filter_map(|file| file.parent())
            .collect();
        let in_a_gate = path.is_dir() && lies_in_a_gate(path);
        for file in &files {
            if let Some(kind) = kind(file, file == path) {
                let gate = in_a_gate || file.ancestors().any(|above| folders.contains(above));
                if kind != Kind::Log || file == path || !(gate || of_a_report(file)) {
                    found.add(kind, file);
                }
            }
        }
    }
    for list in [&mut found.records, &mut found.gates, &mut found.logs] {
        let mut seen = BTreeSet::new();
        list.retain(|item| seen.insert(item.path.clone()));
    }
    found
}

fn below(path: &Path, unreadable: &mut Vec<Complaint>) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in WalkDir::new(path).sort_by_file_name() {
        match entry {
            Ok(entry) if !entry.file_type().is_dir() && entry.path().is_file() => {
                files.push(entry.into_path());
            }
            Ok(entry) if entry.depth() == 0 && !entry.file_type().is_dir() => {
                let regular = entry.path().metadata().and_then(|it| input::regular(&it));
                if let Err(error) = regular {
                    unreadable.extend(Stop::unreadable(path, &error).0);
                }
            }
            Ok(_) => {}
            Err(error) => {
                unreadable.extend(Stop::unlisted(path, error).0);
            }
        }
    }
    files
}

fn kind(file: &Path, named_itself: bool) -> Option<Kind> {
    let ending = file.extension().and_then(|ending| ending.to_str());
    match ending {
        _ if is_named(file, RECORD) => Some(Kind::Record),
        _ if is_named(file, GATE_FILE) => Some(Kind::Gate),
        Some("json") if named_itself => Some(Kind::Record),
        Some("toml") if named_itself => Some(Kind::Gate),
        _ if named_itself || logs::looks_like_a_log(file) => Some(Kind::Log),
        _ => None,
    }
}

fn is_named(file: &Path, name: &str) -> bool {
    file.file_name().is_some_and(|own| own == name)
}

fn lies_in_a_gate(folder: &Path) -> bool {
    let whole = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    whole
        .ancestors()
        .any(|above| above.join(GATE_FILE).is_file())
}

/// A table that relent itself wrote beside a report or a comparison.
fn of_a_report(file: &Path) -> bool {
    let beside = [RECORD, "assessment.json", "compare.json"];
    file.parent()
        .is_some_and(|folder| beside.iter().any(|name| folder.join(name).is_file()))
}
