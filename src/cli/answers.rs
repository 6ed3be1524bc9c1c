//! The options that answer questions about a log, shared by every command that reads logs.

use std::path::PathBuf;

use clap::Args;

use crate::cli::stop::Stop;
use crate::ingest::{self, Answers, Ask, Doubt, Inside, Question, Sign};
use crate::quantity::{ForceUnit, Hertz, TimeUnit};
use crate::trace::ChosenRun;

/// What a person says about a log that the log does not say itself.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "What the log does not say itself")]
pub struct AnswerArgs {
    /// Name of the log inside a zip archive that holds several
    #[arg(long, value_name = "NAME")]
    file: Option<String>,
    /// Column of the force: its heading or its number from 1; `A+B` adds two columns
    #[arg(long, value_name = "COLUMN")]
    force: Option<String>,
    /// Unit of the force: N, mN, daN, kN, kgf, gf, lbf or ozf
    #[arg(long, value_name = "UNIT", value_parser = force_unit)]
    force_unit: Option<ForceUnit>,
    /// Factor by which the numbers of the force are multiplied to be in its unit
    #[arg(long, value_name = "FACTOR", value_parser = scale)]
    scale: Option<f64>,
    /// Column of the time: its heading or its number from 1
    #[arg(long, value_name = "COLUMN")]
    time: Option<String>,
    /// Unit of the time: s, ms, µs (or us), ns, min, h or d
    #[arg(long, value_name = "UNIT", value_parser = time_unit)]
    time_unit: Option<TimeUnit>,
    /// Sampling rate in hertz, where the log has no clock of its own
    #[arg(long, value_name = "HZ", value_parser = rate)]
    rate: Option<Hertz>,
    /// Which run of the log, from 1; `all` where they are one
    #[arg(long, value_name = "N", value_parser = chosen_run)]
    run: Option<ChosenRun>,
    /// A push was logged as a negative force: change the sign
    #[arg(long, conflicts_with = "sign")]
    invert: bool,
    /// Sign of a push in the log: `push-positive` or `push-negative`
    #[arg(long, value_name = "SIGN", value_parser = sign)]
    sign: Option<Sign>,
    /// Decimal mark of the numbers: `.` or `,`
    #[arg(long, value_name = "MARK", value_parser = decimal_mark)]
    decimal_mark: Option<char>,
    /// Decimal mark of the time, where it has another one: `.` or `,`
    #[arg(long, value_name = "MARK", value_parser = decimal_mark)]
    time_decimal_mark: Option<char>,
    /// Mark between the cells: `,` `;` `tab` `space` or another single character
    #[arg(long, value_name = "MARK", value_parser = delimiter)]
    delimiter: Option<char>,
    /// Recipe that answers for all logs of one logger; options given beside it win
    #[arg(long, value_name = "FILE")]
    recipe: Option<PathBuf>,
}

impl AnswerArgs {
    /// The answers of the options, laid over those of the recipe that they name.
    ///
    /// # Errors
    /// [`Stop`] if the recipe cannot be read.
    pub fn answers(&self) -> Result<Answers, Stop> {
        let recipe = match &self.recipe {
            Some(path) => crate::visit::recipe(path)?,
            None => Answers::default(),
        };
        Ok(Answers {
            file: self.file.clone().or(recipe.file),
            force: self.force.clone().or(recipe.force),
            force_unit: self.force_unit.or(recipe.force_unit),
            scale: self.scale.or(recipe.scale),
            time: self.time.clone().or(recipe.time),
            time_unit: self.time_unit.or(recipe.time_unit),
            rate: self.rate.or(recipe.rate),
            run: self.run.or(recipe.run),
            sign: self
                .invert
                .then_some(Sign::PushIsNegative)
                .or(self.sign)
                .or(recipe.sign),
            decimal_mark: self.decimal_mark.or(recipe.decimal_mark),
            time_decimal_mark: self.time_decimal_mark.or(recipe.time_decimal_mark),
            delimiter: self.delimiter.or(recipe.delimiter),
            recipe: recipe.recipe,
        })
    }
}

fn force_unit(text: &str) -> Result<ForceUnit, String> {
    ingest::force_unit(text)
        .ok_or_else(|| "expected N, mN, daN, kN, kgf, gf, lbf or ozf".to_owned())
}

fn time_unit(text: &str) -> Result<TimeUnit, String> {
    ingest::time_unit(text).ok_or_else(|| "expected s, ms, µs (or us), ns, min, h or d".to_owned())
}

fn scale(text: &str) -> Result<f64, String> {
    match text.replace(',', ".").parse::<f64>() {
        Ok(factor) if factor.is_finite() && factor > 0.0 => Ok(factor),
        _ => Err("expected a factor above 0, such as 0.1".to_owned()),
    }
}

fn sign(text: &str) -> Result<Sign, String> {
    match text {
        "push-positive" | "positive" => Ok(Sign::PushIsPositive),
        "push-negative" | "negative" | "invert" => Ok(Sign::PushIsNegative),
        _ => Err("expected push-positive or push-negative".to_owned()),
    }
}

fn rate(text: &str) -> Result<Hertz, String> {
    match text.parse::<f64>() {
        Ok(hertz) if hertz.is_finite() && hertz > 0.0 => Ok(Hertz(hertz)),
        _ => Err("expected a rate above 0 in hertz, such as 1000".to_owned()),
    }
}

fn chosen_run(text: &str) -> Result<ChosenRun, String> {
    match text.parse::<usize>() {
        _ if text == "all" => Ok(ChosenRun::ALL),
        Ok(number) if number > 0 => Ok(number.into()),
        _ => Err("expected the number of a run, from 1, or `all`".to_owned()),
    }
}

