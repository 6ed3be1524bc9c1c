//! `relent recheck`: do old records still hold? Their bytes, signatures and logs, and every number worked out again.

mod find;
mod json;

#[cfg(feature = "schema")]
pub use json::Line;
mod text;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use clap::Args;
use indicatif::ProgressBar;
use rayon::prelude::*;

use crate::cli::complaint::{self, Complaint};
use crate::cli::exit::Exit;
use crate::cli::measure::{self, Measured};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::ingest::Answers;
use crate::measure::GaugeFacts;
use crate::record::body::Found;
use crate::record::case::{Case, Spread};
use crate::record::reassess::{Reassessed, reassess};
use crate::record::recheck::{self, Checked, RecheckError, Setting, State};
use crate::verdict::Verdict;
use crate::view::MeasuredLog;
use crate::visit::caught;
use crate::visit::{GATE_FILE, Visit, profile};
use find::{Everything, Item};
use text::Details;

/// What the exit status means here.
pub const EXITS: &str = "\
Exit status: 0 everything is as it was sealed and gives the same numbers; 1 something was altered, the gate file was
changed, numbers differ, or under --profile a value is over its limit; 2 the work could not be done; 3 something cannot
be checked any more, was never sealed, lacks the signature that --signers asks for, or is undecided under --profile.

A record that holds says that nobody changed these files since they were sealed, not that the gate is without danger.
Local codes and licensed practice come first.";

/// Things checked before their lines are written: bounds the memory whatever the tree.
const BATCH: usize = 64;

/// The profile under which loose logs are measured unless another is named.
const LOOSE: &str = "en12453-2017";

/// Options of `relent recheck`.
#[derive(Args, Debug)]
pub struct RecheckArgs {
    /// Sealed records, gate folders, logs, or folders to look through for them. Gates and logs without a record are worked out
    /// as they are
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Assess under this limit profile as well, and show which verdicts change and why. Loose logs are measured under it, or
    /// under en12453-2017
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// List of those who may sign, as OpenSSH's allowed_signers file: a record without the signature of one of them does not
    /// hold
    #[arg(long, value_name = "FILE")]
    signers: Option<PathBuf>,
    /// The gate folder of the one record given, where it no longer lies as it did when it was sealed
    #[arg(long, value_name = "FOLDER")]
    gate: Option<PathBuf>,
    /// Print one JSON object a line, one for each thing that was checked
    #[arg(long)]
    json: bool,
}

/// What became of one thing that was given.
pub(super) enum Became {
    /// An unaltered record, compared with the files on the disk.
    Record(Box<Checked>),
    /// A record that is not.
    Broken(RecheckError),
    /// A gate folder without a record.
    Gate(Box<Unsealed>),
    /// A loose log.
    Log(Box<MeasuredLog>),
    /// A loose log that leaves a question open; what answers it.
    Asks(String),
    /// The work could not be done.
    Failed(Vec<Complaint>),
}

/// A gate folder without a record, worked out as it is.
pub(super) struct Unsealed {
    gate: String,
    logs: usize,
    profile: String,
    verdict: Verdict,
    reassessed: Option<Reassessed>,
    logs_folder: PathBuf,
}

/// What is the same for everything that is checked.
struct Task<'a> {
    setting: Setting<'a>,
    profile_name: Option<&'a str>,
    loose: measure::Setting,
}

/// Checks everything; a bad one does not stop the rest.
pub fn run(args: &RecheckArgs) -> Result<Exit, Stop> {
    let found = find::find(&args.paths);
    if found.is_empty() {
        return Err(Stop::because(
            "no record, gate folder or log in what was given",
            "`relent assess GATE --seal` writes a sealed record, record.json, into the folder of the report",
        ));
    }
    if args.gate.is_some() && found.records.len() != 1 {
        let what = format!(
            "--gate needs one record, and {} were given",
            found.records.len()
        );
        return Err(Stop::because(
            what,
            "give the one record whose gate folder it is",
        ));
    }
    if let Some(gate) = &args.gate {
        std::fs::metadata(gate).map_err(|error| Stop::unreadable(gate, &error))?;
    }
    let here = Path::new(".");
    let other = args.profile.as_deref();
    let other = other.map(|name| profile::find(name, here)).transpose()?;
    let loose = match &other {
        Some(profile) => profile.clone(),
        None => profile::find(LOOSE, here)?,
    };
    let signers = args.signers.as_deref().map(signers).transpose()?;
    #[cfg(not(feature = "sign"))]
    let () = signers.unwrap_or_default();
    let task = Task {
        setting: Setting {
            profile: other.as_ref(),
            #[cfg(feature = "sign")]
            signers: signers.as_ref(),
            gate: args.gate.as_deref(),
            spread: if found.is_one() {
                Spread::Logs
            } else {
                Spread::Cases
            },
        },
        profile_name: args.profile.as_deref(),
        loose: measure::Setting {
            answers: Answers::default(),
            profile: loose,
            gauge: GaugeFacts::default(),
        },
    };
    let mut told = Told::new(args, &found);
    told.unreadable(found.unreadable);
    let mut covered = Covered::default();
    in_batches(found.records, &task, &mut told, &mut covered)?;
    let gates = found.gates.into_iter();
    let gates = gates.filter(|item| !covered.gate(&item.path)).collect();
    in_batches(gates, &task, &mut told, &mut covered)?;
    let logs = found.logs.into_iter();
    let logs = logs.filter(|item| !covered.log(&item.path)).collect();
    in_batches(logs, &task, &mut told, &mut covered)?;
    Ok(told.close())
}

