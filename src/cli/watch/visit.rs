//! A gate folder under watch: each look takes in what changed on the disk and says how the visit stands now.

use std::collections::BTreeMap;
use std::io;
use std::path::PathBuf;

use rayon::prelude::*;

use super::disk::{listing, stamps, unlisted};
use super::looks::{Content, Looks};
use crate::cli::complaint::{self, Complaint};
use crate::cli::stop::Stop;
use crate::gate::names::{PlaceProblem, Placed, PlacedLog};
use crate::ingest;
use crate::readiness::CheckState;
use crate::report::live::{Coming, Live, Slow};
use crate::visit::input;
use crate::visit::whole::{Stamp, whole};
use crate::visit::{self, Beside, Hit, Log};
use crate::words::{Language, Words};

/// Looks after which a log that does not lie still is told.
const PATIENCE: u32 = 8;

/// How the folder is opened, at the start and after each change of its gate file.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Gate folder, or a gate file.
    pub gate: PathBuf,
    /// Another profile than the gate file names.
    pub profile: Option<String>,
    /// Folders of earlier visits beside those that the gate file names.
    pub earlier: Vec<PathBuf>,
}

/// All that is read but the logs.
struct Opened {
    folder: visit::Visit,
    remarks: Vec<String>,
}

/// A gate folder under watch.
pub struct Visit {
    asked: Asked,
    opened: Opened,
    /// Looks at the gate file and the files that it names.
    sources: Looks,
    /// The stamps of these files when they were read last.
    read: Vec<(String, Stamp)>,
    source_faults: Vec<String>,
    /// Looks since the gate file was found at fault.
    faulty: u32,
    /// Looks at the folder of the logs.
    looks: Looks,
    names: Vec<String>,
    folder_fault: Option<String>,
    /// Every log that was read, with the stamp it had then.
    hits: BTreeMap<String, (Stamp, Hit)>,
    /// Logs that lie still and cannot be opened.
    unreadable: BTreeMap<String, String>,
    last: Option<String>,
    /// What the last view was made of.
    shown: Option<Shown>,
    /// How often the gate file was read.
    generation: u32,
}

/// What came of reading a log.
enum Read {
    Hit(Stamp, Box<Hit>),
    Fault(String, io::Error),
}

/// What a view is made of: the same again makes the same view.
#[derive(PartialEq)]
struct Shown {
    hits: Vec<(String, Stamp)>,
    coming: Vec<Coming>,
    listed: Vec<PlacedLog>,
    unplaced: Vec<String>,
    faults: Vec<String>,
    generation: u32,
}

impl Visit {
    /// Opens the folder; no log is read yet.
    ///
    /// # Errors
    /// [`Stop`] for a gate file, profile, recipe or earlier visit that cannot be worked with.
    pub fn open(asked: Asked) -> Result<Self, Stop> {
        let opened = open(&asked)?;
        let read = stamps(&opened.folder.files());
        Ok(Self {
            asked,
            opened,
            sources: Looks::default(),
            read,
            source_faults: Vec::new(),
            faulty: 0,
            looks: Looks::default(),
            names: Vec::new(),
            folder_fault: None,
            hits: BTreeMap::new(),
            unreadable: BTreeMap::new(),
            last: None,
            shown: None,
            generation: 0,
        })
    }

    /// The folder as it was opened last.
    #[must_use]
    pub const fn folder(&self) -> &visit::Visit {
        &self.opened.folder
    }

    /// Looks once. `None` where everything stands as at the last look; a fault never ends the watch.
    pub fn look(&mut self) -> Option<Live> {
        self.look_at_sources();
        self.list();
        let placed = self.opened.folder.place(&self.names);
        let placed = placed.unwrap_or_else(|error| {
            self.source_faults = lines(&error.into());
            Placed::default()
        });
        self.read_logs(&placed.hits);
        let view = self.view(&placed);
        if self.shown.as_ref() == Some(&view) {
            return None;
        }
        let mut live = self.live(&view, &placed);
        if live.complete() && !self.are_as_read(&view) {
            // A log was replaced by one of the same size within the clock step of its file system.
            self.read_logs(&placed.hits);
            live = self.live(&self.view(&placed), &placed);
        }
        self.shown = Some(self.view(&placed));
        Some(live)
    }

