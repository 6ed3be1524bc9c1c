//! `relent certificate`: every visit that a calibration certificate or a gauge touches, and what it leaves of each.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::PathBuf;

use clap::Args;
use jiff::civil::Date;
use serde::Serialize;

use crate::cli::assess;
use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::gate::{DatedCertificate, GateFile};
use crate::limitation::{self, Calibration};
use crate::verdict::Verdict;
use crate::visit::{Visit, gate_files};
use crate::words::{Language, Words};

/// Options of `relent certificate`.
#[derive(Args, Debug)]
pub struct CertificateArgs {
    /// Number of the certificate, or serial number of the gauge, as the gate files write it
    #[arg(value_name = "NUMBER")]
    number: String,
    /// Gate files, or folders to look through for them
    #[arg(value_name = "PATH", required = true)]
    paths: Vec<PathBuf>,
    /// Print the list as JSON
    #[arg(long)]
    json: bool,
}

/// How a visit has to do with the certificate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
enum Touch {
    /// Its gate file names the certificate.
    NamesTheCertificate,
    /// Its gate file names the gauge that was asked for.
    NamesTheGauge,
    /// Its gate file names the certificate's gauge, but not the certificate.
    SameGauge,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// The visits that a certificate touches.
pub struct List<'a> {
    schema: &'static str,
    asked: &'a str,
    gauges: &'a [String],
    /// What the gate files name, for somebody who asked for something else.
    #[serde(skip)]
    known: &'a BTreeSet<String>,
    visits: &'a [Touched],
}

/// One touched visit.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Touched {
    folder: String,
    gate: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>"))]
    visit: Option<Date>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gauge: Option<String>,
    touch: Touch,
    calibration_covers: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    calibration: Option<String>,
    /// The same with the certificate entered, for a gate file that does not name it yet.
    #[serde(skip_serializing_if = "Option::is_none")]
    covers_with_certificate: Option<bool>,
    verdict: Verdict,
}

/// Lists the visits; the exit status is that of the worst verdict among them.
pub fn run(args: &CertificateArgs) -> Result<Exit, Stop> {
    let folders = opened(&args.paths)?;
    if folders.is_empty() {
        return Err(Stop::because(
            "no gate.toml in what was given",
            "give gate folders, or a folder above them",
        ));
    }
    let known = known(&folders);
    let asked = args.number.trim();
    let mut gauges: Vec<String> = folders
        .iter()
        .filter(|folder| certificate_is(&folder.gate, asked) || serial(&folder.gate) == Some(asked))
        .filter_map(|folder| serial(&folder.gate).map(str::to_owned))
        .collect();
    gauges.sort();
    gauges.dedup();
    let dated: Vec<DatedCertificate> = folders
        .iter()
        .filter_map(|folder| dated(&folder.gate, asked).cloned())
        .collect();
    let mut visits = Vec::new();
    let mut exits = vec![Exit::Done];
    for folder in folders {
        if let Some(touch) = touch(&folder.gate, asked, &gauges) {
            let (visit, exit) = visit(folder, touch, &dated)?;
            visits.push(visit);
            exits.push(exit);
        }
    }
    visits.sort_by(|one, other| (one.visit, &one.folder).cmp(&(other.visit, &other.folder)));
    let list = List {
        schema: "relent.certificate/1",
        asked,
        gauges: &gauges,
        known: &known,
        visits: &visits,
    };
    if args.json {
        let text = serde_json::to_string_pretty(&list).map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else {
        screen::print(&text(&list));
    }
    Ok(Exit::worst(exits))
}

/// Every gate folder below the paths; what cannot be opened is a complaint, so that no touched visit stays out in silence.
fn opened(paths: &[PathBuf]) -> Result<Vec<Visit>, Stop> {
    let mut folders = Vec::new();
    let mut complaints = Vec::new();
    for path in paths {
        for file in gate_files(path)? {
            match Visit::open(&file).map_err(Stop::from) {
                Ok(folder) => folders.push(folder),
                Err(Stop(more)) => complaints.extend(more),
            }
        }
    }
    if complaints.is_empty() {
        Ok(folders)
    } else {
        Err(Stop(complaints))
    }
}

/// Every certificate and gauge that a gate file names.
fn known(folders: &[Visit]) -> BTreeSet<String> {
    let gauges = folders.iter().filter_map(|it| it.gate.gauge.as_ref());
    let numbers = gauges.flat_map(|gauge| {
        let own = gauge.certificate.iter().map(|it| &it.number);
        let dated = gauge.certificates.iter().map(|it| &it.number);
        own.chain(dated).chain(&gauge.serial)
    });
    numbers.cloned().collect()
}

fn named(known: &BTreeSet<String>) -> String {
    const SHOWN: usize = 12;
    if known.is_empty() {
        return "The gate files name no certificate and no gauge.\n".to_owned();
    }
    let shown: Vec<&str> = known.iter().take(SHOWN).map(String::as_str).collect();
    let more = match known.len().saturating_sub(SHOWN) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    format!("The gate files name: {}{more}\n", shown.join("; "))
}

fn serial(gate: &GateFile) -> Option<&str> {
    gate.gauge.as_ref()?.serial.as_deref()
}

fn dated<'a>(gate: &'a GateFile, number: &str) -> Option<&'a DatedCertificate> {
    let mut all = gate.gauge.as_ref()?.certificates.iter();
    all.find(|certificate| certificate.number == number)
}

