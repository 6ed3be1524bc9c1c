//! Working a visit out again: the texts that were read, the logs on the disk.

use std::io;
use std::path::Path;

use rayon::prelude::*;

use super::body::Body;
use super::knows::Knows;
use crate::gate::names::PlacedLog;
use crate::limitation::Limitation;
use crate::limits::Profile;
use crate::visit::{self, Assessment, Beside, Hit, Log, Visit, VisitError, input};

/// A visit, and which of its logs are worked out again.
#[derive(Clone, Debug)]
pub struct Case {
    /// The visit.
    pub visit: Visit,
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
    /// Something in it.
    #[error("this version does not read what the record holds: {0}")]
    Visit(#[from] VisitError),
    /// A path in it.
    #[error(
        "the record leads to {0}, out of the folder that it lies in: only a gate folder that is named may do that"
    )]
    Elsewhere(String),
}

impl Case {
    /// The case of a record, with the gate folder where it lies now.
    ///
    /// # Errors
    /// [`CaseError`] for a text that this version does not read.
    pub fn of_record(body: &Body, gate_folder: &Path) -> Result<Self, CaseError> {
        let mut visit = Visit::of_sources(body.sources.clone(), gate_folder)?;
        let logs = body.logs.iter().map(|log| &log.file);
        let files: Vec<String> = logs.chain(&body.sources.beside).cloned().collect();
        let placed = visit.place(&files)?;
        visit.beside = Beside::of(&placed);
        Ok(Self {
            visit,
            placed: placed.hits,
        })
    }

    /// Files in the folder of the logs that would be hits, and are none of this case.
    #[must_use]
    pub fn more_logs(&self) -> Vec<String> {
        let beside = &self.visit.sources.beside;
        let known = |name: &String| {
            beside.contains(name) || self.placed.iter().any(|placed| placed.file == *name)
        };
        let folder = self.visit.logs_folder();
        let names = visit::entries(&folder).filter_map(Result::ok);
        let names: Vec<String> = names.filter(|name| !known(name)).collect();
        let hits = self.visit.place(&names).unwrap_or_default().hits;
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
        let visit = &self.visit;
        let path = visit.logs_folder().join(&placed.file);
        let bytes = input::bytes(&path, input::MOST_OF_A_LOG)?;
        let log = Log::new(placed.clone(), bytes);
        Ok(visit::measure(
            log,
            &visit.gate,
            &visit.profile,
            &visit.answers,
        ))
    }

    /// What follows from the hits for a build that could find no other limitations than these.
    #[must_use]
    pub fn conclude_knowing(&self, hits: Vec<Hit>, knows: &Knows) -> Assessment {
        let all = knows.is_all();
        let known = |limitation: &Limitation| all || knows.limitation(limitation);
        self.visit.conclude_knowing(hits, &known)
    }

    /// What follows from the same hits under another profile.
    #[must_use]
    pub fn conclude_under(&self, profile: &Profile, logs: &[ReadLog]) -> Assessment {
        let mut gate = self.visit.gate.clone();
        gate.assessment.profile.clone_from(&profile.name);
        let read = logs.iter().filter_map(|(placed, hit)| {
            let hit = hit.as_ref().ok()?;
            Some(hit.measured_again(placed.point, &gate, profile))
        });
        let hits = read.collect();
        self.visit.conclude_under(gate, profile.clone(), hits)
    }
}
