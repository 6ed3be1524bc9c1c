//! `relent assess`: a gate folder becomes a verdict and a report.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::assess::{self, Assessment};
use crate::cli::earlier;
use crate::cli::exit::Exit;
use crate::cli::folder::GateFolder;
use crate::cli::output;
use crate::cli::ready;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::ingest;
use crate::report::{self, Budgets};

/// The page of its own for a gate that must not stay as it is. Where nothing says so, one of an earlier run is taken away.
const UNSAFE_NOTE: &str = "must-not-stay.html";

/// The page of the report.
const PAGE: &str = "report.html";

/// Options of `relent assess`.
#[derive(Args, Debug)]
pub struct AssessArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Folder of the report. The default is `report` in the gate folder
    #[arg(long, value_name = "FOLDER")]
    report: Option<PathBuf>,
    /// Judge against another limit profile than the gate file names; the record says so
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Print the assessment as JSON instead of the summary
    #[arg(long)]
    json: bool,
    /// Print the uncertainty of each finding, line by line, and put all of it into the report
    #[arg(long)]
    budget: bool,
    /// Folder of an earlier visit to this gate, as `visit.earlier` in the gate file: a log that is a copy of one of its
    /// logs is named and proves nothing. May be given several times
    #[arg(long, value_name = "FOLDER")]
    earlier: Vec<PathBuf>,
    /// Judge and print only: write no report
    #[arg(long, conflicts_with = "report")]
    no_report: bool,
}

/// Judges a gate folder and writes its report.
pub fn run(args: &AssessArgs) -> Result<Exit, Stop> {
    let mut folder = GateFolder::open(&args.gate, args.profile.as_deref())?;
    earlier::name(&mut folder, &args.earlier)?;
    let place = match (&args.report, args.no_report) {
        (_, true) => None,
        (Some(place), false) => Some(place.clone()),
        (None, false) => Some(folder.path.join("report")),
    };
    if let Some(place) = &place {
        output::make_folder(place)?;
    }
    screen::complain(&folder.warnings);
    let assessment = judge(folder)?;
    let budgets = if args.budget {
        Budgets::Every
    } else {
        Budgets::Nearest
    };
    let written = place
        .as_deref()
        .map(|place| write_report(&assessment, place, budgets))
        .transpose()?;
    if args.json {
        screen::print(&String::from_utf8_lossy(&json(&assessment)?));
    } else {
        screen::print(&report::terminal(&assessment, screen::width()));
        if args.budget {
            screen::print(&report::budgets(&assessment));
        }
        if let Some(page) = written {
            screen::print(&format!("\nReport: {}\n", page.display()));
        }
    }
    Ok(assessment.overall().verdict.into())
}

/// Reads the logs of an opened folder and assesses them.
pub fn judge(folder: GateFolder) -> Result<Assessment, Stop> {
    let placed = folder.placed()?;
    let (earlier, warnings) = earlier::logs(&folder)?;
    screen::complain(&warnings);
    let logs = folder.load(placed.hits)?;
    let readiness = ready::of_folder(&folder)?;
    let assessment = assess::assess(folder.gate, folder.profile, logs, &folder.answers, &earlier);
    Ok(Assessment {
        readiness,
        ..assessment
    })
}

/// Writes the files of the report, each whole or not at all and all of one run; returns the page.
pub fn write_report(
    assessment: &Assessment,
    place: &Path,
    budgets: Budgets,
) -> Result<PathBuf, Stop> {
    let json = json(assessment)?;
    let table = report::findings_csv(assessment).map_err(Stop::fault)?;
    let page = report::html(assessment, &ingest::sha256(&json), budgets).map_err(Stop::fault)?;
    let note = report::unsafe_note(assessment);
    let mut files = output::Set::begin(place);
    files.add("assessment.json", &json)?;
    files.add("findings.csv", &table)?;
    files.add(PAGE, &page)?;
    match note {
        Some(page) => files.add(UNSAFE_NOTE, &page)?,
        None => files.without(UNSAFE_NOTE),
    }
    files.publish()?;
    Ok(place.join(PAGE))
}

/// `assessment.json` of an assessment.
pub fn json(assessment: &Assessment) -> Result<Vec<u8>, Stop> {
    report::assessment_json(assessment).map_err(Stop::fault)
}
