//! `relent history`: the visits to one gate on one axis of time.

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::assess::assess;
use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::ingest;
use crate::record::history::{History, Remark, Seen, history};
use crate::report::history::{history_json, history_page, history_text};
use crate::visit::{Visit, gate_files};
use crate::words::{Language, Words};

/// What the exit status says here.
pub const EXITS: &str = "\
Exit status: that of the last visit: 0 within the limits that were assessed; 1 at least one value over its limit; 2 the work could
not be done; 3 undecided, or a question must be answered first, or a visit may have stayed out.

Past visits are no proof of the next. Local codes and licensed practice come first.";

/// Options of `relent history`.
#[derive(Args, Debug)]
pub struct HistoryArgs {
    /// Gate folders, or folders to look through for them; the earlier visits that a gate file names are taken too
    #[arg(value_name = "GATE", required = true)]
    paths: Vec<PathBuf>,
    /// Name of the gate, where there are several below the folders
    #[arg(long, value_name = "NAME")]
    gate: Option<String>,
    /// Assess all visits against one limit profile instead of those that their gate files name
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Folder of the page and the record. The default is `history` in the folder of the last visit
    #[arg(long, value_name = "FOLDER")]
    report: Option<PathBuf>,
    /// Print the history as JSON instead of the summary
    #[arg(long)]
    json: bool,
    /// Print only: write no page
    #[arg(long, conflicts_with = "report")]
    no_report: bool,
}

/// What was found below the paths.
struct Found {
    visits: Vec<Visit>,
    /// What may have stayed out.
    open: Vec<Remark>,
}

/// Shows the visits to a gate, their changes, and what moves.
pub fn run(args: &HistoryArgs) -> Result<Exit, Stop> {
    let found = of_one_gate(found(args)?, args.gate.as_deref())?;
    let mut open = found.open;
    let mut seen = Vec::new();
    let mut folders = BTreeMap::new();
    for mut folder in found.visits {
        let path = folder.path.clone();
        let name = visible::name(&path);
        folders.insert(name.clone(), path);
        let assessment = assess(&mut folder)?;
        match Seen::of(&name, &assessment) {
            Some(visit) => seen.push(visit),
            None => open.push(Remark::WithoutDay { folder: name }),
        }
    }
    let words = Words::of(Language::English);
    let warnings = words.facts(&open);
    screen::complain(&warnings.iter().map(Complaint::warning).collect::<Vec<_>>());
    let mut history = history(seen).ok_or_else(|| {
        Stop::because(
            "no visit is left: none of the gate files gives its day",
            "add [visit] with `date = …`, as 2026-11-25, to the gate files",
        )
    })?;
    let exit = exit(&history, &open);
    history.remarks.extend(open);
    let json = history_json(words, &history).map_err(Stop::fault)?;
    let page = match (&args.report, args.no_report) {
        (_, true) => None,
        (Some(place), false) => Some(write(&history, &json, place)?),
        (None, false) => match history.visits.last() {
            Some(last) => Some(write(
                &history,
                &json,
                &folders[&last.folder].join("history"),
            )?),
            None => None,
        },
    };
    if args.json {
        screen::data(&String::from_utf8_lossy(&json));
    } else {
        screen::print(&history_text(words, &history));
        if let Some(page) = page {
            screen::print(&format!("\nHistory: {}\n", visible::name(&page)));
        }
    }
    Ok(exit)
}

fn exit(history: &History, open: &[Remark]) -> Exit {
    let last = history.visits.last().map(|visit| Exit::from(visit.verdict));
    let doubt = (!open.is_empty()).then_some(Exit::Undecided);
    Exit::worst(last.into_iter().chain(doubt))
}

fn write(history: &History, json: &[u8], place: &Path) -> Result<PathBuf, Stop> {
    const PAGE: &str = "history.html";
    let words = Words::of(Language::English);
    output::make_folder(place)?;
    let mut files = output::Set::begin(place, "history.sha256");
    files.add("history.json", Kind::Json("history"), json)?;
    let page = history_page(words, history, &ingest::sha256(json));
    files.add(PAGE, Kind::Page, &page)?;
    files.publish()?;
    Ok(place.join(PAGE))
}

/// Every gate folder below the paths and every earlier visit that one of them names, each once.
fn found(args: &HistoryArgs) -> Result<Found, Stop> {
    let (mut waiting, mut unopened): (Vec<PathBuf>, Vec<Complaint>) = Default::default();
    for path in args.paths.iter().rev() {
        let mut files = gate_files(path)?;
        if files.is_empty() {
            // Says what is missing.
            Visit::open(path)?;
        }
        files.reverse();
        waiting.extend(files);
    }
    let (mut visits, mut open, mut taken) = (Vec::new(), Vec::new(), HashSet::new());
    while let Some(path) = waiting.pop() {
        let folder = match Visit::open_under(&path, args.profile.as_deref()).map_err(Stop::from) {
            Ok(folder) => folder,
            Err(Stop(complaints)) => {
                let why: Vec<String> = complaints.iter().map(Complaint::line).collect();
                open.push(Remark::NotOpened {
                    folder: path.display().to_string(),
                    complaint: why.join("; "),
                });
                unopened.extend(complaints);
                continue;
            }
        };
        let real = std::fs::canonicalize(&folder.file)
            .map_err(|error| Stop::unreadable(&folder.file, &error))?;
        if taken.insert(real) {
            let earlier = folder.gate.visit.iter().flat_map(|visit| &visit.earlier);
            waiting.extend(earlier.map(|name| folder.path.join(name)));
            visits.push(folder);
        }
    }
    if visits.is_empty() {
        return Err(Stop(unopened));
    }
    Ok(Found { visits, open })
}

/// The visits to the gate that is asked for; of several gates one must be named.
fn of_one_gate(found: Found, asked: Option<&str>) -> Result<Found, Stop> {
    let names: BTreeSet<String> = found
        .visits
        .iter()
        .map(|folder| folder.gate.gate.name.clone())
        .collect();
    let listed = || names.iter().cloned().collect::<Vec<_>>().join("; ");
    let name = match asked {
        Some(name) if names.contains(name) => name.to_owned(),
        Some(name) => {
            return Err(Stop::because(
                format_args!("no gate of the name {name:?}"),
                format!("--gate NAME, one of: {}", listed()),
            ));
        }
        None if names.len() > 1 => {
            let question = format!("{} gates are there: which one?", names.len());
            return Err(Complaint::question(question)
                .help(format!("--gate NAME, one of: {}", listed()))
                .into());
        }
        None => names.first().cloned().unwrap_or_default(),
    };
    let visits = found
        .visits
        .into_iter()
        .filter(|folder| folder.gate.gate.name == name)
        .collect();
    Ok(Found { visits, ..found })
}
