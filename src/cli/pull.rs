//! `relent pull`: the force needed to move the leaf by hand, from a log of it.

use std::path::PathBuf;

use clap::Args;

use crate::cli::answers::{self, AnswerArgs};
use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::stop::{self, Stop};
use crate::cli::visible;
use crate::gate::GateFile;
use crate::ingest::{self, Answers, Ask, Outcome, Question, Role};
use crate::quantity::{Hertz, Kilogram, Newton};
use crate::readiness::{self, Along, PullSettings, RatedBy, Unit, friction_of, rolling_force};
use crate::report::{Model, PullSheet, Rated};
use crate::trace::Trace;
use crate::visit::Visit;
use crate::visit::input;
use crate::words::{Language, Words};

/// Options of `relent pull`.
#[derive(Args, Debug)]
pub struct PullArgs {
    /// Log of the force needed to move the leaf by hand, over time or over position
    #[arg(value_name = "LOG")]
    log: PathBuf,
    /// Gate folder or gate file that gives the rating of the drive and the mass of the leaf
    #[arg(long, value_name = "GATE")]
    gate: Option<PathBuf>,
    /// Rating of the drive: a force with its unit, as "20 kgf" or "196 N". The default is that of the gate file
    #[arg(long, value_name = "FORCE", value_parser = force)]
    rating: Option<Newton>,
    /// How much of the pull counts as its start, in mm of travel
    #[arg(long, value_name = "MM", default_value_t = 100.0)]
    start_mm: f64,
    /// The same in seconds, for a log without a position
    #[arg(long, value_name = "S", default_value_t = 1.0)]
    start_s: f64,
    /// The leaf binds where the force is above this many times the steady force
    #[arg(long, value_name = "TIMES", default_value_t = 1.5)]
    binds_above: f64,
    /// Friction of the rollers, to compare with the model of rolling and slope; needs the mass of the leaf
    #[arg(long, value_name = "MU")]
    friction: Option<f64>,
    /// Slope of the travel in percent, uphill positive, for the same comparison
    #[arg(
        long,
        value_name = "PERCENT",
        default_value_t = 0.0,
        allow_negative_numbers = true
    )]
    slope: f64,
    /// Mass of the leaf in kg. The default is that of the gate file
    #[arg(long, value_name = "KG")]
    mass: Option<f64>,
    /// Print the pull as JSON
    #[arg(long)]
    json: bool,
    /// Write a page with the plot, as HTML
    #[arg(long, value_name = "FILE")]
    sheet: Option<PathBuf>,
    #[command(flatten)]
    answers: AnswerArgs,
}

/// Shows what a pull log says and holds it against the drive's rating.
pub fn run(args: &PullArgs) -> Result<Exit, Stop> {
    let gate = match &args.gate {
        Some(path) => Some(Visit::open(path)?.gate),
        None => None,
    };
    let bytes = input::bytes(&args.log, input::MOST_OF_A_LOG)
        .map_err(|error| Stop::unreadable(&args.log, &error))?;
    let (trace, sha256) = read(args, &bytes, &args.answers.answers()?)?;
    let along = match trace.position_mm {
        Some(_) => Along::Position,
        None => Along::Time,
    };
    let settings = PullSettings {
        start: match along {
            Along::Position => args.start_mm,
            Along::Time => args.start_s,
        },
        binds_above: args.binds_above,
    };
    let pull = readiness::pull(&trace, settings).map_err(|error| {
        Stop::because(
            format_args!("{}: {error}", args.log.display()),
            "a pull is logged as a positive force (--invert changes the sign); --start-mm, --start-s and --binds-above set how it is read",
        )
    })?;
    let file = args.log.display().to_string();
    let sheet = PullSheet {
        file: &file,
        sha256: &sha256,
        pull: &pull,
        rating: rating(args, gate.as_ref()),
        model: model(args, gate.as_ref(), pull.steady)?,
    };
    let words = Words::of(Language::English);
    if let Some(path) = &args.sheet {
        output::write_whole(path, Kind::Page, &sheet.html(words))?;
    }
    if args.json {
        let text = sheet.json(words).map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else {
        screen::print(&sheet.terminal(words));
        if let Some(path) = &args.sheet {
            screen::print(&format!("\nPage: {}\n", visible::name(path)));
        }
    }
    Ok(sheet.verdict().into())
}

/// Reads the log. One without a clock but with a position needs none: its rows are counted instead, and only the position is used.
fn read(args: &PullArgs, bytes: &[u8], answers: &Answers) -> Result<(Trace, String), Stop> {
    let understood = |answers: &Answers| {
        ingest::read(bytes, answers)
            .map_err(|error| Stop::from(stop::of_log(&args.log, bytes, &error)))
    };
    let mut reading = understood(answers)?;
    let has_position = reading
        .channels
        .iter()
        .any(|channel| channel.role == Role::Position);
    if let Outcome::Asks(questions) = &reading.outcome
        && has_position
        && questions
            .iter()
            .all(|question| question.ask == Ask::SamplingRate)
    {
        reading = understood(&Answers {
            rate: Some(Hertz(1.0)),
            ..answers.clone()
        })?;
    }
    match reading.outcome {
        Outcome::Read(trace) => Ok((*trace, reading.sha256)),
        Outcome::Asks(questions) => Err(Stop(
            questions
                .iter()
                .map(|question| asked(args, question))
                .collect(),
        )),
    }
}

fn asked(args: &PullArgs, question: &Question) -> Complaint {
    let words = Words::of(Language::English);
    Complaint::question(format_args!(
        "{}: {}",
        args.log.display(),
        words.fact(question)
    ))
    .help(format!("answer with {}", answers::option(question)))
}

fn rating(args: &PullArgs, gate: Option<&GateFile>) -> Option<Rated> {
    if let Some(force) = args.rating {
        return Some(Rated {
            force,
            source: RatedBy::CommandLine,
        });
    }
    let (force, source) = readiness::rated_pull(gate?)?;
    Some(Rated { force, source })
}

fn model(args: &PullArgs, gate: Option<&GateFile>, steady: Newton) -> Result<Option<Model>, Stop> {
    let Some(friction) = args.friction else {
        return Ok(None);
    };
    let of_gate = gate.and_then(|gate| gate.gate.leaf_mass);
    let Some(mass) = args.mass.map(Kilogram).or(of_gate) else {
        return Err(Stop::because(
            "the model of rolling and slope needs the mass of the leaf",
            "give --mass, or --gate with gate.leaf_mass_kg in its gate file",
        ));
    };
    if !(mass.get() > 0.0 && mass.is_finite() && friction >= 0.0 && args.slope.abs() <= 100.0) {
        return Err(Stop::because(
            format_args!(
                "mass {mass}, friction {friction}, slope {} %: expected a mass above 0 kg, a friction of 0 or more, a slope of at most 100 %",
                args.slope
            ),
            "check --mass, --friction and --slope",
        ));
    }
    let slope = args.slope / 100.0;
    Ok(Some(Model {
        mass_kg: mass.get(),
        friction,
        slope,
        force: rolling_force(mass, friction, slope),
        friction_seen: friction_of(mass, steady, slope),
    }))
}

fn force(text: &str) -> Result<Newton, String> {
    let read = Unit::read(text).and_then(|(number, unit)| unit.convert(number, Unit::Newton));
    match read {
        Some(force) if force > 0.0 => Ok(Newton(force)),
        _ => Err("expected a force above 0 with its unit, as \"20 kgf\" or \"196 N\"".to_owned()),
    }
}
