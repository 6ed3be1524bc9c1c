//! Working a visit out again: the texts that were read, the logs on the disk.

use std::io;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use walkdir::WalkDir;

use super::body::Body;
use super::held::{Sources, from_hexadecimal};
use super::input;
use super::knows::Knows;
use crate::gate::names::{self, PlacedLog};
use crate::gate::{self, GateFile};
use crate::ingest::{self, Answers};
use crate::limitation::Limitation;
use crate::limits::{self, Profile};
use crate::readiness::{self, Check};
use crate::visit::{self, Assessment, EarlierLog, Hit, Log};

/// Everything that a visit is worked out from.
#[derive(Clone, Debug)]
pub struct Case {
    /// The gate file.
    pub gate: GateFile,
    /// The limit profile.
    pub profile: Profile,
    /// What the recipe answers for the logs.
    pub answers: Answers,
    /// The logs of earlier visits.
    pub earlier: Vec<EarlierLog>,
    /// The checks before the gate is driven.
    pub checks: Vec<Check>,
    /// The folder of the logs.
    pub folder: PathBuf,
    /// Which log holds which hit.
    pub placed: Vec<PlacedLog>,
}

/// A log of a case: where it was held, and the hit, or why its file could not be read.
pub type ReadLog = (PlacedLog, Result<Hit, io::Error>);

/// What is read at the same time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// The logs of this case: it is the only one.
    Logs,
    /// Nothing: other cases are worked out at the same time, and each keeps one log in memory.
    Cases,
}

