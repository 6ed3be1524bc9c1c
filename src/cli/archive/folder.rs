//! One gate folder of an archive: assessed as `relent assess` would, from files that stood still meanwhile.

use std::fs;
use std::path::Path;
use std::time::UNIX_EPOCH;

use super::walk::Place;
use crate::archive::inputs::{Inputs, Names};
use crate::archive::{AssessedGate, GateRow};
use crate::cli::assess;
use crate::cli::complaint::{self, Complaint};
use crate::cli::stop::Stop;
use crate::ingest;
use crate::record::digests::{self, DIGESTS, REPORT};
use crate::view::VisitRow;
use crate::visit::Visit;
use crate::visit::caught;
use crate::visit::profile;
use crate::words::{Language, Words};

/// How often a gate is assessed whose files change meanwhile, before it is given up.
const TRIES: usize = 3;

/// What every gate of the archive is assessed under.
pub(super) struct Setting {
    /// The profile that replaces those of the gate files.
    pub(super) profile: Option<String>,
    /// Program and question, for the journal.
    pub(super) under: String,
}

impl Setting {
    pub(super) fn new(tree: &Path, profile: Option<&str>) -> Self {
        // A profile of one's own is looked for where the command is given, not in every gate folder.
        let profile = profile.map(|name| {
            let file = profile::is_file(name);
            let whole = std::path::absolute(name).ok().filter(|_| file);
            whole.map_or_else(|| name.to_owned(), |path| path.display().to_string())
        });
        let tree = fs::canonicalize(tree).unwrap_or_else(|_| tree.to_owned());
        Self {
            under: format!(
                "{}; profile {}; tree {}",
                program(),
                profile.as_deref().unwrap_or("of the gate file"),
                tree.display()
            ),
            profile,
        }
    }
}

/// This program: its version, and size and time of its file, which tell two builds of one version apart.
fn program() -> String {
    let file = std::env::current_exe().and_then(fs::metadata);
    let built = file.map(|file| {
        let time = file.modified().ok();
        let since = time.and_then(|time| time.duration_since(UNIX_EPOCH).ok());
        format!(
            "{} bytes, {} ns",
            file.len(),
            since.unwrap_or_default().as_nanos()
        )
    });
    format!(
        "relent {} ({})",
        env!("CARGO_PKG_VERSION"),
        built.unwrap_or_default()
    )
}

/// A folder with what was found in it, and the files that this came from; or the row of one that could not be assessed.
pub(super) fn assess(
    place: &Place,
    setting: &Setting,
) -> Result<(AssessedGate, Inputs), Box<GateRow>> {
    let failed = |why: String| {
        let row = GateRow::not_assessed(&place.name, why);
        Box::new(
            match Visit::open_under(&place.path, setting.profile.as_deref()) {
                Ok(it) if place.trouble.is_none() => GateRow {
                    visit: VisitRow::of(&it.gate, it.profile.gauge.calibration_months),
                    ..row
                },
                _ => row,
            },
        )
    };
    if let Some(trouble) = &place.trouble {
        return Err(failed(trouble.clone()));
    }
    // An internal error on one gate must not take the others with it.
    match caught("folder", || settled(place, setting)) {
        Ok(Ok(found)) => Ok(found),
        Ok(Err(stop)) => Err(failed(words(&stop))),
        Err(fault) => Err(failed(fault.to_string())),
    }
}

fn settled(place: &Place, setting: &Setting) -> Result<(AssessedGate, Inputs), Stop> {
    let unreadable = |error: std::io::Error| Stop::unreadable(&place.path, &error);
    let open = || Visit::open_under(&place.path, setting.profile.as_deref());
    for _ in 0..TRIES {
        let before = Inputs::take(&place.path, names(&open()?)?).map_err(unreadable)?;
        let mut folder = open()?;
        let now = names(&folder)?;
        let odd = complaint::odd(&folder);
        let odd = odd.iter().map(Complaint::in_one_line);
        let odd = odd.chain(report_changes(&folder)).collect();
        let assessment = assess::assess(&mut folder)?;
        let after = Inputs::take(&place.path, now).map_err(unreadable)?;
        if before.same(&after) {
            let record = ingest::sha256(&assess::json(&assessment)?);
            let assessed = AssessedGate::new(
                Words::of(Language::English),
                &place.name,
                &assessment,
                record,
                odd,
            );
            return Ok((assessed, before));
        }
    }
    Err(Stop::because(
        "its files changed every time they were read",
        "assess it again when nothing writes to it",
    ))
}

/// What is wrong with the files of the gate's report: a kill, or somebody, left a part of it.
fn report_changes(folder: &Visit) -> impl Iterator<Item = String> {
    let changes = digests::changes(&folder.path.join(assess::REPORT), None);
    let words = Words::of(Language::English);
    let place = |change| format!("{}: {}", assess::REPORT, words.fact(&change));
    changes.into_iter().map(place)
}

/// The files that a judgement of this folder reads.
fn names(folder: &Visit) -> Result<Names, Stop> {
    let mut names = Names::default();
    collect(folder, &mut names)?;
    for name in REPORT.into_iter().chain([DIGESTS]) {
        let file = folder.path.join(assess::REPORT).join(name);
        names.files.push(utf8(&file)?);
    }
    let earlier = folder.gate.visit.iter().flat_map(|visit| &visit.earlier);
    for name in earlier {
        collect(&Visit::open(folder.path.join(name))?, &mut names)?;
    }
    Ok(names)
}

fn collect(folder: &Visit, names: &mut Names) -> Result<(), Stop> {
    for file in folder.files() {
        names.files.push(utf8(&file)?);
    }
    if folder.gate.logs.is_some() {
        names.folders.push(utf8(&folder.logs_folder())?);
    }
    Ok(())
}

/// A path as it is kept in the journal: whole, so that it does not depend on where the command is given.
fn utf8(path: &Path) -> Result<String, Stop> {
    let whole = std::path::absolute(path).map_err(|error| Stop::unreadable(path, &error))?;
    whole.to_str().map(str::to_owned).ok_or_else(|| {
        Stop::because(
            format_args!("{}: the name is not UTF-8", path.display()),
            "rename it",
        )
    })
}

/// A stop in one line, of many complaints the first.
fn words(Stop(complaints): &Stop) -> String {
    const SHOWN: usize = 5;
    let mut parts: Vec<String> = complaints
        .iter()
        .take(SHOWN)
        .map(Complaint::in_one_line)
        .collect();
    if complaints.len() > SHOWN {
        parts.push(format!("and {} more", complaints.len() - SHOWN));
    }
    parts.join("; ")
}
