//! Opening a visit: from its folder on the disk, or from the texts of a sealed record.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::error::VisitError;
use super::sources::{AskedBy, HeldProfile, HeldText, Sources};
use super::{Assessment, Beside, GATE_FILE, Hit, Known, Log, input, profile, whole};
use crate::gate::names::{self, Placed, PlacedLog};
use crate::gate::{self, GateFile, Spot, Warning};
use crate::ingest::{self, Answers};
use crate::limitation::EarlierLog;
use crate::limits::{self, Profile};
use crate::readiness::{self, Check, Readiness};

/// A visit to a gate: everything that it is worked out from but the logs.
///
/// # Example
/// ```no_run
/// let assessment = relent::Visit::open("my-gate")?.assess()?;
/// println!("{:?}", assessment.overall().verdict);
/// # Ok::<(), relent::VisitError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Visit {
    /// The gate folder.
    pub path: PathBuf,
    /// Its gate file on the disk.
    pub file: PathBuf,
    /// The gate file.
    pub gate: GateFile,
    /// What looks odd in it.
    pub warnings: Vec<(Warning, Spot)>,
    /// The limit profile.
    pub profile: Profile,
    /// What a recipe answers for the logs.
    pub answers: Answers,
    /// The checks before the gate is driven: the built-in ones, and the user's own after them.
    pub checks: Vec<Check>,
    /// The texts that all of this was read from.
    pub sources: Sources,
    /// The files in the folder of the logs that hold no hit; nothing until [`Self::look`].
    pub beside: Beside,
    /// The logs of earlier visits; `None` until they were read.
    pub(super) earlier: Option<Vec<EarlierLog>>,
}

impl Visit {
    /// Opens a gate folder, or the folder of a gate file. No log is read yet.
    ///
    /// # Errors
    /// [`VisitError`] if there is no gate file, or a file that it names cannot be read or has a fault.
    pub fn open(path: impl AsRef<Path>) -> Result<Self, VisitError> {
        Self::open_under(path.as_ref(), None)
    }

    /// As [`Self::open`], with this limit profile instead of the one that the gate file names.
    ///
    /// # Errors
    /// As [`Self::open`].
    pub fn open_under(path: &Path, profile_name: Option<&str>) -> Result<Self, VisitError> {
        let (folder, file) = gate_file_of(path)?;
        let bytes =
            input::bytes(&file, input::MOST_OF_A_TEXT).map_err(VisitError::unreadable(&file))?;
        let mut read = of_gate_file(&file, &bytes)?;
        if let Some(name) = profile_name {
            read.file.assessment.profile = name.to_owned();
        }
        let gate = &read.file;
        let found = profile::find_with_text(&gate.assessment.profile, &folder)?;
        let recipe = gate.logs.as_ref().and_then(|logs| logs.recipe.as_deref());
        let checks = gate.readiness.as_ref();
        let checks = checks.and_then(|section| section.more_checks.as_deref());
        let held = |name: &str| {
            let path = folder.join(name);
            let text = input::text(&path, input::MOST_OF_A_TEXT);
            let text = text.map_err(VisitError::unreadable(&path));
            text.map(|text| HeldText::new(name, text))
        };
        let sources = Sources {
            gate_file: HeldText::new(file_name(&file), String::from_utf8_lossy(&bytes)),
            profile: HeldProfile {
                asked: gate.assessment.profile.clone(),
                asked_by: profile_name.map_or(AskedBy::GateFile, |_| AskedBy::CommandLine),
                text: found.text,
                extends: found.extends,
            },
            recipe: recipe.map(held).transpose()?,
            checks: checks.map(held).transpose()?,
            beside: Vec::new(),
            earlier: Vec::new(),
        };
        Self::with(read, found.profile, sources, folder, file, None)
    }

    /// The visit of a sealed record, whose gate folder lies here now.
    ///
    /// # Errors
    /// [`VisitError`] for a text that this version does not read.
    pub fn of_sources(sources: Sources, folder: &Path) -> Result<Self, VisitError> {
        let file = folder.join(&sources.gate_file.name);
        let mut read = of_gate_file(&file, sources.gate_file.text.as_bytes())?;
        read.file
            .assessment
            .profile
            .clone_from(&sources.profile.asked);
        let held = &sources.profile;
        let extended = held.extends.as_ref().map(|text| text.text.as_str());
        let profile = limits::parse_over(&held.text.name, &held.text.text, extended)?;
        let earlier: Result<_, VisitError> = sources
            .earlier
            .iter()
            .map(super::sources::HeldEarlier::read)
            .collect();
        let earlier = Some(earlier?);
        Self::with(read, profile, sources, folder.to_owned(), file, earlier)
    }

