//! `relent assess`: a gate folder becomes a verdict and a report.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::complaint::{self, Complaint};
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::seal::{self, Sealed, Signer, Standing};
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::ingest;
use crate::record;
use crate::record::body::Body;
use crate::record::digests::DIGESTS;
use crate::report::{self, Budgets, RecordDigest};
use crate::view;
use crate::view::column::columns;
use crate::visit::Assessment;
use crate::visit::{NotMeasured, Visit};
use crate::words::{Language, Words};

/// The page for a gate that must not be used. A run that finds no reason for it removes the page of an earlier run.
const UNSAFE_NOTE: &str = "must-not-stay.html";

/// The folder of the report in the gate folder, where no other is given.
pub const REPORT: &str = "report";

/// The page of the report.
const PAGE: &str = "report.html";

/// Options of `relent assess`.
#[derive(Args, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch of the command line"
)]
pub struct AssessArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Folder of the report. The default is `report` in the gate folder
    #[arg(long, value_name = "FOLDER")]
    report: Option<PathBuf>,
    /// Assess against another limit profile than the gate file names; the record says so
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Print the assessment as JSON instead of the summary
    #[arg(long)]
    json: bool,
    /// Print the uncertainty of each finding, line by line, and put all of it into the report
    #[arg(long)]
    budget: bool,
    /// Folder of an earlier visit to this gate, as `visit.earlier` in the gate file: a log that is a copy of one of its
    /// logs is named, and its reading is not valid. May be given several times
    #[arg(long, value_name = "FOLDER")]
    earlier: Vec<PathBuf>,
    /// Assess and print only: write no report
    #[arg(long, conflicts_with = "report")]
    no_report: bool,
    /// Write a sealed record beside the report: record.json, which `relent recheck` checks years later
    #[arg(long, conflicts_with = "no_report")]
    seal: bool,
    /// Sign the sealed record with your own Ed25519 key in OpenSSH's format: record.json.sig
    #[arg(long, value_name = "KEY", requires = "seal")]
    sign: Option<PathBuf>,
}

/// Assesses a gate folder and writes its report.
pub fn run(args: &AssessArgs) -> Result<Exit, Stop> {
    let mut visit = Visit::open_under(&args.gate, args.profile.as_deref())?;
    visit.add_earlier(&args.earlier)?;
    let place = match (&args.report, args.no_report) {
        (_, true) => None,
        (Some(place), false) => Some(place.clone()),
        (None, false) => Some(visit.path.join(REPORT)),
    };
    if let Some(place) = &place {
        if !args.seal {
            seal::leave_alone(place)?;
        }
        output::make_folder(place)?;
    }
    screen::complain(&complaint::odd(&visit));
    let signer = args.sign.as_deref().map(Signer::open).transpose()?;
    let assessment = assess(&mut visit)?;
    let words = Words::of(Language::English);
    screen::complain(&complaint::unplaced(&assessment.beside));
    if args.seal {
        sealable(words, &assessment)?;
    }
    let budgets = if args.budget {
        Budgets::Every
    } else {
        Budgets::Nearest
    };
    let written = match &place {
        Some(place) => {
            let sealed = if args.seal {
                let record = record(&assessment, &visit, place)?;
                Some(Sealed::new(record, signer.as_ref(), Standing::Kept)?)
            } else {
                None
            };
            Some(write_report(&assessment, place, budgets, sealed.as_ref())?)
        }
        None => None,
    };
    if args.json {
        screen::data(&String::from_utf8_lossy(&json(&assessment)?));
    } else {
        screen::print(&report::terminal(words, &assessment, screen::width()));
        if args.budget {
            screen::print(&report::budgets(words, &assessment));
        }
        if let Some(page) = &written {
            screen::print(&format!("\nReport: {}\n", visible::name(page)));
        }
        if let Some(place) = place.filter(|_| args.seal) {
            let record = place.join(seal::RECORD);
            screen::print(&format!("Sealed record: {}\n", visible::name(&record)));
        }
    }
    Ok(assessment.overall().verdict.into())
}

/// A record holds the digest of every log: one whose bytes cannot be read cannot be sealed.
fn sealable(words: &Words, assessment: &Assessment) -> Result<(), Stop> {
    let unread = assessment.all_hits().filter_map(|hit| match &hit.measurement {
        Err(why @ NotMeasured::Unreadable { .. }) => {
            let what = format!("{}: {}", hit.file, words.fact(why));
            Some(Complaint::error(what).help("a sealed record needs the bytes of every log: assess again when it can be read"))
        }
        _ => None,
    });
    let unread: Vec<Complaint> = unread.collect();
    match unread.is_empty() {
        true => Ok(()),
        false => Err(Stop(unread)),
    }
}

/// Assesses a visit; a log of an earlier visit that cannot be read is told.
pub fn assess(visit: &mut Visit) -> Result<Assessment, Stop> {
    let blind = visit.look_back()?;
    let blind: Vec<_> = blind.iter().map(complaint::blind).collect();
    screen::complain(&blind);
    Ok(visit.assess()?)
}

/// The bytes of the sealed record of an assessment, for the folder in which it will lie.
pub fn record(assessment: &Assessment, visit: &Visit, place: &Path) -> Result<Vec<u8>, Stop> {
    let way = seal::way(place, &visit.path);
    let body = Body::new(assessment, visit.sources.clone(), way);
    record::seal::seal(&body).map_err(Stop::fault)
}

/// Writes the files of the report, each whole or not at all and all of one run; returns the page. `sealed`: the sealed record,
/// where there is one, whose digest the page then carries instead of that of assessment.json.
pub fn write_report(
    assessment: &Assessment,
    place: &Path,
    budgets: Budgets,
    sealed: Option<&Sealed>,
) -> Result<PathBuf, Stop> {
    let words = Words::of(Language::English);
    let json = json(assessment)?;
    let table = view::findings_csv(words, assessment).map_err(Stop::fault)?;
    let record = match sealed {
        Some(sealed) => RecordDigest::sealed(ingest::sha256(sealed.record())),
        None => RecordDigest::assessment(ingest::sha256(&json)),
    };
    let page = report::html(words, assessment, &record, budgets).map_err(Stop::fault)?;
    let note = report::unsafe_note(words, assessment, &record);
    let mut files = output::Set::begin(place, DIGESTS);
    match sealed {
        Some(sealed) => sealed.add(place, &mut files)?,
        None => seal::leave_alone(place)?,
    }
    files.add("assessment.json", Kind::Json("assessment"), &json)?;
    files.add(
        "findings.csv",
        Kind::Table(columns::<view::Found<'_>>),
        &table,
    )?;
    files.add(PAGE, Kind::Page, &page)?;
    match note {
        Some(page) => files.add(UNSAFE_NOTE, Kind::Page, &page)?,
        None => files.without(UNSAFE_NOTE, Kind::Page)?,
    }
    files.publish()?;
    Ok(place.join(PAGE))
}

/// `assessment.json` of an assessment.
pub fn json(assessment: &Assessment) -> Result<Vec<u8>, Stop> {
    report::assessment_json(Words::of(Language::English), assessment).map_err(Stop::fault)
}
