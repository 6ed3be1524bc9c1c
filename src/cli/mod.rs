//! The command line: one file a command; what a user sees of an error is in `complaint`, what a script sees in `exit`.

pub mod exit;

pub mod complaint;

pub mod visible;

mod answers;
mod archive;
mod assess;
mod certificate;
mod compare;
mod demo;
mod history;
mod limits;
mod logs;
mod measure;
mod new;
mod new_text;
mod output;
mod plan;
mod pull;
mod read;
mod ready;
mod recheck;
pub mod schema;
mod screen;
mod seal;
mod shell;
mod stop;
mod watch;

use std::ffi::OsString;
use std::sync::LazyLock;

use clap::error::ErrorKind;
use clap::{CommandFactory as _, Parser, Subcommand};

use complaint::Complaint;
use exit::Exit;
use stop::Stop;
use visible::on_one_line;

use crate::record::build::Build;

const CAUTIONS: &str = "\
Exit status: 0 done, and within limits where limits were assessed; 1 at least one value over its limit;
2 the work could not be done; 3 undecided, incomplete, or a question must be answered first.

A force test within its limits does not make a gate safe. Local codes and licensed practice come first.
Testing a moving gate is itself dangerous: work in pairs, hold the gauge in a fixed support, isolate the
power while setting up.";

/// Gate force and impact-test calculator: force-gauge logs against published limits
#[derive(Debug, Parser)]
#[command(name = "relent", version = version(), about, after_help = CAUTIONS, max_term_width = 100)]
struct Relent {
    #[command(subcommand)]
    command: Command,
}

/// Version and commit, as sealed records name them.
fn version() -> &'static str {
    static VERSION: LazyLock<String> = LazyLock::new(|| {
        let build = Build::this().to_string();
        build.trim_start_matches("relent ").to_owned()
    });
    &VERSION
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Assess a gate folder: its gate file and its logs against a limit profile; writes a report
    Assess(assess::AssessArgs),
    /// Assess every gate folder below a folder; writes tables, an overview and a journal to go on from
    #[command(after_long_help = archive::after_help())]
    Archive(archive::ArchiveArgs),
    /// List the visits that a calibration certificate or a gauge touches, and what it leaves of each
    Certificate(certificate::CertificateArgs),
    /// Compare two or more series of hits on the same test points: firmware versions, or before and after a change
    #[command(after_help = compare::EXITS)]
    Compare(compare::CompareArgs),
    /// Show the visits to one gate on one axis of time: what was changed, what moves
    #[command(after_help = history::EXITS)]
    History(history::HistoryArgs),
    /// Measure loose logs or folders of logs
    Measure(measure::MeasureArgs),
    /// Show what is understood of a log, and what must be answered first
    Read(read::ReadArgs),
    /// List, show or compare the limit profiles, every value with its source
    Limits(limits::LimitsArgs),
    /// Start a gate folder from a few answers; overwrites nothing
    New(new::NewArgs),
    /// List open and unchecked items before a gate is driven
    Ready(ready::ReadyArgs),
    /// Check sealed records again: bytes, signatures, logs, every number; or assess old visits under another profile
    #[command(after_help = recheck::EXITS)]
    Recheck(recheck::RecheckArgs),
    /// Read a log of the force needed to move the leaf by hand
    Pull(pull::PullArgs),
    /// List the test points that a visit needs, what is there and what is missing
    Plan(plan::PlanArgs),
    /// Assess each log of a visit as it lands, and name what comes next
    #[command(after_help = watch::LOOKS)]
    Watch(watch::WatchArgs),
    /// Write an invented gate with two visits and assess the first
    Demo(demo::DemoArgs),
    /// Print the JSON Schema of the gate file, for editors, or of an output
    Schema(schema::SchemaArgs),
    /// Print completions for a shell
    Completions(shell::CompletionsArgs),
    /// Print the manual page
    Man,
}

/// Runs the command line and returns its exit status; whatever a user must see has been printed.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let relent = match Relent::try_parse_from(&arguments).or_else(|_| parse_shown(&arguments)) {
        Ok(relent) => relent,
        Err(error) => {
            let _ = error.print();
            return if error.use_stderr() {
                Exit::Failed
            } else {
                Exit::Done
            };
        }
    };
    let exit = match dispatch(relent.command) {
        Ok(exit) => exit,
        Err(Stop(complaints)) => screen::complain(&complaints),
    };
    match screen::lost() {
        None => exit,
        Some(error) => screen::complain(&[Complaint::of_file("write", "standard output", &error)]),
    }
}

/// As the arguments read on a terminal: the name of a file can be taken for an option, and is then told.
fn parse_shown(arguments: &[OsString]) -> Result<Relent, clap::Error> {
    let shown = |argument: &OsString| on_one_line(&argument.to_string_lossy()).into_owned();
    let shown: Vec<String> = arguments.iter().map(shown).collect();
    let error = || Relent::command().error(ErrorKind::InvalidValue, "an argument is not text");
    Relent::try_parse_from(shown).and_then(|_| Err(error()))
}

fn dispatch(command: Command) -> Result<Exit, Stop> {
    match command {
        Command::Assess(args) => assess::run(&args),
        Command::Archive(args) => archive::run(&args),
        Command::Certificate(args) => certificate::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::History(args) => history::run(&args),
        Command::Measure(args) => measure::run(&args),
        Command::Read(args) => read::run(&args),
        Command::Limits(args) => limits::run(&args),
        Command::New(args) => new::run(&args),
        Command::Ready(args) => ready::run(&args),
        Command::Recheck(args) => recheck::run(&args),
        Command::Pull(args) => pull::run(&args),
        Command::Plan(args) => plan::run(&args),
        Command::Watch(args) => watch::run(&args),
        Command::Demo(args) => demo::run(&args),
        Command::Schema(args) => schema::run(&args),
        Command::Completions(args) => shell::completions(&args),
        Command::Man => shell::man(),
    }
}