    fn with(
        read: gate::Read,
        profile: Profile,
        sources: Sources,
        path: PathBuf,
        file: PathBuf,
        earlier: Option<Vec<EarlierLog>>,
    ) -> Result<Self, VisitError> {
        // What a text is called in an error: the file, or its name in the record.
        let answers = match &sources.recipe {
            Some(held) => {
                let read = ingest::from_recipe(&shown(&path, held), &held.text)?;
                // What is found must not depend on where the folder lies.
                let recipe = Some(held.name.clone());
                Answers { recipe, ..read }
            }
            None => Answers::default(),
        };
        let checks = match &sources.checks {
            Some(own) => readiness::parse(&shown(&path, own), &own.text, readiness::built_in())?,
            None => readiness::built_in(),
        };
        Ok(Self {
            path,
            file,
            gate: read.file,
            warnings: read.warnings,
            profile,
            answers,
            checks,
            sources,
            beside: Beside::default(),
            earlier,
        })
    }

    /// The gate file and the files that it names, but for the logs, whether they are there or not.
    #[must_use]
    pub fn files(&self) -> Vec<PathBuf> {
        let profile = Some(&self.sources.profile.asked).filter(|name| profile::is_file(name));
        let texts = [&self.sources.recipe, &self.sources.checks];
        let named = texts.into_iter().flatten().map(|text| &text.name);
        let named = named.chain(profile).map(|name| self.path.join(name));
        std::iter::once(self.file.clone()).chain(named).collect()
    }

    /// The folder of the logs.
    #[must_use]
    pub fn logs_folder(&self) -> PathBuf {
        self.gate.logs_folder(&self.path)
    }

    /// Tells files apart by their names from the folder of the logs.
    ///
    /// # Errors
    /// [`VisitError`] if the gate file's pattern of names is none.
    pub fn place(&self, names: &[String]) -> Result<Placed, VisitError> {
        match &self.gate.logs {
            Some(section) => Ok(names::place(names, section, &self.gate.gate)?),
            None => Ok(Placed::default()),
        }
    }

    /// Which log holds which hit, from the names of the files in the folder of the logs, and which files hold none.
    ///
    /// # Errors
    /// [`VisitError`] if the folder cannot be listed.
    pub fn placed(&self) -> Result<Placed, VisitError> {
        if self.gate.logs.is_none() {
            return Ok(Placed::default());
        }
        self.place(&listed(&self.logs_folder())?)
    }

    /// The same for this visit: what follows from its hits accounts for every other file.
    ///
    /// # Errors
    /// As [`Self::placed`].
    pub fn look(&mut self) -> Result<Vec<PlacedLog>, VisitError> {
        let placed = self.placed()?;
        self.beside = Beside::of(&placed);
        self.sources.beside = self.beside.names();
        Ok(placed.hits)
    }

    /// Reads the bytes of placed logs, each as it stood at one moment; of one that cannot be read, why.
    #[must_use]
    pub fn load(&self, hits: Vec<PlacedLog>) -> Vec<Log> {
        let folder = self.logs_folder();
        let paths: Vec<PathBuf> = hits.iter().map(|hit| folder.join(&hit.file)).collect();
        let logs = hits.into_iter().zip(whole::all(&paths));
        let log = |(hit, bytes): (PlacedLog, io::Result<Vec<u8>>)| Log {
            bytes: bytes.map_err(|error| error.to_string()),
            ..Log::new(hit, Vec::new())
        };
        logs.map(log).collect()
    }

    /// The checks before the gate was driven, with the answers of the gate file.
    ///
    /// # Errors
    /// [`VisitError`] for an answer that is none.
    pub fn readiness(&self) -> Result<Readiness, VisitError> {
        let readiness = readiness::readiness(&self.gate, self.checks.clone());
        if readiness.errors.is_empty() {
            return Ok(readiness);
        }
        Err(VisitError::Answers {
            file: self.file.clone(),
            errors: readiness.errors,
        })
    }

