//! `relent new`: a gate folder from a few answers, and the list of papers to ask for when a gate is taken over without any.

use std::io::{self, BufRead, Write as _};
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::civil::Date;

use crate::cli::complaint;
use crate::cli::exit::Exit;
use crate::cli::new_text::{gate_file, missing_papers};
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::fact::Fact;
use crate::gate::{self, GateFile};
use crate::limits::{Motion, VisitKind};
use crate::visit::{GATE_FILE, profile};

/// The list of papers of a gate that is taken over.
const PAPERS_FILE: &str = "missing-papers.md";

/// Options of `relent new`.
#[derive(Args, Clone, Debug)]
pub struct NewArgs {
    /// Folder to start; what is in it stays as it is
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
    /// What the gate is called. The default is the name of the folder
    #[arg(long)]
    pub(super) name: Option<String>,
    /// How the leaf moves: sliding, swing, folding, vertical or boom
    #[arg(long, value_parser = motion)]
    motion: Option<Motion>,
    /// Height of the leaf in mm, from the ground to its top
    #[arg(long, value_name = "MM")]
    pub(super) height: Option<f64>,
    /// Width of the leaf in mm
    #[arg(long, value_name = "MM")]
    pub(super) width: Option<f64>,
    /// Clear opening in mm
    #[arg(long, value_name = "MM")]
    pub(super) opening: Option<f64>,
    /// Mass of the leaf in kg
    #[arg(long, value_name = "KG")]
    pub(super) mass: Option<f64>,
    /// Mass in kg that the drive is rated for
    #[arg(long, value_name = "KG")]
    pub(super) rated_mass: Option<f64>,
    /// Day of the visit, as 2026-11-25
    #[arg(long, value_name = "DAY")]
    pub(super) date: Option<Date>,
    /// Kind of the visit: first, recurring or after-change
    #[arg(long, value_name = "KIND", value_parser = visit, default_value = "first")]
    pub(super) visit: VisitKind,
    /// Limit profile
    #[arg(long, value_name = "PROFILE", default_value = "en12453-2017")]
    pub(super) profile: String,
    /// Taking over a gate without papers: write the list of documents to ask for too
    #[arg(long)]
    no_papers: bool,
}

/// Writes the folder; asks only where a person sits at a terminal.
pub fn run(args: &NewArgs) -> Result<Exit, Stop> {
    let mut args = args.clone();
    if args.motion.is_none() && screen::can_ask() {
        ask(&mut args)?;
    }
    let Some(motion) = args.motion else {
        return Err(Stop::because(
            "how does the leaf move?",
            "give --motion sliding, swing, folding, vertical or boom",
        ));
    };
    profile::find(&args.profile, &args.folder)?;
    let path = args.folder.join(GATE_FILE);
    let papers = args.folder.join(PAPERS_FILE);
    let wanted = [Some(&path), args.no_papers.then_some(&papers)];
    if let Some(there) = wanted.into_iter().flatten().find(|path| path.exists()) {
        return Err(Stop::because(
            format_args!("{} is there already", there.display()),
            "`relent new` overwrites nothing: take another folder, or edit the file",
        ));
    }
    let text = gate_file(&args, motion);
    let gate = checked(&text, &path)?;
    output::make_folder(&args.folder.join("logs"))?;
    let more = args.no_papers.then(|| missing_papers(&gate));
    if let Some(more) = &more {
        output::write_whole(&papers, Kind::Once, more.as_bytes())?;
    }
    // Last: where it stands, the folder is started.
    output::write_whole(&path, Kind::Once, text.as_bytes())?;
    screen::print(&format!("Written: {}\n", visible::name(&path)));
    if more.is_some() {
        screen::print(&format!("Written: {}\n", visible::name(&papers)));
    }
    let shown = visible::name(&args.folder);
    screen::print(&format!(
        "Logs go into: {}\n\nNext\n  relent plan {shown}    which hits to make, and under which names to save them\n  relent ready {shown}   what to look at before the gate is driven\n  relent watch {shown}   assesses each log as it lands, and names what comes next\n  relent assess {shown}\n",
        visible::name(&args.folder.join("logs"))
    ));
    Ok(Exit::Done)
}

/// The new gate file as it would be read; a number that a gate file does not take is a complaint, and nothing is written.
fn checked(text: &str, path: &Path) -> Result<GateFile, Stop> {
    match gate::read(text.as_bytes()) {
        Ok(read) => Ok(read.file),
        Err(error) => Err(Stop(complaint::gate_file(
            &path.display().to_string(),
            &error,
        ))),
    }
}

/// Puts the questions; an empty line leaves the answer open.
fn ask(args: &mut NewArgs) -> Result<(), Stop> {
    if args.name.is_none() {
        args.name = question("What is the gate called?")?;
    }
    args.motion = parsed(
        "How does the leaf move: sliding, swing, folding, vertical or boom?",
        motion,
    )?;
    let size = |text: &str| -> Result<f64, String> {
        let number = text.replace(',', ".").parse::<f64>();
        number
            .ok()
            .filter(|number| number.is_finite() && *number > 0.0)
            .ok_or_else(|| "expected a number above 0".to_owned())
    };
    let open = [
        ("Height of the leaf in mm?", &mut args.height),
        ("Width of the leaf in mm?", &mut args.width),
        ("Clear opening in mm?", &mut args.opening),
        ("Mass of the leaf in kg?", &mut args.mass),
        (
            "Mass in kg that the drive is rated for?",
            &mut args.rated_mass,
        ),
    ];
    for (text, answer) in open {
        if answer.is_none() {
            *answer = parsed(text, size)?;
        }
    }
    if args.date.is_none() {
        args.date = parsed("Day of the visit, as 2026-11-25?", |text| {
            text.parse()
                .map_err(|_| "expected a day as 2026-11-25".to_owned())
        })?;
    }
    Ok(())
}

/// Asks until the answer can be taken; `None` for an empty one.
fn parsed<T>(text: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Option<T>, Stop> {
    while let Some(reply) = question(text)? {
        match read(&reply) {
            Ok(value) => return Ok(Some(value)),
            Err(expected) => screen::tell(&expected),
        }
    }
    Ok(None)
}

fn question(text: &str) -> Result<Option<String>, Stop> {
    let failed = |error: io::Error| Stop::because(error, "give the answers as options instead");
    let mut err = io::stderr().lock();
    write!(err, "{text} (empty if not known) ").map_err(failed)?;
    err.flush().map_err(failed)?;
    let mut reply = String::new();
    io::stdin().lock().read_line(&mut reply).map_err(failed)?;
    let reply = reply.trim().to_owned();
    Ok((!reply.is_empty()).then_some(reply))
}

fn motion(text: &str) -> Result<Motion, String> {
    Motion::ALL
        .into_iter()
        .find(|motion| motion.code() == text)
        .ok_or_else(|| "expected sliding, swing, folding, vertical or boom".to_owned())
}

/// The kind of a visit by its name.
pub(super) fn visit(text: &str) -> Result<VisitKind, String> {
    match text {
        "first" => Ok(VisitKind::First),
        "recurring" => Ok(VisitKind::Recurring),
        "after-change" => Ok(VisitKind::AfterChange),
        _ => Err("expected first, recurring or after-change".to_owned()),
    }
}
