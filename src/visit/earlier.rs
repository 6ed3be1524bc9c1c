//! The logs of earlier visits to a gate: whether a hit of today is a copy of one of them.

use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::error::VisitError;
use super::sources::HeldEarlier;
use super::{Log, Visit, caught};
use crate::ingest::{self, Answers, Outcome};
use crate::limitation::{EarlierLog, Original, Print};

impl Visit {
    /// Adds folders to the earlier visits that the gate file names, so that what is found says so.
    ///
    /// # Errors
    /// [`VisitError`] for a gate file without a visit, which nothing can be earlier than.
    pub fn add_earlier(&mut self, more: &[PathBuf]) -> Result<(), VisitError> {
        if more.is_empty() {
            return Ok(());
        }
        let visit = self.gate.visit.as_mut().ok_or(VisitError::NoVisit)?;
        for path in more {
            // The gate file's folders are relative to itself, these to where the program runs.
            let path = std::path::absolute(path).unwrap_or_else(|_| path.clone());
            visit.earlier.push(path.display().to_string());
        }
        Ok(())
    }

    /// Reads the logs of the earlier visits; returns those that cannot be read: whether a hit is a copy of one of them is not
    /// known.
    ///
    /// # Errors
    /// [`VisitError`] for a folder that cannot be opened, or that is the visit itself.
    pub fn look_back(&mut self) -> Result<Vec<Original>, VisitError> {
        let (mut all, mut blind) = (Vec::new(), Vec::new());
        for name in self.gate.visit.iter().flat_map(|visit| &visit.earlier) {
            let path = self.path.join(name);
            if same(&path, &self.path) {
                let name = name.clone();
                return Err(VisitError::EarlierIsItself { name });
            }
            for (log, print) in of_visit(&path, name)? {
                match print {
                    Some(print) => all.push(EarlierLog { log, print }),
                    None => blind.push(log),
                }
            }
        }
        self.sources.earlier = all.iter().map(HeldEarlier::new).collect();
        self.earlier = Some(all);
        Ok(blind)
    }
}

fn same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| fs::canonicalize(path).ok();
    real(one).is_some_and(|one| Some(one) == real(other))
}

/// A log with what it is compared by; `None` for one that cannot be read.
type Printed = (Original, Option<Print>);

/// The logs of a visit.
fn of_visit(path: &Path, name: &str) -> Result<Vec<Printed>, VisitError> {
    let visit = Visit::open(path)?;
    let visited_on = visit.gate.visit.as_ref().map(|section| section.date);
    let logs = visit.load(visit.placed()?.hits);
    let prints = logs.into_par_iter().map(|log| {
        let print = caught("log", || print(&log, &visit.answers));
        let log = Original {
            log: log.file,
            visited_on,
            folder: Some(name.to_owned()),
            alike: None,
        };
        (log, print.ok().flatten())
    });
    Ok(prints.collect())
}

fn print(log: &Log, answers: &Answers) -> Option<Print> {
    match ingest::read(log.bytes.as_ref().ok()?, answers)
        .ok()?
        .outcome
    {
        Outcome::Read(trace) => Some(Print::of(&trace)),
        Outcome::Asks(_) => None,
    }
}
