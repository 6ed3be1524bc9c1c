//! `relent compare`: two or more series of hits on the same test points, and how sure the difference is.

use std::path::{Path, PathBuf};

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

use crate::cli::assess::assess;
use crate::cli::complaint::{self, Complaint};
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::compare::{
    Arrangement, Aspect, Bearing, COMPARED, Confidence, Counting, Goal, Margin, Outcome, Question,
    Series, StatisticsError, Terms, copies, differences, needs, study,
};
use crate::fact::Fact;
use crate::gate::LogsSection;
use crate::ingest;
use crate::measure::Measure;
use crate::report::comparison::{
    Against, Comparison, compare_json, compare_page, compare_text, design_json, design_text,
};
use crate::visit::Visit;
use crate::words::{Language, Words};

/// What the exit status says here.
pub const EXITS: &str = "\
Exit status: 0 compared, and with a margin: not worse by it anywhere; 1 worse by more than the margin somewhere; 2 the work \
could not be done; 3 undecided, or a difference of gate, drive, edge, gauge or temperature must be accepted first.

A margin is chosen before the hits are made, not after. Local codes and licensed practice come first.";

/// Options of `relent compare`.
#[derive(Args, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch of the command line"
)]
pub struct CompareArgs {
    /// Gate folders, the reference first; or one, with --series
    #[arg(value_name = "GATE", required = true)]
    gates: Vec<PathBuf>,
    /// Folder of logs of one version within the gate folder, the reference first; repeat it
    #[arg(long, value_name = "FOLDER")]
    series: Vec<String>,
    /// Force by which a version may be worse, for all forces
    #[arg(long, value_name = "N")]
    margin_force: Option<f64>,
    /// Time by which a version may be worse, for all times
    #[arg(long, value_name = "MS")]
    margin_time: Option<f64>,
    /// Impulse by which a version may be worse
    #[arg(long, value_name = "NS")]
    margin_impulse: Option<f64>,
    /// Measure to compare instead of the usual seven; repeat it
    #[arg(long, value_name = "MEASURE", value_parser = comparable().try_map(|name| name.parse::<Measure>()))]
    measure: Vec<Measure>,
    /// Confidence of the intervals; each one-sided claim may be wrong with half of the rest
    #[arg(long, value_name = "PERCENT", default_value_t = 95.0)]
    confidence: f64,
    /// Hit 1 of one series was made next to hit 1 of the other, and so on
    #[arg(long)]
    paired: bool,
    /// Compare although this differs, or is not known; repeat it. The report says so
    #[arg(long, value_name = "WHAT", value_enum)]
    accept: Vec<Accept>,
    /// How far the temperatures of two visits may lie apart
    #[arg(long, value_name = "CELSIUS", default_value_t = 10.0)]
    temperature_band: f64,
    /// Assess limitations and levels by another limit profile than the gate files name
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Seed of the drawn permutations, where there are too many to count all
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// How many hits are needed: take the series as a pilot, with a margin
    #[arg(long)]
    design: bool,
    /// Probability with which --design is to show "not worse"
    #[arg(
        long,
        value_name = "PERCENT",
        default_value_t = 80.0,
        requires = "design"
    )]
    power: f64,
    /// Folder of the report. The default is `comparison` in the last gate folder
    #[arg(long, value_name = "FOLDER")]
    report: Option<PathBuf>,
    /// Print the comparison as JSON instead of the summary
    #[arg(long)]
    json: bool,
    /// Print only: write no report
    #[arg(long, conflicts_with = "report")]
    no_report: bool,
}

/// A difference that a person can accept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Accept {
    Gate,
    Drive,
    Edge,
    Gauge,
    Temperature,
}

impl Accept {
    const fn aspect(self) -> Aspect {
        match self {
            Self::Gate => Aspect::Gate,
            Self::Drive => Aspect::Drive,
            Self::Edge => Aspect::Edge,
            Self::Gauge => Aspect::Gauge,
            Self::Temperature => Aspect::Temperature,
        }
    }
}

/// Arrangements of which all are counted, and draws where there are more.
const MOST_EXACT: u64 = 200_000;
const DRAWS: u64 = 99_999;
/// The spread of a pilot is taken this sure, and this many hits are looked at.
const CARE: f64 = 0.8;
const MOST_HITS: u32 = 200;

/// The names of the measures that may be compared.
fn comparable() -> PossibleValuesParser {
    let all = Measure::ALL.into_iter();
    PossibleValuesParser::new(all.filter(|one| one.may_be_limited()).map(Measure::id))
}