fn certificate_is(gate: &GateFile, number: &str) -> bool {
    let own = gate
        .gauge
        .as_ref()
        .and_then(|gauge| gauge.certificate.as_ref());
    own.is_some_and(|certificate| certificate.number == number) || dated(gate, number).is_some()
}

fn touch(gate: &GateFile, asked: &str, gauges: &[String]) -> Option<Touch> {
    let serial = serial(gate);
    if certificate_is(gate, asked) {
        Some(Touch::NamesTheCertificate)
    } else if serial == Some(asked) {
        Some(Touch::NamesTheGauge)
    } else {
        let same = serial.is_some_and(|serial| gauges.iter().any(|gauge| gauge == serial));
        same.then_some(Touch::SameGauge)
    }
}

/// What the certificate leaves of a visit: assessed again from its logs.
fn visit(
    mut folder: Visit,
    touch: Touch,
    dated: &[DatedCertificate],
) -> Result<(Touched, Exit), Stop> {
    let path = folder.path.display().to_string();
    let months = folder.profile.gauge.calibration_months;
    let assessment = assess::assess(&mut folder)?;
    let gate = &assessment.gate;
    let day = gate.visit.as_ref().map(|visit| visit.date);
    let known = gate.calibrations(months);
    let changed = gate.gauge_changes();
    let open = |known: &[Calibration]| match day {
        Some(day) => limitation::calibration(known, &changed, day)
            .map(|one| Words::of(Language::English).said(one).whole()),
        None => Some("The gate file does not give the day of the visit.".to_owned()),
    };
    let with: Vec<Calibration> = known
        .iter()
        .copied()
        .chain(dated.iter().map(|one| one.calibration(months)))
        .collect();
    let reason = open(&known);
    let visit = Touched {
        folder: path,
        gate: gate.gate.name.clone(),
        visit: day,
        gauge: serial(gate).map(str::to_owned),
        touch,
        calibration_covers: reason.is_none(),
        calibration: reason,
        covers_with_certificate: (touch == Touch::SameGauge && !dated.is_empty())
            .then(|| open(&with).is_none()),
        verdict: assessment.overall().verdict,
    };
    Ok((visit, assessment.overall().verdict.into()))
}

fn text(list: &List<'_>) -> String {
    let count = list.visits.len();
    if count == 0 {
        return format!(
            "No visit names {} as its certificate or its gauge.\n{}",
            list.asked,
            named(list.known)
        );
    }
    let plural = if count == 1 { "" } else { "s" };
    let mut text = format!("{} touches {count} visit{plural}.\n", list.asked);
    for visit in list.visits {
        let day = visit
            .visit
            .map_or_else(|| "no date".to_owned(), |day| day.to_string());
        let touch = match visit.touch {
            Touch::NamesTheCertificate => "names the certificate",
            Touch::NamesTheGauge => "names the gauge",
            Touch::SameGauge => "names the certificate's gauge, but not the certificate",
        };
        let gauge = visit.gauge.as_deref().unwrap_or("without a serial number");
        let _ = write!(
            text,
            "\n{day}  {}\n  {}\n  gauge {gauge}: {touch}\n",
            visit.folder, visit.gate
        );
        match &visit.calibration {
            None => text.push_str("  calibration: covers the day of the test\n"),
            Some(why) => {
                let _ = writeln!(text, "  calibration: open. {why}");
            }
        }
        if let Some(covers) = visit.covers_with_certificate {
            let words = if covers { "covers" } else { "does not cover" };
            let _ = writeln!(
                text,
                "  with the certificate entered in its gate file: {words} the day of the test"
            );
        }
        let _ = writeln!(
            text,
            "  as it stands: {}",
            Words::of(Language::English).fact(&visit.verdict)
        );
    }
    text
}