/// Why a record that is as it was sealed cannot be worked out again by this version.
#[derive(Debug, thiserror::Error)]
pub enum CaseError {
    /// The gate file in it.
    #[error("the gate file in the record is not of the form that this version reads: {0}")]
    Gate(#[source] gate::GateError),
    /// The profile in it.
    #[error("the profile in the record is not of the form that this version reads: {0}")]
    Profile(#[source] limits::ProfileError),
    /// The recipe in it.
    #[error("the recipe in the record is not of the form that this version reads: {0}")]
    Recipe(#[source] ingest::RecipeError),
    /// The checks in it.
    #[error("the checks in the record are not of the form that this version reads: {0}")]
    Checks(#[source] readiness::CheckError),
    /// The names of its logs.
    #[error("the names of the logs in the record are not placed by this version: {0}")]
    Pattern(#[source] gate::PatternError),
    /// A log of it.
    #[error("a log of the record is not placed by this version: {0}")]
    Place(#[source] names::PlaceProblem),
    /// A path in it.
    #[error(
        "the record leads to {0}, out of the folder that it lies in: only a gate folder that is named may do that"
    )]
    Elsewhere(String),
    /// A digest in it.
    #[error("the digest of {0}, a log of an earlier visit, is none")]
    Earlier(String),
}

impl Case {
    /// The case of a record, with the gate folder where it lies now.
    ///
    /// # Errors
    /// [`CaseError`] for a text that this version does not read.
    pub fn of_record(body: &Body, gate_folder: &Path) -> Result<Self, CaseError> {
        let sources = &body.sources;
        let read = gate::read(sources.gate_file.text.as_bytes()).map_err(CaseError::Gate)?;
        let mut gate = read.file;
        gate.judge.profile.clone_from(&sources.profile.asked);
        let answers = match &sources.recipe {
            Some(recipe) => {
                ingest::from_recipe(&recipe.name, &recipe.text).map_err(CaseError::Recipe)?
            }
            None => Answers::default(),
        };
        let files: Vec<String> = body.logs.iter().map(|log| log.file.clone()).collect();
        Ok(Self {
            profile: profile(sources)?,
            answers,
            earlier: earlier(sources)?,
            checks: checks(sources)?,
            folder: gate.logs_folder(gate_folder),
            placed: placed(&files, &gate)?,
            gate,
        })
    }

    /// Files in the folder of the logs that would be hits, and are none of this case.
    #[must_use]
    pub fn more_logs(&self) -> Vec<String> {
        let Some(section) = &self.gate.logs else {
            return Vec::new();
        };
        let known = |name: &String| self.placed.iter().any(|placed| placed.file == *name);
        let files = WalkDir::new(&self.folder).sort_by_file_name();
        let names: Vec<String> = files
            .into_iter()
            .filter_map(Result::ok)
            .filter(|entry| entry.file_type().is_file())
            .filter_map(|entry| {
                let inner = entry.path().strip_prefix(&self.folder).ok()?;
                Some(inner.display().to_string())
            })
            .filter(|name| !known(name))
            .collect();
        let placed = names::place(&names, section, &self.gate.gate);
        let hits = placed.map_or_else(|_| Vec::new(), |placed| placed.hits);
        hits.into_iter().map(|hit| hit.file).collect()
    }

    /// Reads and measures every log, one of them at a time in memory unless [`Spread::Logs`].
    #[must_use]
    pub fn read(&self, spread: Spread) -> Vec<ReadLog> {
        let one = |placed: &PlacedLog| (placed.clone(), self.hit(placed));
        match spread {
            Spread::Logs => self.placed.par_iter().map(one).collect(),
            Spread::Cases => self.placed.iter().map(one).collect(),
        }
    }

    fn hit(&self, placed: &PlacedLog) -> io::Result<Hit> {
        let log = Log {
            file: placed.file.clone(),
            point: placed.point,
            repeat: placed.repeat,
            bytes: input::bytes(&self.folder.join(&placed.file), input::MOST_OF_A_LOG)?,
        };
        Ok(visit::measure(
            log,
            &self.gate,
            &self.profile,
            &self.answers,
        ))
    }

    /// What follows from the hits.
    #[must_use]
    pub fn conclude(&self, hits: Vec<Hit>) -> Assessment {
        self.under(self.gate.clone(), self.profile.clone(), hits)
    }

    /// What follows from the hits for a build that could find no other limitations than these.
    #[must_use]
    pub fn conclude_knowing(&self, hits: Vec<Hit>, knows: &Knows) -> Assessment {
        let readiness = readiness::readiness(&self.gate, self.checks.clone());
        let known = |limitation: &Limitation| knows.limitation(limitation);
        let (gate, profile) = (self.gate.clone(), self.profile.clone());
        visit::of_hits_knowing(gate, profile, hits, &self.earlier, readiness, &known)
    }

    /// What follows from the same hits under another profile.
    #[must_use]
    pub fn conclude_under(&self, profile: &Profile, logs: &[ReadLog]) -> Assessment {
        let mut gate = self.gate.clone();
        gate.judge.profile.clone_from(&profile.name);
        let read = logs.iter().filter_map(|(placed, hit)| {
            let hit = hit.as_ref().ok()?;
            Some(hit.measured_again(placed.point, &gate, profile))
        });
        let hits = read.collect();
        self.under(gate, profile.clone(), hits)
    }

    fn under(&self, gate: GateFile, profile: Profile, hits: Vec<Hit>) -> Assessment {
        let readiness = readiness::readiness(&gate, self.checks.clone());
        visit::of_hits(gate, profile, hits, &self.earlier, readiness)
    }
}

fn profile(sources: &Sources) -> Result<Profile, CaseError> {
    let held = &sources.profile;
    let extended = held.extends.as_ref().map(|text| text.text.as_str());
    limits::parse_over(&held.text.name, &held.text.text, extended).map_err(CaseError::Profile)
}

fn earlier(sources: &Sources) -> Result<Vec<EarlierLog>, CaseError> {
    let one = |log: &super::held::HeldEarlier| {
        let samples = from_hexadecimal(&log.samples_sha256);
        Ok(EarlierLog {
            log: log.log.clone(),
            samples: samples.ok_or_else(|| CaseError::Earlier(log.log.log.clone()))?,
        })
    };
    sources.earlier.iter().map(one).collect()
}

fn checks(sources: &Sources) -> Result<Vec<Check>, CaseError> {
    let built_in = readiness::built_in();
    match &sources.checks {
        Some(own) => readiness::parse(&own.name, &own.text, built_in).map_err(CaseError::Checks),
        None => Ok(built_in),
    }
}

fn placed(files: &[String], gate: &GateFile) -> Result<Vec<PlacedLog>, CaseError> {
    let Some(section) = &gate.logs else {
        return Ok(Vec::new());
    };
    let mut placed = names::place(files, section, &gate.gate).map_err(CaseError::Pattern)?;
    // A listed log that the record does not have was not there when it was sealed.
    let wrong =
        |problem: &names::PlaceProblem| !matches!(problem, names::PlaceProblem::NotThere { .. });
    match placed.problems.into_iter().find(wrong) {
        Some(problem) => Err(CaseError::Place(problem)),
        None => Ok(std::mem::take(&mut placed.hits)),
    }
}
