//! A gate folder as it lies on the disk: its gate file, the logs and what their names say, the profile and the recipe.

use std::fs;
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::cli::complaint::{self, Complaint};
use crate::cli::profile;
use crate::cli::stop::Stop;
use crate::cli::whole;
use crate::gate::names::{self, Placed, PlacedLog};
use crate::gate::{self, GateFile, LogsSection};
use crate::ingest::{self, Answers};
use crate::limits::{Motion, Profile};
use crate::record::held::{AskedBy, HeldProfile, HeldText, Sources};
use crate::record::input;
use crate::visit::Log;

/// The name of the gate file in its folder.
pub const GATE_FILE: &str = "gate.toml";

/// A gate folder that was opened.
pub struct GateFolder {
    /// The folder.
    pub path: PathBuf,
    /// Its gate file on the disk.
    pub file: PathBuf,
    /// The gate file.
    pub gate: GateFile,
    /// What looks odd in it.
    pub warnings: Vec<Complaint>,
    /// The limit profile.
    pub profile: Profile,
    /// What a recipe answers for the logs.
    pub answers: Answers,
    /// The texts that all of this was read from; its logs of earlier visits and its own checks are not looked for here.
    pub sources: Sources,
}

impl GateFolder {
    /// Opens a folder, or the folder of a gate file; `profile` replaces the one that the gate file names.
    ///
    /// # Errors
    /// [`Stop`] if there is no gate file, it has a fault, or profile or recipe cannot be read.
    pub fn open(path: &Path, profile_name: Option<&str>) -> Result<Self, Stop> {
        let (folder, file) = gate_file_of(path)?;
        let shown = file.display().to_string();
        let bytes = input::bytes(&file, input::MOST_OF_A_TEXT)
            .map_err(|error| Stop::unreadable(&file, &error))?;
        let read =
            gate::read(&bytes).map_err(|error| Stop(complaint::gate_file(&shown, &error)))?;
        let text = String::from_utf8_lossy(&bytes);
        let mut gate = read.file;
        if let Some(name) = profile_name {
            gate.judge.profile = name.to_owned();
        }
        let found = profile::find_with_text(&gate.judge.profile, &folder)?;
        let (answers, recipe) = recipe(&gate, &folder)?;
        let warnings = complaint::gate_warnings(&shown, &text, &read.warnings);
        let sources = Sources {
            gate_file: HeldText::new(file_name(&file), text),
            profile: HeldProfile {
                asked: gate.judge.profile.clone(),
                asked_by: profile_name.map_or(AskedBy::GateFile, |_| AskedBy::CommandLine),
                text: found.text,
                extends: found.extends,
            },
            recipe,
            checks: None,
            earlier: Vec::new(),
        };
        Ok(Self {
            path: folder,
            file,
            gate,
            warnings,
            profile: found.profile,
            answers,
            sources,
        })
    }

    /// The gate file and the files that it names, but for the logs, whether they are there or not.
    #[must_use]
    pub fn files(&self) -> Vec<PathBuf> {
        let gate = &self.gate;
        let recipe = gate.logs.as_ref().and_then(|logs| logs.recipe.as_deref());
        let checks = gate
            .readiness
            .as_ref()
            .and_then(|section| section.more_checks.as_deref());
        let profile = Some(gate.judge.profile.as_str()).filter(|name| profile::is_file(name));
        let named = [recipe, checks, profile].into_iter().flatten();
        let named = named.map(|name| self.path.join(name));
        std::iter::once(self.file.clone()).chain(named).collect()
    }

    /// The folder of the logs.
    #[must_use]
    pub fn logs_folder(&self) -> PathBuf {
        self.gate.logs_folder(&self.path)
    }

    /// Which log holds which hit, from the names of the files; a name that says nothing, or too much, is a complaint.
    ///
    /// # Errors
    /// [`Stop`] if the folder cannot be listed or a log has no place.
    pub fn placed(&self) -> Result<Placed, Stop> {
        if self.gate.logs.is_none() {
            return Ok(Placed::default());
        }
        let (placed, impossible) = self.place(&listed(&self.logs_folder())?)?;
        let problems = placed.problems.iter().map(complaint::place_problem);
        let complaints: Vec<Complaint> = problems.chain(impossible).collect();
        if complaints.is_empty() {
            Ok(placed)
        } else {
            Err(Stop(complaints))
        }
    }

    /// Tells files apart by their names from the folder of the logs, and sets hits at a place that this gate does not have aside,
    /// each with a complaint.
    ///
    /// # Errors
    /// [`Stop`] if the gate file's pattern of names is none.
    pub fn place(&self, names: &[String]) -> Result<(Placed, Vec<Complaint>), Stop> {
        let Some(section) = &self.gate.logs else {
            return Ok((Placed::default(), Vec::new()));
        };
        let mut placed = place(names, section, &self.gate)?;
        let mut impossible = Vec::new();
        placed.hits.retain(|hit| match self.impossible(hit) {
            Some(complaint) => {
                impossible.push(complaint);
                false
            }
            None => true,
        });
        Ok((placed, impossible))
    }