fn decimal_mark(text: &str) -> Result<char, String> {
    match text {
        "." | "point" => Ok('.'),
        "," | "comma" => Ok(','),
        _ => Err("expected `.` or `,`".to_owned()),
    }
}

fn delimiter(text: &str) -> Result<char, String> {
    match text {
        "tab" | "\\t" => Ok('\t'),
        "space" => Ok(' '),
        "comma" => Ok(','),
        "semicolon" => Ok(';'),
        other => {
            let mut characters = other.chars();
            match (characters.next(), characters.next()) {
                (Some(mark), None) if !mark.is_alphanumeric() => Ok(mark),
                _ => Err("expected one character, or tab, space, comma or semicolon".to_owned()),
            }
        }
    }
}

/// The option that answers a question, with what its value may be.
pub fn option(question: &Question) -> String {
    const COLUMN: &str = "COLUMN (a name or a number from 1";
    const MARKS: &str = "--decimal-mark . or --decimal-mark ,";
    const JOINED: &str = "(numbers in rows with too many cells are then joined)";
    let units = |symbols: &[&str]| symbols.join(", ");
    match (&question.doubt, question.ask) {
        (Doubt::ShortRows { .. }, _) => {
            "--force COLUMN (the last cells are then taken as missing)".to_owned()
        }
        (Doubt::WideRows { .. }, _) => "--force COLUMN (these rows are then lost)".to_owned(),
        (Doubt::InstantsUnreadable { .. }, _) => {
            "--time COLUMN (these rows are then lost)".to_owned()
        }
        (Doubt::NoTimeNamed { .. }, _) => format!("--time {COLUMN}), or --rate HZ"),
        (
            Doubt::TwoRates {
                rate_hz,
                other_rate_hz,
                ..
            },
            _,
        ) => format!("--rate {} or --rate {}", other_rate_hz.get(), rate_hz.get()),
        (
            Doubt::MarkContradicted { used: mark, .. } | Doubt::ThousandsOrDecimals { mark, .. },
            _,
        ) => {
            format!("--decimal-mark {mark}")
        }
        (Doubt::ClockMarkOpen { .. }, _) => {
            "--time-decimal-mark . or --time-decimal-mark ,".to_owned()
        }
        (Doubt::CommasMayBeMarks { .. }, _) => format!("{MARKS} {JOINED}"),
        (Doubt::TooManyCells { inside, .. }, _) => match inside {
            Inside::CommaOfBoth => {
                "no option: save the log again with another delimiter".to_owned()
            }
            Inside::Comma => format!("{MARKS} {JOINED}"),
            Inside::Delimiter => format!("--delimiter CHARACTER, or {MARKS} {JOINED}"),
        },
        (Doubt::NumberOrCells { .. }, _) => {
            "--delimiter , (cells) or --delimiter ';' --decimal-mark , (one number)".to_owned()
        }
        (Doubt::SeveralRuns { runs, .. }, _) => {
            format!("--run N (1 to {runs}), or --run all if they are one")
        }
        (Doubt::OtherHeads { .. }, _) => "--run 1 (the rows before these heads alone)".to_owned(),
        (_, Ask::ForceColumn) => format!("--force {COLUMN}; A+B adds two)"),
        (_, Ask::ForceUnit) => {
            let symbols = units(&ForceUnit::ALL.map(ForceUnit::symbol));
            format!("--force-unit UNIT ({symbols})")
        }
        (_, Ask::TimeColumn) => format!("--time {COLUMN})"),
        (_, Ask::TimeUnit) => {
            let symbols = units(&TimeUnit::ALL.map(TimeUnit::symbol));
            format!("--time-unit UNIT ({symbols})")
        }
        (_, Ask::SamplingRate) => "--rate HZ, or --time COLUMN".to_owned(),
        (_, Ask::DecimalMark) => MARKS.to_owned(),
        (_, Ask::Delimiter) => "--delimiter CHARACTER".to_owned(),
        (_, Ask::Sign) => {
            "--sign push-positive, --sign push-negative, or another --force COLUMN".to_owned()
        }
        (_, Ask::Scale) => "--scale FACTOR".to_owned(),
        (_, Ask::File) => "--file NAME; `relent measure` measures all of them".to_owned(),
        (_, Ask::Run) => "--run N".to_owned(),
    }
}

/// Enters the reply to a question.
///
/// # Errors
/// What was expected, if the reply is no answer.
pub fn set(answers: &mut Answers, question: &Question, reply: &str) -> Result<(), String> {
    let of_the_clock = matches!(question.doubt, Doubt::ClockMarkOpen { .. });
    match question.ask {
        Ask::DecimalMark if of_the_clock => {
            answers.time_decimal_mark = Some(decimal_mark(reply)?);
        }
        Ask::ForceColumn => answers.force = Some(reply.to_owned()),
        Ask::ForceUnit => answers.force_unit = Some(force_unit(reply)?),
        Ask::TimeColumn => answers.time = Some(reply.to_owned()),
        Ask::TimeUnit => answers.time_unit = Some(time_unit(reply)?),
        Ask::SamplingRate => answers.rate = Some(rate(reply)?),
        Ask::DecimalMark => answers.decimal_mark = Some(decimal_mark(reply)?),
        Ask::Delimiter => answers.delimiter = Some(delimiter(reply)?),
        Ask::File => answers.file = Some(reply.to_owned()),
        Ask::Run => answers.run = Some(chosen_run(reply)?),
        Ask::Scale => answers.scale = Some(scale(reply)?),
        Ask::Sign => answers.sign = Some(sign(reply)?),
    }
    Ok(())
}