    /// Reads the gate file again where it, or a file that it names, has changed and lies still.
    fn look_at_sources(&mut self) {
        let now = stamps(&self.opened.folder.files());
        self.sources.look(&now);
        let still = now
            .iter()
            .all(|(name, _)| self.sources.still(name).is_some());
        // A file that the gate file names and that was not there is noticed by trying again.
        self.faulty += u32::from(!self.source_faults.is_empty());
        let again = self.faulty >= PATIENCE;
        if !still || (now == self.read && !again) {
            return;
        }
        self.faulty = 0;
        self.read = now;
        match open(&self.asked) {
            Ok(opened) => {
                self.opened = opened;
                self.read = stamps(&self.opened.folder.files());
                self.source_faults.clear();
                self.hits.clear();
                self.generation += 1;
            }
            Err(stop) => {
                self.source_faults = lines(&stop);
                self.source_faults.push(
                    "the gate file was changed and cannot be worked with: it is still assessed by what stood there before".to_owned(),
                );
            }
        }
    }

    /// Lists the folder of the logs. Where it cannot be listed, what was read from it stands, and the fault is told.
    fn list(&mut self) {
        let folder = self.opened.folder.logs_folder();
        match listing(&folder) {
            Ok(listing) => {
                self.looks.look(&listing);
                self.names = listing.into_iter().map(|(name, _)| name).collect();
                self.folder_fault = None;
            }
            Err(error) => self.folder_fault = Some(unlisted(&folder, &error)),
        }
    }

    /// Reads and measures the logs that lie still and were not read as they are now.
    fn read_logs(&mut self, placed: &[PlacedLog]) {
        let names = &self.names;
        self.hits
            .retain(|name, _| names.binary_search(name).is_ok());
        let fresh = placed.iter().filter(|log| self.taken(&log.file).is_none());
        let fresh: Vec<&PlacedLog> = fresh.collect();
        let read: Vec<Read> = fresh
            .into_par_iter()
            .filter_map(|log| self.read(log))
            .collect();
        let hits = read.iter().filter_map(|read| match read {
            Read::Hit(stamp, hit) => Some((stamp.changed, &hit.file)),
            Read::Fault(..) => None,
        });
        if let Some((_, newest)) = hits.max() {
            self.last = Some(newest.clone());
        }
        self.unreadable.clear();
        for read in read {
            match read {
                Read::Hit(stamp, hit) => {
                    self.hits.insert(hit.file.clone(), (stamp, *hit));
                }
                Read::Fault(file, error) => {
                    self.unreadable.insert(file, error.to_string());
                }
            }
        }
    }

    /// Reads a log and measures it; `None` while it does not lie still.
    fn read(&self, log: &PlacedLog) -> Option<Read> {
        let stamp = self.looks.still(&log.file)?;
        let folder = &self.opened.folder;
        match whole(&folder.logs_folder().join(&log.file), stamp) {
            Ok(bytes) => {
                let log = Log::new(log.clone(), bytes?);
                let hit = visit::measure(log, &folder.gate, &folder.profile, &folder.answers);
                Some(Read::Hit(stamp, Box::new(hit)))
            }
            Err(error) => Some(Read::Fault(log.file.clone(), error)),
        }
    }

    /// The stamp of a log that was read as it is now.
    fn taken(&self, file: &str) -> Option<Stamp> {
        let (read, _) = self.hits.get(file)?;
        self.looks.still(file).filter(|stamp| stamp == read)
    }

    fn view(&self, placed: &Placed) -> Shown {
        let taken = placed
            .hits
            .iter()
            .filter_map(|log| Some((log.file.clone(), self.taken(&log.file)?)));
        let coming = placed
            .hits
            .iter()
            .filter(|log| self.taken(&log.file).is_none());
        let lies_still = |file: &str| self.looks.still(file).is_some();
        let problems = placed.problems.iter().filter(|problem| match problem {
            PlaceProblem::NotThere { .. } => false,
            PlaceProblem::SameHit { .. }
            | PlaceProblem::ListedTwice { .. }
            | PlaceProblem::BeyondLeaf { .. }
            | PlaceProblem::BeyondOpening { .. } => true,
            PlaceProblem::DoesNotFit { file, .. }
            | PlaceProblem::TwoReadings { file, .. }
            | PlaceProblem::HeightUnknown { file, .. }
            | PlaceProblem::NotListed { file } => lies_still(file),
        });
        let problems = problems.map(|problem| complaint::place_problem(problem).line());
        let sources = self.source_faults.iter().cloned();
        Shown {
            hits: taken.collect(),
            coming: coming.map(|log| self.coming(log)).collect(),
            listed: self.listed(placed),
            unplaced: problems.collect(),
            faults: sources
                .chain(self.folder_fault.clone())
                .chain(self.no_logs())
                .collect(),
            generation: self.generation,
        }
    }

