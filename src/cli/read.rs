//! `relent read`: what is understood of a log, before anything is computed.

mod document;

#[cfg(feature = "schema")]
pub use document::Document;

use std::io::{self, BufRead, Write as _};
use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::answers::{self, AnswerArgs};
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::screen;
use crate::cli::stop::{self, Stop};
use crate::cli::visible::{Lines, on_one_line};
use crate::ingest::{self, Answers, Outcome, Question, Reading};
use crate::visit::input;
use crate::words::{Language, Words};

/// Options of `relent read`.
#[derive(Args, Debug)]
pub struct ReadArgs {
    /// The log: text with or without a head, plain or in a .gz or .zip
    #[arg(value_name = "LOG")]
    log: PathBuf,
    /// Print what was understood as one JSON object
    #[arg(long)]
    json: bool,
    /// Save the answers as a recipe for all logs of this logger
    #[arg(long, value_name = "FILE")]
    save_recipe: Option<PathBuf>,
    #[command(flatten)]
    answers: AnswerArgs,
}

/// Reads one log and shows what was understood.
pub fn run(args: &ReadArgs) -> Result<Exit, Stop> {
    let words = Words::of(Language::English);
    let bytes = input::bytes(&args.log, input::MOST_OF_A_LOG)
        .map_err(|error| Stop::unreadable(&args.log, &error))?;
    let mut answers = args.answers.answers()?;
    let mut reading = read(&bytes, &answers, &args.log)?;
    if !args.json && screen::can_ask() {
        reading = converse(reading, &bytes, &mut answers, &args.log, words)?;
    }
    let name = args.log.display().to_string();
    if args.json {
        let document = document::document(&name, &reading, words);
        let text = serde_json::to_string(&document).map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else {
        screen::print(&page(&name, &reading, words));
    }
    if let Some(path) = &args.save_recipe {
        save(path, &answers)?;
    }
    Ok(match reading.outcome {
        Outcome::Read(_) => Exit::Done,
        Outcome::Asks(_) => Exit::Undecided,
    })
}

fn read(bytes: &[u8], answers: &Answers, log: &Path) -> Result<Reading, Stop> {
    ingest::read(bytes, answers).map_err(|error| stop::of_log(log, bytes, &error).into())
}

fn save(path: &Path, answers: &Answers) -> Result<(), Stop> {
    let recipe = ingest::to_recipe(answers);
    Ok(output::write_whole(path, Kind::Once, recipe.as_bytes())?)
}

/// Puts the questions one by one to the person at the terminal, until the log is read or an answer is left empty.
fn converse(
    mut reading: Reading,
    bytes: &[u8],
    answers: &mut Answers,
    log: &Path,
    words: &Words,
) -> Result<Reading, Stop> {
    while let Outcome::Asks(questions) = &reading.outcome {
        let Some(question) = questions.first() else {
            break;
        };
        let Some(reply) = prompt(question, words) else {
            break;
        };
        match answers::set(answers, question, &reply) {
            Ok(()) => match ingest::read(bytes, answers) {
                Ok(next) => reading = next,
                Err(error) => return Err(stop::of_log(log, bytes, &error).into()),
            },
            Err(expected) => screen::tell(&expected),
        }
    }
    Ok(reading)
}

/// Asks on the terminal; `None` for an empty answer.
fn prompt(question: &Question, words: &Words) -> Option<String> {
    let mut err = io::stderr().lock();
    let asked = write!(
        err,
        "{}\n{} (empty to stop): ",
        on_one_line(&words.fact(question)),
        on_one_line(&answers::option(question))
    );
    asked.and_then(|()| err.flush()).ok()?;
    let mut reply = String::new();
    io::stdin().lock().read_line(&mut reply).ok()?;
    let reply = reply.trim().to_owned();
    (!reply.is_empty()).then_some(reply)
}

/// What was understood, for a person.
fn page(name: &str, reading: &Reading, words: &Words) -> String {
    let mut page = Lines::default();
    writeln!(page, "{name}");
    let delimiter = match reading.delimiter {
        Some('\t') => "tab".to_owned(),
        Some(' ') => "space".to_owned(),
        Some(mark) => format!("`{mark}`"),
        None => "none: one column".to_owned(),
    };
    writeln!(
        page,
        "  text      {}, cells separated by {delimiter}, decimal mark `{}`",
        reading.encoding, reading.decimal_mark
    );
    for channel in &reading.channels {
        let unit = channel
            .unit
            .as_ref()
            .map(|unit| format!(" [{unit}]"))
            .unwrap_or_default();
        let heading = if channel.name.is_empty() {
            "(no heading)"
        } else {
            &channel.name
        };
        writeln!(
            page,
            "  column {:<2} {}{}: {}",
            channel.column,
            heading,
            unit,
            words.fact(&channel.role)
        );
    }
    for (at, run) in reading.runs.iter().enumerate() {
        let rate = run
            .rate
            .map(|rate| format!(" at {:.6} Hz", rate.get()))
            .unwrap_or_default();
        let rate = rate.replace(".000000", "");
        writeln!(
            page,
            "  run {:<5} {} samples{rate}, {} missing; raw force {} to {}, greatest after {}",
            at + 1,
            run.samples,
            run.missing,
            run.min,
            run.max,
            run.max_at
        );
    }
    for notice in &reading.notices {
        let line = notice
            .line
            .map(|line| format!("line {line}: "))
            .unwrap_or_default();
        writeln!(
            page,
            "  {:<9} {line}{}",
            words.fact(&notice.kind),
            words.fact(notice)
        );
    }
    match &reading.outcome {
        Outcome::Read(_) => writeln!(page, "  read without doubt"),
        Outcome::Asks(questions) => {
            writeln!(page, "  not read until this is answered:");
            for question in questions {
                writeln!(page, "  - {}", words.fact(question));
                writeln!(page, "    answer with {}", answers::option(question));
            }
        }
    }
    page.text()
}
