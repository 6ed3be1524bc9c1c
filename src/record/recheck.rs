//! Checking a sealed record again: its bytes, its signature, the digests of its logs, and every number in it.

use std::io;
use std::path::{Component, Path, PathBuf};

use serde::Serialize;
use serde_json::{Value, json};

use super::body::{Body, Found};
use super::build::Build;
use super::case::{Case, CaseError, ReadLog, Spread};
use super::difference::{Difference, Differences};
use super::digests::{self, FileChange};
use super::reassess::{Reassessed, reassess};
use super::seal::{self, RecordError};
use super::sealed_log::SealedLog;
use super::signature::{self, Signature};
use crate::fact::Fact;
use crate::ingest::sha256;
use crate::limitation::Limitation;
use crate::limits::Profile;
use crate::verdict::Verdict;
use crate::visit::{Hit, input};

/// How records are checked.
#[derive(Clone, Copy, Debug)]
pub struct Setting<'a> {
    /// Another profile to assess under as well.
    pub profile: Option<&'a Profile>,
    /// Who may sign.
    #[cfg(feature = "sign")]
    pub signers: Option<&'a signature::Signers>,
    /// The gate folder, where it is not where the record says.
    pub gate: Option<&'a Path>,
    /// What is read at the same time.
    pub spread: Spread,
}

/// How something stands after it was checked, from best to worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Nothing was altered, and every number is the one that was recorded.
    Same,
    /// There is no record: nothing to hold it against.
    NotSealed,
    /// Something that is needed for it is gone, or of a form that this version does not read.
    CannotBeChecked,
    /// The gate file on the disk is not the one that was sealed. The record, which holds that one, is the same.
    GateFileChanged,
    /// Nothing was altered, and other numbers come out.
    NumbersDiffer,
    /// Bytes are not those that were sealed, or the signature is not that of a signer who was named.
    Altered,
    /// The work could not be done.
    Failed,
}

impl Fact for State {
    const FAMILY: &'static str = "state";
}

/// The gate file on the disk against the one in the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum GateFileState {
    Same,
    Changed,
    Gone,
}

/// What became of a log since it was sealed; one that is the same is counted only.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", tag = "code")]
pub enum LogChange {
    /// Its bytes are others.
    Altered {
        /// The log.
        file: String,
        /// Whether its samples are the same: only line ends, number formats or remarks changed.
        same_samples: bool,
    },
    /// This version gives it no place.
    NotPlaced {
        /// The log.
        file: String,
    },
    /// It cannot be read from the disk.
    Unreadable {
        /// The log.
        file: String,
        /// What the system says.
        error: String,
    },
}

impl Fact for LogChange {
    const FAMILY: &'static str = "log-change";
}

/// A record that was opened and held against what lies on the disk.
#[derive(Clone, Debug)]
pub struct Checked {
    /// The record's name in the report: SHA-256 of its bytes.
    pub sha256: String,
    /// The build that made it.
    pub build: Build,
    /// The gate.
    pub gate: String,
    /// How its signature stands.
    pub signature: Signature,
    /// Whether a signature was asked for: signers were named.
    pub signature_wanted: bool,
    /// The gate folder where it lies now.
    pub gate_folder: PathBuf,
    /// The folder of its logs; empty where it is not known.
    pub logs_folder: PathBuf,
    /// Logs in that folder which are not in the record.
    pub more_logs: Vec<String>,
    /// The gate file on the disk.
    pub gate_file: GateFileState,
    /// Logs that are to the byte as they were.
    pub same_logs: usize,
    /// The others.
    pub changed_logs: Vec<LogChange>,
    /// Files of the report beside the record that are not those which were written with it.
    pub changed_files: Vec<FileChange>,
    /// What differs.
    pub differences: Vec<Difference>,
    /// What is found now and could not be found by the build that made the record: no difference.
    pub new: Vec<Difference>,
    /// Limitations that the build that made the record could not find; `None` where this build finds no others.
    pub new_limitations: Option<NewLimitations>,
    /// Numbers that differ by no more than two machines round.
    pub rounding: usize,
    /// Why nothing could be worked out again.
    pub not_worked_out: Option<String>,
    /// The verdict in the record.
    pub verdict_recorded: Verdict,
    /// The verdict now; absent where it cannot be worked out.
    pub verdict_now: Option<Verdict>,
    /// What another profile makes of it.
    pub reassessed: Option<Reassessed>,
}