fn in_batches(
    items: Vec<Item>,
    task: &Task<'_>,
    told: &mut Told,
    covered: &mut Covered,
) -> Result<(), Stop> {
    for batch in items.chunks(BATCH) {
        let became: Vec<Became> = batch
            .par_iter()
            .with_max_len(1)
            .map(|item| {
                let became = caught("file", || task.check(item)).unwrap_or_else(|fault| {
                    let what = format!("{}: {fault}", item.path.display());
                    Became::Failed(vec![Complaint::error(what)])
                });
                told.progress.inc(1);
                became
            })
            .collect();
        for (item, became) in batch.iter().zip(became) {
            covered.add(&item.path, &became);
            told.tell(&item.path, became)?;
        }
    }
    Ok(())
}

impl Task<'_> {
    fn check(&self, item: &Item) -> Became {
        match item.kind {
            find::Kind::Record => match recheck::recheck(&item.path, &self.setting) {
                Ok(checked) => Became::Record(Box::new(checked)),
                Err(error) => Became::Broken(error),
            },
            find::Kind::Gate => match self.gate(&item.path) {
                Ok(unsealed) => Became::Gate(Box::new(unsealed)),
                Err(Stop(complaints)) => Became::Failed(complaints),
            },
            find::Kind::Log => self.log(&item.path),
        }
    }

    /// A gate folder as it is.
    fn gate(&self, path: &Path) -> Result<Unsealed, Stop> {
        let mut visit = Visit::open(path)?;
        let placed = visit.look()?;
        screen::complain(&complaint::unplaced(&visit.beside));
        let blind = visit.look_back()?;
        let blind: Vec<Complaint> = blind.iter().map(complaint::blind).collect();
        screen::complain(&blind);
        let case = Case { visit, placed };
        let logs_folder = case.visit.logs_folder();
        let logs = case.read(self.setting.spread);
        if let Some((placed, Err(error))) = logs.iter().find(|(_, hit)| hit.is_err()) {
            return Err(Stop::unreadable(&logs_folder.join(&placed.file), error));
        }
        let other = self.setting.profile;
        let other = other.map(|profile| Found::new(&case.conclude_under(profile, &logs)));
        let count = logs.len();
        let hits = logs.into_iter().filter_map(|(_, hit)| hit.ok()).collect();
        let found = Found::new(&case.visit.conclude(hits));
        Ok(Unsealed {
            gate: case.visit.gate.gate.name.clone(),
            logs: count,
            profile: case.visit.profile.name.clone(),
            verdict: found.verdict,
            reassessed: other
                .zip(self.profile_name)
                .map(|(now, name)| reassess(name, &found, &now)),
            logs_folder,
        })
    }

    /// A log without a gate file as it is.
    fn log(&self, path: &Path) -> Became {
        match measure::measure(path, &mut Vec::new(), &self.loose) {
            Measured::Log(log) => Became::Log(log),
            Measured::Asks(answers) => Became::Asks(answers),
            Measured::Refused(complaint) => Became::Failed(vec![complaint]),
        }
    }
}

/// The list of those who may sign.
#[cfg(feature = "sign")]
fn signers(path: &Path) -> Result<crate::record::signature::Signers, Stop> {
    let text = crate::visit::input::text(path, crate::visit::input::MOST_OF_A_TEXT)
        .map_err(|error| Stop::unreadable(path, &error))?;
    crate::record::signature::Signers::read(&text).map_err(|error| {
        let what = format!("{}: {error}", path.display());
        Stop::because(what, text::verify_command(path))
    })
}