    /// A hit at a place that this gate does not have.
    fn impossible(&self, hit: &PlacedLog) -> Option<Complaint> {
        let gate = &self.gate.gate;
        let (key, size, across) = match gate.motion {
            Motion::Vertical => (
                "clear_opening_mm",
                gate.clear_opening,
                "place across the opening",
            ),
            Motion::Sliding | Motion::Swing | Motion::Folding | Motion::Boom => {
                ("leaf_height_mm", gate.leaf_height, "height")
            }
        };
        let height = hit.point.height_mm;
        if let Some(most) = size.filter(|most| height > most.get()) {
            let what = format!(
                "{}: no such test point: {across} {height} mm, but {key} is {} mm",
                hit.file,
                most.get()
            );
            return Some(
                Complaint::error(what).help("correct the name of the log, or the gate file"),
            );
        }
        let opening = gate
            .clear_opening
            .filter(|_| gate.motion != Motion::Vertical)?;
        (hit.point.gap_mm > opening.get()).then(|| {
            let what = format!(
                "{}: no such test point: gap {} mm, but clear_opening_mm is {} mm",
                hit.file,
                hit.point.gap_mm,
                opening.get()
            );
            Complaint::error(what).help("correct the name of the log, or the gate file")
        })
    }

    /// Reads the bytes of placed logs, each as it stood at one moment.
    ///
    /// # Errors
    /// [`Stop`] for a log that cannot be read from the disk, or that is written to all the while.
    pub fn load(&self, hits: Vec<PlacedLog>) -> Result<Vec<Log>, Stop> {
        let folder = self.logs_folder();
        let paths: Vec<PathBuf> = hits.iter().map(|hit| folder.join(&hit.file)).collect();
        let logs = hits.into_iter().zip(whole::all(&paths)?);
        let log = |(hit, bytes): (PlacedLog, Vec<u8>)| Log {
            file: hit.file,
            point: hit.point,
            repeat: hit.repeat,
            bytes,
        };
        Ok(logs.map(log).collect())
    }
}

/// The gate files below a folder in the order of their names; a file that is named itself is taken for one.
///
/// # Errors
/// [`Stop`] for a folder that cannot be listed.
pub fn gate_files(path: &Path) -> Result<Vec<PathBuf>, Stop> {
    let mut files = Vec::new();
    for entry in WalkDir::new(path).sort_by_file_name() {
        let entry = entry.map_err(|error| Stop::unlisted(path, error))?;
        let named = entry.depth() == 0 || entry.file_name() == GATE_FILE;
        if entry.file_type().is_file() && named {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

fn gate_file_of(path: &Path) -> Result<(PathBuf, PathBuf), Stop> {
    let kind = fs::metadata(path).map_err(|error| Stop::unreadable(path, &error))?;
    if !kind.is_dir() {
        let folder = path
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty());
        return Ok((folder.unwrap_or(Path::new(".")).to_owned(), path.to_owned()));
    }
    let file = path.join(GATE_FILE);
    if file.is_file() {
        return Ok((path.to_owned(), file));
    }
    let what = format!(
        "{}: no gate file in this folder: expected {GATE_FILE}",
        path.display()
    );
    Err(Stop::because(
        what,
        "`relent measure` takes loose logs; `relent demo` writes an example of a gate folder to start from",
    ))
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

fn recipe(gate: &GateFile, folder: &Path) -> Result<(Answers, Option<HeldText>), Stop> {
    let Some(name) = gate.logs.as_ref().and_then(|logs| logs.recipe.as_deref()) else {
        return Ok((Answers::default(), None));
    };
    let (mut answers, text) = read_recipe_text(&folder.join(name))?;
    // What is found must not depend on where the folder lies.
    answers.recipe = Some(name.to_owned());
    Ok((answers, Some(HeldText::new(name, text))))
}

/// Reads a recipe: the answers to what the logs of one logger do not say themselves.
///
/// # Errors
/// [`Stop`] if the file cannot be read or has a fault.
pub fn read_recipe(path: &Path) -> Result<Answers, Stop> {
    Ok(read_recipe_text(path)?.0)
}

fn read_recipe_text(path: &Path) -> Result<(Answers, String), Stop> {
    let text =
        input::text(path, input::MOST_OF_A_TEXT).map_err(|error| Stop::unreadable(path, &error))?;
    let answers = ingest::from_recipe(&path.display().to_string(), &text).map_err(|error| {
        Stop::because(
            error,
            "`relent read LOG … --save-recipe FILE` writes a recipe from answers that worked",
        )
    })?;
    Ok((answers, text))
}

/// The files below a folder, by their names from it, in order.
fn listed(folder: &Path) -> Result<Vec<String>, Stop> {
    let mut names = Vec::new();
    for entry in WalkDir::new(folder).sort_by_file_name() {
        let entry = entry.map_err(|error| Stop::unlisted(folder, error))?;
        let Ok(inner) = entry.path().strip_prefix(folder) else {
            continue;
        };
        if entry.file_type().is_file() {
            names.push(inner.display().to_string());
        }
    }
    Ok(names)
}

fn place(names: &[String], section: &LogsSection, gate: &GateFile) -> Result<Placed, Stop> {
    names::place(names, section, &gate.gate).map_err(|error| Complaint::of(&error).into())
}