/// A limitation of a log that the build that made the record could not find.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NewLimitation {
    /// The log.
    pub log: String,
    /// What limits it.
    pub limitation: Limitation,
}

/// What this build finds beyond the one that made the record.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NewLimitations {
    /// The limitations.
    pub list: Vec<NewLimitation>,
    /// The verdict with them.
    pub verdict: Verdict,
}

/// Checks a record from its file.
///
/// # Errors
/// [`RecheckError`] if the file cannot be read, or is not a record as it was sealed.
pub fn recheck(path: &Path, setting: &Setting<'_>) -> Result<Checked, RecheckError> {
    let bytes = input::bytes(path, input::MOST_OF_A_RECORD)?;
    let opened = seal::open(&bytes)?;
    let signature = signature_of(path, &bytes, setting);
    drop(bytes);
    let body = opened.body;
    let own_folder = path.parent().unwrap_or(Path::new(""));
    let gate_folder = setting
        .gate
        .map_or_else(|| tidy(&own_folder.join(&body.gate_folder)), Path::to_owned);
    let named = match setting.gate {
        Some(_) => Ok(()),
        None => stays_in_its_folder(&body),
    };
    let mut checked = Checked {
        sha256: opened.sha256,
        build: body.build.clone(),
        gate: String::new(),
        signature,
        signature_wanted: signers_wanted(setting),
        gate_file: match &named {
            Ok(()) => gate_file(&body, &gate_folder),
            Err(_) => GateFileState::Gone,
        },
        gate_folder,
        logs_folder: PathBuf::new(),
        more_logs: Vec::new(),
        same_logs: 0,
        changed_logs: Vec::new(),
        changed_files: changed_files(path),
        differences: Vec::new(),
        new: Vec::new(),
        new_limitations: None,
        rounding: 0,
        not_worked_out: None,
        verdict_recorded: body.found.verdict,
        verdict_now: None,
        reassessed: None,
    };
    let case = named.and_then(|()| {
        let case = Case::of_record(&body, &checked.gate_folder)?;
        let logs = case.visit.gate.logs.as_ref();
        match logs.and_then(|logs| logs.folder.as_deref()) {
            Some(folder) if setting.gate.is_none() => below(folder)?,
            Some(_) | None => {}
        }
        Ok(case)
    });
    match case {
        Ok(case) => work_out(&mut checked, &body, &case, setting),
        Err(error) => checked.not_worked_out = Some(words(&error)),
    }
    Ok(checked)
}

fn words(error: &CaseError) -> String {
    error.to_string()
}

