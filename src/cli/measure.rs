//! `relent measure`: the measures of loose logs, many at once.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;
use indicatif::ProgressBar;
use rayon::prelude::*;

use crate::cli::answers::{self as options, AnswerArgs};
use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::output::{Draft, Kind, WriteError};
use crate::cli::stop::{self, Stop};
use crate::cli::visible::on_one_line;
use crate::cli::{logs, screen};
use crate::ingest::{self, Answers};
use crate::limits::Profile;
use crate::measure::{GaugeFacts, Measure, Zeroing};
use crate::quantity::{MillimetrePerSecond, NewtonPerMillimetre};
use crate::view::MeasuredLog;
use crate::view::column::columns;
use crate::view::table::CsvTable;
use crate::visit::{NotMeasured, caught, input, profile};
use crate::words::{Language, Words};

/// Logs measured together before their rows are written: bounds the memory whatever the archive.
const BATCH: usize = 128;

/// Logs that one thread takes at most before another may take what is left: at the end of a batch no thread waits long.
const FEW: usize = 4;

/// Options of `relent measure`.
#[derive(Args, Debug)]
pub struct MeasureArgs {
    /// Logs, or folders of logs
    #[arg(required = true, value_name = "LOG")]
    paths: Vec<PathBuf>,
    /// Limit profile whose levels and periods are used; see `relent limits`
    #[arg(long, value_name = "PROFILE", default_value = "en12453-2017")]
    profile: String,
    /// Rate of the gauge's spring in N/mm, for over-travel and energy
    #[arg(long, value_name = "N_PER_MM")]
    spring_rate: Option<f64>,
    /// Approach speed of the leaf in mm/s, where the log has no position or speed
    #[arg(long, value_name = "MM_PER_S")]
    approach_speed: Option<f64>,
    /// The gauge zeroes itself before each hit: its zero is 0 where the log has no quiet stretch
    #[arg(long)]
    zeroes_itself: bool,
    /// One JSON object a log, one log a line
    #[arg(long)]
    json: bool,
    /// Write the measures as one table
    #[arg(long, value_name = "FILE", require_equals = true)]
    csv: Option<PathBuf>,
    #[command(flatten)]
    answers: AnswerArgs,
}

/// What became of one log.
pub(super) enum Measured {
    Log(Box<MeasuredLog>),
    Asks(String),
    Refused(Complaint),
}

/// What every log is measured with.
pub(super) struct Setting {
    pub(super) answers: Answers,
    pub(super) profile: Profile,
    pub(super) gauge: GaugeFacts,
}

/// Measures every log; a bad one does not stop the rest.
pub fn run(args: &MeasureArgs) -> Result<Exit, Stop> {
    let setting = setting(args)?;
    let paths = logs::gather(&args.paths, args.csv.as_deref())?;
    if paths.is_empty() {
        return Err(Stop::because(
            "no log in the folders given",
            format!("expected files ending in {}", logs::LOG_ENDINGS.join(", ")),
        ));
    }
    let mut table = args.csv.as_deref().map(Table::create).transpose()?;
    let progress = progress(paths.len(), "logs");
    let mut summary = Summary::default();
    let mut batches = paths.chunks(BATCH);
    let mut next = || {
        let batch = batches.next()?;
        let measured = batch
            .par_iter()
            .with_max_len(FEW)
            .map_init(room, |bytes, path| measure_every(path, bytes, &setting));
        Some((batch, measured.collect()))
    };
    let mut tell = |batch: &[PathBuf], measured: Vec<Vec<Measured>>| -> Result<(), Stop> {
        for (path, measured) in batch.iter().zip(measured).flat_map(each) {
            match measured {
                Measured::Log(log) => {
                    summary.measured += 1;
                    if let Some(table) = &mut table {
                        table.add(&log)?;
                    }
                    show(&log, args, paths.len())?;
                }
                Measured::Asks(text) => summary.ask(path, text),
                Measured::Refused(complaint) => summary.refuse(complaint),
            }
        }
        progress.inc(batch.len() as u64);
        Ok(())
    };
    let mut ready = next();
    while let Some((batch, measured)) = ready {
        // The rows of a batch are written while the next one is measured.
        let (following, told) = rayon::join(&mut next, || tell(batch, measured));
        told?;
        ready = following;
    }
    progress.finish_and_clear();
    if let Some(table) = table {
        table.publish()?;
    }
    Ok(summary.close())
}