    /// A gate file that does not say where the logs are.
    fn no_logs(&self) -> Option<String> {
        let none = self.opened.folder.gate.logs.is_none();
        none.then(|| {
            "the gate file has no [logs]: no log can be read (add [logs] with folder and names)"
                .to_owned()
        })
    }

    fn coming(&self, log: &PlacedLog) -> Coming {
        let slow = match self.looks.restless(&log.file) {
            (looks, Content::None) if looks >= PATIENCE => Some(Slow::Empty),
            (looks, Content::Some) if looks >= PATIENCE => Some(Slow::BeingWritten),
            _ => {
                let error = self.unreadable.get(&log.file).cloned();
                error.map(|error| Slow::Unreadable { error })
            }
        };
        Coming {
            file: log.file.clone(),
            hit: Some((log.point, log.repeat)),
            slow,
        }
    }

    /// Logs that the gate file lists and that are not there.
    fn listed(&self, placed: &Placed) -> Vec<PlacedLog> {
        let logs = self.opened.folder.gate.logs.as_ref();
        let away = |file: &str| {
            let mut problems = placed.problems.iter();
            problems.any(
                |problem| matches!(problem, PlaceProblem::NotThere { file: away } if away == file),
            )
        };
        let listed = logs.into_iter().flat_map(|logs| &logs.list);
        listed
            .map(|listed| (listed.file.replace('\\', "/"), listed))
            .filter(|(file, _)| away(file))
            .map(|(file, listed)| PlacedLog {
                file,
                point: listed.point(),
                repeat: listed.repeat,
            })
            .collect()
    }

    /// Whether every log of a view still has the bytes that were read; one that has not is to be read again.
    fn are_as_read(&mut self, view: &Shown) -> bool {
        let folder = self.opened.folder.logs_folder();
        let changed = |file: &str| {
            let (_, hit) = &self.hits[file];
            input::bytes(&folder.join(file), input::MOST_OF_A_LOG)
                .map_or(true, |bytes| ingest::sha256(&bytes) != hit.sha256)
        };
        let changed: Vec<String> = view
            .hits
            .iter()
            .map(|(file, _)| file.clone())
            .filter(|file| changed(file))
            .collect();
        for file in &changed {
            self.hits.remove(file);
        }
        changed.is_empty()
    }

    fn live(&self, view: &Shown, placed: &Placed) -> Live {
        let Opened { folder, remarks } = &self.opened;
        let hits = view
            .hits
            .iter()
            .filter_map(|(file, _)| Some(self.hits.get(file)?.1.clone()));
        let assessment = folder.conclude(hits.collect());
        Live {
            assessment: assessment.beside(Beside::of(placed)),
            coming: view.coming.clone(),
            listed: view.listed.clone(),
            unplaced: view.unplaced.clone(),
            faults: view.faults.clone(),
            remarks: remarks.clone(),
            last: self.last.clone(),
        }
    }
}

fn lines(stop: &Stop) -> Vec<String> {
    stop.0.iter().map(Complaint::line).collect()
}

fn open(asked: &Asked) -> Result<Opened, Stop> {
    let mut folder = visit::Visit::open_under(&asked.gate, asked.profile.as_deref())?;
    folder.add_earlier(&asked.earlier)?;
    let mut warnings = complaint::odd(&folder);
    let blind = folder.look_back()?;
    warnings.extend(blind.iter().map(complaint::blind));
    let words = Words::of(Language::English);
    let readiness = folder.readiness()?;
    let mut remarks: Vec<String> = warnings.iter().map(Complaint::line).collect();
    remarks.extend(readiness.of(CheckState::NotInOrder).map(|checked| {
        format!(
            "not in order before the gate was driven: {} – {}",
            words.fact(&checked.check),
            words.fact(checked)
        )
    }));
    Ok(Opened { folder, remarks })
}