/// Compares series and writes the report.
pub fn run(args: &CompareArgs) -> Result<Exit, Stop> {
    let terms = terms(args)?;
    let (folders, names) = folders(args)?;
    if args.design {
        return design(args, &terms, read(folders, names)?);
    }
    if names.len() < 2 {
        return Err(Stop::because(
            "one series alone cannot be compared: expected two gate folders, or --series twice",
            "`relent compare BEFORE AFTER`, or `relent compare GATE --series OLD --series NEW`",
        ));
    }
    let place = place(args, &folders);
    let comparison = compare(args, read(folders, names)?, &terms)?;
    let open = questions(&comparison);
    if !open.is_empty() {
        return Err(Stop(open));
    }
    let words = Words::of(Language::English);
    let json = compare_json(words, &comparison).map_err(Stop::fault)?;
    let written = place
        .map(|place| write(&comparison, &json, &place))
        .transpose()?;
    if args.json {
        screen::data(&String::from_utf8_lossy(&json));
    } else {
        screen::print(&compare_text(words, &comparison));
        if let Some(page) = written {
            screen::print(&format!("\nReport: {}\n", visible::name(&page)));
        }
    }
    Ok(Exit::worst(comparison.against.iter().map(
        |it| match it.study.outcome() {
            Outcome::NoMargin | Outcome::NotWorse => Exit::Done,
            Outcome::WorseBeyondMargin { .. } => Exit::Over,
            Outcome::Undecided { .. } => Exit::Undecided,
        },
    )))
}

fn wrong(option: &str) -> impl Fn(StatisticsError) -> Stop + '_ {
    move |error| {
        Stop::because(
            format!("{option}: {error}"),
            "`relent compare --help` tells what each option takes",
        )
    }
}

fn terms(args: &CompareArgs) -> Result<Terms, Stop> {
    let margin = |option: &str, value: Option<f64>, factor: f64| {
        value
            .map(|value| Margin::new(value * factor).map_err(wrong(option)))
            .transpose()
    };
    let terms = Terms {
        measures: if args.measure.is_empty() {
            COMPARED.to_vec()
        } else {
            args.measure.clone()
        },
        confidence: Confidence::new(args.confidence / 100.0).map_err(wrong("--confidence"))?,
        margin_force_n: margin("--margin-force", args.margin_force, 1.0)?,
        margin_time_s: margin("--margin-time", args.margin_time, 1e-3)?,
        margin_impulse_ns: margin("--margin-impulse", args.margin_impulse, 1.0)?,
        arrangement: if args.paired {
            Arrangement::Paired
        } else {
            Arrangement::Separate
        },
        counting: Counting {
            most_exact: MOST_EXACT,
            draws: DRAWS,
            seed: args.seed,
        },
    };
    terms.alpha().map_err(wrong("--confidence"))?;
    if !(args.temperature_band >= 0.0 && args.temperature_band.is_finite()) {
        return Err(Stop::because(
            format!(
                "--temperature-band: found {}, expected a number of °C from 0",
                args.temperature_band
            ),
            "`relent compare --help` tells what each option takes",
        ));
    }
    Ok(terms)
}

/// The folders of the series, with the names that tell them apart.
fn folders(args: &CompareArgs) -> Result<(Vec<Visit>, Vec<String>), Stop> {
    let open = |path: &Path| Visit::open_under(path, args.profile.as_deref());
    if args.series.is_empty() {
        let folders: Vec<Visit> = args
            .gates
            .iter()
            .map(|path| open(path))
            .collect::<Result<_, _>>()?;
        return Ok((folders, names(&args.gates)));
    }
    let [gate] = args.gates.as_slice() else {
        return Err(Stop::because(
            format!(
                "{} gate folders and --series found, expected one gate folder with --series",
                args.gates.len()
            ),
            "--series names folders of logs within one gate folder; without it, give several gate folders",
        ));
    };
    let mut folders = Vec::new();
    for series in &args.series {
        let mut folder = open(gate)?;
        let logs = folder.gate.logs.get_or_insert_with(LogsSection::default);
        logs.folder = Some(series.clone());
        folders.push(folder);
    }
    let paths: Vec<PathBuf> = args.series.iter().map(PathBuf::from).collect();
    Ok((folders, names(&paths)))
}