    /// Reads the logs, and those of earlier visits unless [`Self::look_back`] has, and assesses them.
    ///
    /// # Errors
    /// [`VisitError`] if the folder of the logs cannot be listed, or an answer to a check is none. A log that has no place, cannot be
    /// read or cannot be understood is no error: nothing is known of that hit.
    pub fn assess(&mut self) -> Result<Assessment, VisitError> {
        let placed = self.look()?;
        if self.earlier.is_none() {
            self.look_back()?;
        }
        let assessment = super::assess(
            self.gate.clone(),
            self.profile.clone(),
            self.load(placed),
            &self.answers,
            self.earlier.as_deref().unwrap_or_default(),
            self.readiness()?,
        );
        Ok(assessment.beside(self.beside.clone()))
    }

    /// What follows from hits of this visit that were measured already.
    #[must_use]
    pub fn conclude(&self, hits: Vec<Hit>) -> Assessment {
        self.conclude_knowing(hits, &|_| true)
    }

    /// The same with no other limitations than those that are known.
    #[must_use]
    pub fn conclude_knowing(&self, hits: Vec<Hit>, known: Known<'_>) -> Assessment {
        self.under(self.gate.clone(), self.profile.clone(), hits, known)
    }

    /// The same under another profile, with the gate file that names it.
    #[must_use]
    pub fn conclude_under(&self, gate: GateFile, profile: Profile, hits: Vec<Hit>) -> Assessment {
        self.under(gate, profile, hits, &|_| true)
    }

    fn under(
        &self,
        gate: GateFile,
        profile: Profile,
        hits: Vec<Hit>,
        known: Known<'_>,
    ) -> Assessment {
        let readiness = readiness::readiness(&gate, self.checks.clone());
        let earlier = self.earlier.as_deref().unwrap_or_default();
        super::of_hits_knowing(gate, profile, hits, earlier, readiness, known)
            .beside(self.beside.clone())
    }
}

fn of_gate_file(file: &Path, bytes: &[u8]) -> Result<gate::Read, VisitError> {
    gate::read(bytes).map_err(|source| VisitError::Gate {
        file: file.to_owned(),
        source,
    })
}

fn shown(folder: &Path, held: &HeldText) -> String {
    folder.join(&held.name).display().to_string()
}

fn gate_file_of(path: &Path) -> Result<(PathBuf, PathBuf), VisitError> {
    let kind = fs::metadata(path).map_err(VisitError::unreadable(path))?;
    if !kind.is_dir() {
        let folder = path
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty());
        return Ok((folder.unwrap_or(Path::new(".")).to_owned(), path.to_owned()));
    }
    let (folder, file) = (path.to_owned(), path.join(GATE_FILE));
    if file.is_file() {
        Ok((folder, file))
    } else {
        Err(VisitError::NoGateFile { folder })
    }
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// Reads a recipe: the answers to what the logs of one logger do not say themselves.
///
/// # Errors
/// [`VisitError`] if the file cannot be read or has a fault.
pub fn recipe(path: &Path) -> Result<Answers, VisitError> {
    let text = input::text(path, input::MOST_OF_A_TEXT).map_err(VisitError::unreadable(path))?;
    Ok(ingest::from_recipe(&path.display().to_string(), &text)?)
}

/// The gate files below a folder in the order of their names; a file that is named itself is taken for one.
///
/// # Errors
/// [`VisitError`] for a folder that cannot be listed.
pub fn gate_files(path: &Path) -> Result<Vec<PathBuf>, VisitError> {
    let mut files = Vec::new();
    for entry in WalkDir::new(path).follow_links(true).sort_by_file_name() {
        let entry = entry.map_err(|error| VisitError::unlisted(path, error))?;
        let named = entry.depth() == 0 || entry.file_name() == GATE_FILE;
        if entry.file_type().is_file() && named {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

/// Everything below a folder that is no folder, by its name from it, in order: what is no file is refused where it is read. Links are
/// followed; a link to nothing, and one to a folder above it, is an error.
pub(crate) fn entries(folder: &Path) -> impl Iterator<Item = walkdir::Result<String>> {
    let entries = WalkDir::new(folder).follow_links(true).sort_by_file_name();
    entries.into_iter().filter_map(move |entry| match entry {
        Ok(entry) if !entry.file_type().is_dir() => {
            let inner = entry.path().strip_prefix(folder).ok()?;
            Some(Ok(inner.display().to_string()))
        }
        Ok(_) => None,
        Err(error) => Some(Err(error)),
    })
}

fn listed(folder: &Path) -> Result<Vec<String>, VisitError> {
    let names: walkdir::Result<Vec<String>> = entries(folder).collect();
    names.map_err(|error| VisitError::unlisted(folder, error))
}