/// Memory for the bytes of a usual log; a longer one takes more.
fn room() -> Vec<u8> {
    Vec::with_capacity(1 << 18)
}

fn setting(args: &MeasureArgs) -> Result<Setting, Stop> {
    let profile = profile::find(&args.profile, Path::new("."))?;
    let gauge = GaugeFacts {
        spring_rate: args.spring_rate.map(NewtonPerMillimetre),
        zeroing: if args.zeroes_itself {
            Zeroing::BySelf
        } else {
            Zeroing::NotDeclared
        },
        declared_speed: args.approach_speed.map(MillimetrePerSecond),
    };
    Ok(Setting {
        answers: args.answers.answers()?,
        profile,
        gauge,
    })
}

/// A file beside each thing that was measured of it.
fn each((path, measured): (&PathBuf, Vec<Measured>)) -> impl Iterator<Item = (&PathBuf, Measured)> {
    measured.into_iter().map(move |measured| (path, measured))
}

/// Measures one log; `bytes` is memory to read it into, used again for the next.
pub(super) fn measure(path: &Path, bytes: &mut Vec<u8>, setting: &Setting) -> Measured {
    let one = |bytes: &[u8]| measure_bytes(path, bytes, &setting.answers, setting);
    with_bytes(path, bytes, one).unwrap_or_else(|complaint| Measured::Refused(*complaint))
}

/// Measures one log, or every log of an archive.
fn measure_every(path: &Path, bytes: &mut Vec<u8>, setting: &Setting) -> Vec<Measured> {
    let every = |bytes: &[u8]| measure_file(path, bytes, setting);
    with_bytes(path, bytes, every).unwrap_or_else(|complaint| vec![Measured::Refused(*complaint)])
}

/// Does some work on the bytes of a log.
fn with_bytes<T>(
    path: &Path,
    bytes: &mut Vec<u8>,
    work: impl FnOnce(&[u8]) -> T,
) -> Result<T, Box<Complaint>> {
    let name = || path.display().to_string();
    input::into(path, input::MOST_OF_A_LOG, bytes)
        .map_err(|error| Box::new(Complaint::of_file("read", &name(), &error)))?;
    caught("log", || work(bytes))
        .map_err(|fault| Box::new(Complaint::error(format!("{}: {fault}", name()))))
}

fn measure_file(path: &Path, bytes: &[u8], setting: &Setting) -> Vec<Measured> {
    let files = match setting.answers.file {
        None if bytes.starts_with(b"PK") => ingest::logs_within(bytes).unwrap_or_default(),
        _ => Vec::new(),
    };
    if files.is_empty() {
        return vec![measure_bytes(path, bytes, &setting.answers, setting)];
    }
    let one = |file: String| {
        let path = path.join(&file);
        let answers = Answers {
            file: Some(file),
            ..setting.answers.clone()
        };
        measure_bytes(&path, bytes, &answers, setting)
    };
    files.into_iter().map(one).collect()
}

fn measure_bytes(path: &Path, bytes: &[u8], answers: &Answers, setting: &Setting) -> Measured {
    let measured = crate::measure(bytes, &setting.profile, &setting.gauge, answers);
    match measured {
        Ok(hit) => Measured::Log(Box::new(MeasuredLog::new(
            Words::of(Language::English),
            path.display().to_string(),
            ingest::sha256(bytes),
            &hit,
        ))),
        Err(NotMeasured::Asks { questions }) => {
            let asked: Vec<String> = questions.iter().map(options::option).collect();
            Measured::Asks(asked.join(", "))
        }
        Err(error) => Measured::Refused(stop::of_log(path, bytes, &error)),
    }
}

/// A bar for more than a handful only; `what` are counted.
pub(super) fn progress(count: usize, what: &str) -> ProgressBar {
    if count > 8 {
        screen::progress(count, what)
    } else {
        ProgressBar::hidden()
    }
}

