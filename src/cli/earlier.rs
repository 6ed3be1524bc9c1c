//! The logs of earlier visits to a gate: whether a hit of today is a copy of one of them.

use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use crate::cli::complaint::Complaint;
use crate::cli::folder::GateFolder;
use crate::cli::stop::Stop;
use crate::gate::VisitSection;
use crate::ingest::{self, Answers, Outcome};
use crate::limitation::{Original, copy};
use crate::visit::{EarlierLog, Log, caught};

/// Adds folders from the command line to those that the gate file names, so that the record says so.
///
/// # Errors
/// [`Stop`] for a gate file without a visit, which nothing can be earlier than.
pub fn name(folder: &mut GateFolder, more: &[PathBuf]) -> Result<(), Stop> {
    if more.is_empty() {
        return Ok(());
    }
    let Some(visit) = &mut folder.gate.visit else {
        return Err(Stop::because(
            "--earlier is given, but the gate file has no [visit]",
            "add [visit] with its date to the gate file",
        ));
    };
    for path in more {
        // The gate file's folders are relative to itself, those of the command line to where it is given.
        let path = std::path::absolute(path).unwrap_or_else(|_| path.clone());
        visit.earlier.push(path.display().to_string());
    }
    Ok(())
}

/// The digests of all logs of the earlier visits, and a warning for each log that cannot be compared.
///
/// # Errors
/// [`Stop`] for a folder that cannot be opened, or that is the visit itself.
pub fn logs(folder: &GateFolder) -> Result<(Vec<EarlierLog>, Vec<Complaint>), Stop> {
    let named = folder
        .gate
        .visit
        .iter()
        .flat_map(|visit: &VisitSection| &visit.earlier);
    let (mut all, mut warnings) = (Vec::new(), Vec::new());
    for name in named {
        let path = folder.path.join(name);
        if same(&path, &folder.path) {
            return Err(Stop::because(
                format_args!("{name} is named as an earlier visit, and it is this visit itself"),
                "name the folders of earlier visits only",
            ));
        }
        let (found, blind) = of_visit(&path, name)?;
        all.extend(found);
        warnings.extend(blind);
    }
    Ok((all, warnings))
}

fn same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| fs::canonicalize(path).ok();
    real(one).is_some_and(|one| Some(one) == real(other))
}

fn of_visit(path: &Path, name: &str) -> Result<(Vec<EarlierLog>, Vec<Complaint>), Stop> {
    let visit = GateFolder::open(path, None)?;
    let visited_on = visit.gate.visit.as_ref().map(|section| section.date);
    let loaded = visit.load(visit.placed()?.hits)?;
    let digests: Vec<(Option<[u8; 32]>, String)> = loaded
        .into_par_iter()
        .map(|log| {
            let samples = caught("log", || digest(&log, &visit.answers));
            (samples.ok().flatten(), log.file)
        })
        .collect();
    let (mut found, mut blind) = (Vec::new(), Vec::new());
    for (samples, file) in digests {
        let Some(samples) = samples else {
            blind.push(Complaint::warning(format_args!(
                "{file} of the earlier visit in {name} could not be read: whether a hit is a copy of it is not known"
            )));
            continue;
        };
        let log = Original {
            log: file,
            visited_on,
            folder: Some(name.to_owned()),
        };
        found.push(EarlierLog { log, samples });
    }
    Ok((found, blind))
}

fn digest(log: &Log, answers: &Answers) -> Option<[u8; 32]> {
    match ingest::read(&log.bytes, answers).ok()?.outcome {
        Outcome::Read(trace) => Some(copy::digest(&trace)),
        Outcome::Asks(_) => None,
    }
}