/// This build checks no signature.
#[cfg(not(feature = "sign"))]
fn signers(path: &Path) -> Result<(), Stop> {
    Err(Stop::because(
        "this build of relent does not check signatures: it was built without the feature `sign`",
        text::verify_command(path),
    ))
}

/// What records and gate folders account for, so that none is worked out twice.
#[derive(Default)]
struct Covered {
    gates: BTreeSet<PathBuf>,
    logs: BTreeSet<PathBuf>,
}

impl Covered {
    fn add(&mut self, path: &Path, became: &Became) {
        match became {
            Became::Record(checked) => {
                self.gates.insert(real(&checked.gate_folder));
                self.logs.insert(real(&checked.logs_folder));
            }
            // What it was a record of is not known: most likely of the gate in whose folder it lies.
            Became::Broken(_) => {
                let mut above = path.ancestors().skip(1);
                let gate = above.find(|folder| folder.join(GATE_FILE).is_file());
                self.gates.extend(gate.map(real));
            }
            Became::Gate(unsealed) => {
                self.logs.insert(real(&unsealed.logs_folder));
            }
            Became::Log(_) | Became::Asks(_) | Became::Failed(_) => {}
        }
    }

    fn gate(&self, file: &Path) -> bool {
        file.parent()
            .is_some_and(|folder| self.gates.contains(&real(folder)))
    }

    fn log(&self, file: &Path) -> bool {
        let real = real(file);
        real.ancestors().any(|folder| self.logs.contains(folder))
    }
}

/// A path by which the same file is the same.
fn real(path: &Path) -> PathBuf {
    let path = if path.as_os_str().is_empty() {
        Path::new(".")
    } else {
        path
    };
    std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

impl Became {
    /// How it stands.
    pub(super) fn state(&self) -> State {
        match self {
            Self::Record(checked) => checked.state(),
            Self::Broken(error) => error.state(),
            Self::Gate(_) | Self::Log(_) => State::NotSealed,
            Self::Asks(_) => State::CannotBeChecked,
            Self::Failed(_) => State::Failed,
        }
    }

    fn reassessed(&self) -> Option<&Reassessed> {
        match self {
            Self::Record(checked) => checked.reassessed.as_ref(),
            Self::Gate(unsealed) => unsealed.reassessed.as_ref(),
            Self::Broken(_) | Self::Log(_) | Self::Asks(_) | Self::Failed(_) => None,
        }
    }

    fn exit(&self) -> Exit {
        let own = match self.state() {
            State::Same => Exit::Done,
            State::NotSealed | State::CannotBeChecked => Exit::Undecided,
            State::GateFileChanged | State::NumbersDiffer | State::Altered => Exit::Over,
            State::Failed => Exit::Failed,
        };
        let other = self.reassessed().map(|it| Exit::from(it.verdict_now));
        Exit::worst(other.into_iter().chain([own]))
    }
}

/// What was told of so far.
struct Told {
    progress: ProgressBar,
    json: bool,
    exits: Vec<Exit>,
    states: BTreeMap<State, usize>,
    details: Details,
}

impl Told {
    fn new(args: &RecheckArgs, found: &Everything) -> Self {
        Self {
            progress: measure::progress(found.count(), "checked"),
            json: args.json,
            exits: Vec::new(),
            states: BTreeMap::new(),
            details: if found.is_one() {
                Details::Always
            } else {
                Details::WhereNeeded
            },
        }
    }

    fn unreadable(&mut self, complaints: Vec<Complaint>) {
        if !complaints.is_empty() {
            screen::complain(&complaints);
            *self.states.entry(State::Failed).or_default() += complaints.len();
            self.exits.push(Exit::Failed);
        }
    }

    fn tell(&mut self, path: &Path, became: Became) -> Result<(), Stop> {
        self.exits.push(became.exit());
        *self.states.entry(became.state()).or_default() += 1;
        let text = if self.json {
            json::line(path, &became).map_err(Stop::fault)?
        } else {
            text::item(path, &became, self.details)
        };
        self.progress.suspend(|| {
            if self.json {
                screen::data(&text);
            } else {
                screen::print(&text);
            }
            if let Became::Failed(complaints) = &became {
                screen::complain(complaints);
            }
        });
        Ok(())
    }

    fn close(self) -> Exit {
        self.progress.finish_and_clear();
        let count: usize = self.states.values().sum();
        if !self.json && count > 1 {
            screen::print(&text::summary(&self.states));
        }
        Exit::worst(self.exits)
    }
}