/// The last part of each path, or the whole paths where these are not different; numbered where even those are the same.
fn names(paths: &[PathBuf]) -> Vec<String> {
    let distinct = |names: &[String]| {
        let mut sorted = names.to_vec();
        sorted.sort();
        sorted.dedup();
        sorted.len() == names.len()
    };
    let short: Vec<String> = paths
        .iter()
        .map(|path| {
            path.file_name()
                .unwrap_or(path.as_os_str())
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let long: Vec<String> = paths
        .iter()
        .map(|path| path.display().to_string())
        .collect();
    if distinct(&short) {
        short
    } else if distinct(&long) {
        long
    } else {
        let numbered = long.into_iter().enumerate();
        numbered
            .map(|(at, name)| format!("{name} ({})", at + 1))
            .collect()
    }
}

fn read(folders: Vec<Visit>, names: Vec<String>) -> Result<Vec<Series>, Stop> {
    let mut told: Vec<Vec<Complaint>> = Vec::new();
    for folder in &folders {
        let odd = complaint::odd(folder);
        // Several series of one gate file share its warnings.
        if !told.contains(&odd) {
            screen::complain(&odd);
            told.push(odd);
        }
    }
    let named = folders.into_iter().zip(names);
    named
        .map(|(mut folder, name)| {
            let shown = folder.logs_folder();
            let assessment = assess(&mut folder)?;
            if assessment.hits.is_empty() {
                return Err(Stop::because(
                    format!("{}: no log of a hit in this folder", shown.display()),
                    "check [logs] in the gate file, and the folder of --series",
                ));
            }
            Ok(Series { name, assessment })
        })
        .collect()
}

fn compare(args: &CompareArgs, series: Vec<Series>, terms: &Terms) -> Result<Comparison, Stop> {
    let Some((reference, others)) = series.split_first() else {
        return Err(Stop(Vec::new()));
    };
    let words = Words::of(Language::English);
    let mut against = Vec::new();
    for other in others {
        let found = differences(reference, other, args.temperature_band);
        let mut forbidden: Vec<Complaint> = found
            .iter()
            .filter(|it| it.bearing == Bearing::Forbids)
            .map(|it| {
                Complaint::error(format!("{} and {} cannot be compared: {}", reference.name, other.name, words.fact(it)))
                    .help("compare series with the same motion and the same levels; --profile reads both by one profile")
            })
            .collect();
        forbidden.extend(copies(reference, other).into_iter().map(|(before, after)| {
            Complaint::error(format!(
                "{before} of {} and {after} of {} hold the same samples",
                reference.name, other.name
            ))
            .help("a copied log is no second measurement: take it out of one of the series")
        }));
        if !forbidden.is_empty() {
            return Err(Stop(forbidden));
        }
        against.push(Against {
            differences: found,
            study: study(reference, other, terms),
        });
    }
    Ok(Comparison {
        against,
        accepted: args.accept.iter().map(|it| it.aspect()).collect(),
        temperature_band_c: args.temperature_band,
        series,
    })
}

/// What must be accepted first.
fn questions(comparison: &Comparison) -> Vec<Complaint> {
    let words = Words::of(Language::English);
    comparison
        .open()
        .map(|(against, difference)| {
            Complaint::question(format!(
                "{} and {} differ in more than the version: {}",
                against.study.before,
                against.study.after,
                words.fact(difference)
            ))
            .help(format!(
                "--accept {} compares all the same and says so in the report; the effect may then come from it",
                difference.aspect.code()
            ))
        })
        .collect()
}

fn place(args: &CompareArgs, folders: &[Visit]) -> Option<PathBuf> {
    match (&args.report, args.no_report) {
        (_, true) => None,
        (Some(place), false) => Some(place.clone()),
        (None, false) => Some(folders.last()?.path.join("comparison")),
    }
}

fn write(comparison: &Comparison, json: &[u8], place: &Path) -> Result<PathBuf, Stop> {
    let words = Words::of(Language::English);
    output::make_folder(place)?;
    let mut files = output::Set::begin(place, "compare.sha256");
    files.add("compare.json", Kind::Json("compare"), json)?;
    let page = compare_page(words, comparison, &ingest::sha256(json));
    files.add("compare.html", Kind::Page, &page)?;
    files.publish()?;
    Ok(place.join("compare.html"))
}

fn design(args: &CompareArgs, terms: &Terms, pilots: Vec<Series>) -> Result<Exit, Stop> {
    if terms.measures.iter().all(|it| terms.margin(*it).is_none()) {
        return Err(Stop::because(
            "--design without a margin: expected at least one of --margin-force, --margin-time and --margin-impulse",
            "how many hits are needed depends on how small a worsening must be excluded",
        ));
    }
    if !(args.power > 0.0 && args.power < 100.0) {
        return Err(Stop::because(
            format!(
                "--power: found {}, expected a number of percent between 0 and 100",
                args.power
            ),
            "80 and 90 are usual",
        ));
    }
    let goal = Goal {
        power: args.power / 100.0,
        question: Question::NotWorse,
        care: Confidence::new(CARE).map_err(wrong("--design"))?,
        most: MOST_HITS,
    };
    let words = Words::of(Language::English);
    let found = needs(&pilots, terms, goal);
    if args.json {
        let json = design_json(words, &found, terms, goal).map_err(Stop::fault)?;
        screen::data(&String::from_utf8_lossy(&json));
    } else {
        screen::print(&design_text(words, &found, terms, goal));
    }
    Ok(Exit::Done)
}