/// The table of `--csv`, written while the logs are measured and moved to its name at the end.
struct Table {
    csv: CsvTable<Draft>,
    path: PathBuf,
}

impl Table {
    fn create(path: &Path) -> Result<Self, Stop> {
        let csv =
            CsvTable::of::<MeasuredLog>(Draft::create(path, Kind::Table(columns::<MeasuredLog>))?);
        Ok(Self {
            csv: csv.map_err(|error| WriteError::new(path, error.into()))?,
            path: path.to_owned(),
        })
    }

    fn add(&mut self, log: &MeasuredLog) -> Result<(), Stop> {
        let written = self.csv.add(log);
        Ok(written.map_err(|error| WriteError::new(&self.path, error.into()))?)
    }

    fn publish(self) -> Result<(), Stop> {
        let draft = self.csv.finish();
        let draft = draft.map_err(|error| WriteError::new(&self.path, error.into()))?;
        Ok(draft.publish()?)
    }
}

fn show(log: &MeasuredLog, args: &MeasureArgs, logs: usize) -> Result<(), Stop> {
    if args.json {
        let line = serde_json::to_string(log).map_err(Stop::fault)?;
        screen::data(&format!("{line}\n"));
    } else if args.csv.is_none() {
        screen::print(&if logs == 1 { page(log) } else { line(log) });
    }
    Ok(())
}

/// All measures of one log, one a line.
fn page(log: &MeasuredLog) -> String {
    let mut page = format!("{}\n", on_one_line(&log.file));
    for measure in Measure::ALL {
        let _ = match log.value(measure) {
            Some(value) => writeln!(
                page,
                "  {:<30} {:>12} {}",
                Words::of(Language::English).fact(&measure),
                rounded(value),
                measure.unit()
            ),
            None => writeln!(
                page,
                "  {:<30} {:>12} {}",
                Words::of(Language::English).fact(&measure),
                "–",
                log.reason(measure)
            ),
        };
    }
    let _ = writeln!(
        page,
        "  the leaf {}",
        Words::of(Language::English).fact(&log.answer())
    );
    for text in log.limitations() {
        let _ = writeln!(page, "  note: {text}");
    }
    page
}

/// The measures that limits are about, on one line.
fn line(log: &MeasuredLog) -> String {
    let cell = |measure: Measure| log.value(measure).map_or_else(|| "–".to_owned(), rounded);
    format!(
        "{}: peak {} N, above static level {} s, static {} N, residual {} N, stop {} s, reversal {} s{}\n",
        on_one_line(&log.file),
        cell(Measure::PeakForce),
        cell(Measure::TimeAboveStatic),
        cell(Measure::StaticForce),
        cell(Measure::ResidualForce),
        cell(Measure::StopTime),
        cell(Measure::ReversalTime),
        if log.limitations().next().is_some() {
            " (see --json: limitations)"
        } else {
            ""
        },
    )
}

/// Six significant digits: more than any gauge has, and no trailing noise of binary fractions.
pub(super) fn rounded(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let digits = (5 - value.abs().log10().floor() as i32).clamp(0, 9) as usize;
    let text = format!("{value:.digits$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// What became of all logs; told on standard error when something went wrong.
#[derive(Default)]
struct Summary {
    measured: usize,
    asked: Vec<(PathBuf, String)>,
    refused: Vec<Complaint>,
}

impl Summary {
    fn ask(&mut self, path: &Path, text: String) {
        self.asked.push((path.to_owned(), text));
    }

    fn refuse(&mut self, complaint: Complaint) {
        self.refused.push(complaint);
    }

    fn close(self) -> Exit {
        screen::complain(&self.refused);
        for (path, answers) in &self.asked {
            screen::tell(&format!(
                "question: {}: not measured until it is answered with {answers}; `relent read` says why",
                path.display()
            ));
        }
        let (refused, asked) = (self.refused.len(), self.asked.len());
        if refused + asked > 0 {
            screen::tell(&format!(
                "{} measured, {asked} with a question, {refused} refused",
                self.measured
            ));
        }
        match (refused, asked) {
            (0, 0) => Exit::Done,
            (0, _) => Exit::Undecided,
            _ => Exit::Failed,
        }
    }
}
