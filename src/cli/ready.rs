//! `relent ready`: is the gate ready to be driven?

use std::path::PathBuf;

use clap::Args;

use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::folder::GateFolder;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::readiness::{self, Check, CheckState, Readiness};
use crate::record::held::HeldText;
use crate::record::input;
use crate::report;
use crate::words::{Language, Words};

/// Options of `relent ready`.
#[derive(Args, Debug)]
pub struct ReadyArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Print the checks as JSON
    #[arg(long)]
    json: bool,
}

/// Shows what is not in order and what nobody looked at.
pub fn run(args: &ReadyArgs) -> Result<Exit, Stop> {
    let folder = GateFolder::open(&args.gate, None)?;
    screen::complain(&folder.warnings);
    let readiness = of_folder(&folder)?;
    let words = Words::of(Language::English);
    if args.json {
        let text = report::readiness_json(words, &folder.gate.gate.name, &readiness)
            .map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else {
        screen::print(&report::readiness_terminal(
            words,
            &folder.gate.gate.name,
            &readiness,
        ));
    }
    Ok(match readiness.overall() {
        CheckState::InOrder | CheckState::NotApplicable => Exit::Done,
        CheckState::NotInOrder => Exit::Over,
        CheckState::NotChecked => Exit::Undecided,
    })
}

/// The checks of a gate folder with their answers.
///
/// # Errors
/// [`Stop`] if the folder's own list of checks has a fault, or an answer is none.
pub fn of_folder(folder: &GateFolder) -> Result<Readiness, Stop> {
    of_checks(folder, own_checks(folder)?.as_ref())
}

/// The same with the folder's own list of checks already read.
///
/// # Errors
/// [`Stop`] if that list has a fault, or an answer is none.
pub fn of_checks(folder: &GateFolder, own: Option<&HeldText>) -> Result<Readiness, Stop> {
    let readiness = readiness::readiness(&folder.gate, checks(folder, own)?);
    if readiness.errors.is_empty() {
        return Ok(readiness);
    }
    let words = Words::of(Language::English);
    let complaint = |error: &readiness::AnswerError| {
        let error = words.fact(error);
        Complaint::error(format_args!("{}: {error}", folder.file.display()))
            .help("`relent ready` lists the checks of this leaf with their names")
    };
    Err(Stop(readiness.errors.iter().map(complaint).collect()))
}

/// The text of the folder's own list of checks, where the gate file names one.
///
/// # Errors
/// [`Stop`] if it cannot be read.
pub fn own_checks(folder: &GateFolder) -> Result<Option<HeldText>, Stop> {
    let section = folder.gate.readiness.as_ref();
    let Some(name) = section.and_then(|section| section.more_checks.as_deref()) else {
        return Ok(None);
    };
    let path = folder.path.join(name);
    let text = input::text(&path, input::MOST_OF_A_TEXT)
        .map_err(|error| Stop::unreadable(&path, &error))?;
    Ok(Some(HeldText::new(name, text)))
}

/// The built-in checks and the folder's own after them.
///
/// # Errors
/// [`Stop`] if the list of its own has a fault.
pub fn checks(folder: &GateFolder, own: Option<&HeldText>) -> Result<Vec<Check>, Stop> {
    let built_in = readiness::built_in();
    let Some(own) = own else {
        return Ok(built_in);
    };
    let path = folder.path.join(&own.name);
    readiness::parse(&path.display().to_string(), &own.text, built_in).map_err(|error| {
        Stop::because(
            error,
            "a check is a [[check]] with name, question, source and known_from; a measured one has a unit and a limit too",
        )
    })
}