/// Why a record could not be checked.
#[derive(Debug, thiserror::Error)]
pub enum RecheckError {
    /// The file cannot be read.
    #[error("it cannot be read: {0}")]
    File(#[from] io::Error),
    /// It is no record as it was sealed.
    #[error(transparent)]
    Record(#[from] RecordError),
}

impl RecheckError {
    /// How that stands.
    #[must_use]
    pub fn state(&self) -> State {
        match self {
            Self::Record(error) if error.is_alteration() => State::Altered,
            Self::Record(RecordError::OtherForm { .. }) => State::CannotBeChecked,
            Self::File(_) | Self::Record(_) => State::Failed,
        }
    }
}

impl Checked {
    /// How it stands: the worst of everything.
    #[must_use]
    pub fn state(&self) -> State {
        let altered = |change: &LogChange| matches!(change, LogChange::Altered { .. });
        let gone = |change: &LogChange| !altered(change);
        let other = |change: &FileChange| !matches!(change, FileChange::Gone { .. });
        let all = [
            (self.signature_state(), true),
            (State::Altered, self.changed_logs.iter().any(altered)),
            (State::Altered, self.changed_files.iter().any(other)),
            (State::CannotBeChecked, !self.changed_files.is_empty()),
            (State::NumbersDiffer, !self.differences.is_empty()),
            (
                State::GateFileChanged,
                self.gate_file == GateFileState::Changed,
            ),
            (
                State::CannotBeChecked,
                self.gate_file == GateFileState::Gone,
            ),
            (State::CannotBeChecked, self.changed_logs.iter().any(gone)),
            (State::CannotBeChecked, self.not_worked_out.is_some()),
        ];
        let holds = all.into_iter().filter(|(_, holds)| *holds);
        holds.map(|(state, _)| state).max().unwrap_or(State::Same)
    }

    fn signature_state(&self) -> State {
        match self.signature {
            Signature::Bad | Signature::Stranger { .. } => State::Altered,
            Signature::Unreadable { .. } => State::CannotBeChecked,
            Signature::None | Signature::NotChecked if self.signature_wanted => {
                State::CannotBeChecked
            }
            Signature::None
            | Signature::NotChecked
            | Signature::Made { .. }
            | Signature::By { .. } => State::Same,
        }
    }
}

/// Reads the logs, each once, and holds what comes out against the record.
fn work_out(checked: &mut Checked, body: &Body, case: &Case, setting: &Setting<'_>) {
    checked.gate.clone_from(&case.visit.gate.gate.name);
    checked.logs_folder = case.visit.logs_folder();
    checked.more_logs = case.more_logs();
    let logs = case.read(setting.spread);
    let complete = logs.iter().all(|(_, hit)| hit.is_ok()) && logs.len() == body.logs.len();
    for recorded in &body.logs {
        let read = logs.iter().find(|(placed, _)| placed.file == recorded.file);
        match change(recorded, read) {
            Some(change) => checked.changed_logs.push(change),
            None => checked.same_logs += 1,
        }
    }
    if let Some(profile) = setting.profile.filter(|_| complete) {
        let now = Found::new(&case.conclude_under(profile, &logs));
        checked.reassessed = Some(reassess(&profile.name, &body.found, &now));
    }
    let hits: Vec<Hit> = logs.into_iter().filter_map(|(_, hit)| hit.ok()).collect();
    if !body.knows.is_all() {
        checked.new_limitations = Some(new_limitations(case, &hits, body));
    }
    let assessment = case.conclude_knowing(hits, &body.knows);
    let now: Vec<SealedLog> = assessment.all_hits().map(SealedLog::new).collect();
    let mut differences = Differences::since(&body.knows);
    if complete {
        let found = Found::new(&assessment);
        checked.verdict_now = Some(found.verdict);
        if found != body.found {
            let (old, new) = (json!({ "found": body.found }), json!({ "found": found }));
            differences.add("", &old, &new);
        }
    }
    if now != body.logs {
        differences.add(
            "logs",
            &measures(&body.logs, &now, complete),
            &measures(&now, &body.logs, complete),
        );
    }
    checked.differences = differences.list;
    checked.new = differences.new;
    checked.rounding = differences.rounding;
}

/// What this build finds to limit the hits, and the build that made the record could not; with the verdict that follows, where that is
/// another.
fn new_limitations(case: &Case, hits: &[Hit], body: &Body) -> NewLimitations {
    let assessment = case.visit.conclude(hits.to_vec());
    let readings = assessment
        .findings
        .iter()
        .flat_map(|finding| &finding.repeats);
    let of_findings = readings.flat_map(|reading| {
        let limitations = reading.limitations.iter();
        limitations.map(|limitation| (&reading.log, limitation))
    });
    let of_hits = assessment
        .limitations()
        .map(|(hit, limitation)| (&hit.file, limitation));
    let mut list: Vec<NewLimitation> = Vec::new();
    for (log, limitation) in of_hits.chain(of_findings) {
        let new = NewLimitation {
            log: log.clone(),
            limitation: limitation.clone(),
        };
        if !body.knows.limitation(limitation) && !list.contains(&new) {
            list.push(new);
        }
    }
    NewLimitations {
        list,
        verdict: assessment.overall().verdict,
    }
}

fn change(recorded: &SealedLog, read: Option<&ReadLog>) -> Option<LogChange> {
    let file = recorded.file.clone();
    match read.map(|(_, hit)| hit) {
        None => Some(LogChange::NotPlaced { file }),
        Some(Err(error)) => Some(LogChange::Unreadable {
            file,
            error: error.to_string(),
        }),
        Some(Ok(hit)) if hit.sha256 != recorded.sha256 => {
            let samples = hit.samples_sha256();
            Some(LogChange::Altered {
                file,
                same_samples: samples.is_some() && samples == recorded.samples_sha256,
            })
        }
        Some(Ok(_)) => None,
    }
}

/// The logs that are also among the others, without what is told of each log anyway; where some are gone also without what
/// hangs on the others: the test point for which a log stands, and whether it is a copy of another.
fn measures(logs: &[SealedLog], others: &[SealedLog], complete: bool) -> Value {
    let there = logs
        .iter()
        .filter(|log| others.iter().any(|other| other.file == log.file));
    let value = there.map(|log| {
        let mut value = json!(log);
        if let Value::Object(members) = &mut value {
            members.retain(|name, _| !matches!(name.as_str(), "sha256" | "size_bytes"));
        }
        if !complete && let Some(Value::Object(measured)) = value.get_mut("measured") {
            measured.remove("limitations");
        }
        value
    });
    Value::Array(value.collect())
}

/// A record may come from anywhere: of itself it leads to a folder above it and what lies below that, and nowhere else.
fn stays_in_its_folder(body: &Body) -> Result<(), CaseError> {
    let above = |part: Component<'_>| matches!(part, Component::ParentDir | Component::CurDir);
    if !Path::new(&body.gate_folder).components().all(above) {
        return Err(CaseError::Elsewhere(body.gate_folder.clone()));
    }
    let logs = body.logs.iter().map(|log| &log.file);
    let mut files = logs.chain([&body.sources.gate_file.name]);
    files.try_for_each(|file| below(file))
}

fn below(path: &str) -> Result<(), CaseError> {
    let below = |part: Component<'_>| matches!(part, Component::Normal(_) | Component::CurDir);
    if Path::new(path).components().all(below) {
        Ok(())
    } else {
        Err(CaseError::Elsewhere(path.to_owned()))
    }
}

fn changed_files(record: &Path) -> Vec<FileChange> {
    let folder = record.parent().unwrap_or(Path::new(""));
    let name = record.file_name().unwrap_or_default();
    digests::changes(folder, Some(&name.to_string_lossy()))
}

fn gate_file(body: &Body, gate_folder: &Path) -> GateFileState {
    let sealed = &body.sources.gate_file;
    match input::bytes(&gate_folder.join(&sealed.name), input::MOST_OF_A_TEXT) {
        Ok(bytes) if sha256(&bytes) == sealed.sha256 => GateFileState::Same,
        Ok(_) => GateFileState::Changed,
        Err(_) => GateFileState::Gone,
    }
}

/// A path without `folder/..`, for the eye and for comparing.
fn tidy(path: &Path) -> PathBuf {
    let mut tidy = PathBuf::new();
    for part in path.components() {
        let last = tidy.components().next_back();
        let up = part.as_os_str() == "..";
        match last {
            Some(Component::Normal(_)) if up => {
                tidy.pop();
            }
            _ => tidy.push(part),
        }
    }
    if tidy.as_os_str().is_empty() {
        tidy.push(".");
    }
    tidy
}

/// The file of a record's signature.
#[must_use]
pub fn signature_file(record: &Path) -> PathBuf {
    let mut name = record.as_os_str().to_owned();
    name.push(signature::ENDING);
    PathBuf::from(name)
}

fn signature_of(path: &Path, record: &[u8], setting: &Setting<'_>) -> Signature {
    match input::bytes(&signature_file(path), input::MOST_OF_A_TEXT) {
        Ok(signature) => held_against(record, &signature, setting),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Signature::None,
        Err(error) => Signature::Unreadable {
            why: error.to_string(),
        },
    }
}

#[cfg(feature = "sign")]
fn held_against(record: &[u8], signature: &[u8], setting: &Setting<'_>) -> Signature {
    signature::check(record, signature, setting.signers)
}

#[cfg(not(feature = "sign"))]
const fn held_against(_record: &[u8], _signature: &[u8], _setting: &Setting<'_>) -> Signature {
    Signature::NotChecked
}

#[cfg(feature = "sign")]
const fn signers_wanted(setting: &Setting<'_>) -> bool {
    setting.signers.is_some()
}

#[cfg(not(feature = "sign"))]
const fn signers_wanted(_setting: &Setting<'_>) -> bool {
    false
}
