//! The options that answer questions about a log, shared by every command that reads logs.

use std::path::PathBuf;

use clap::Args;

use crate::ingest::{Answers, Sign};
use crate::quantity::{ForceUnit, Hertz, TimeUnit};

/// What a person says about a log that the log does not say itself.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "What the log does not say itself")]
pub struct AnswerArgs {
    /// Column of the force: its heading or its number from 1; `A+B` adds two columns
    #[arg(long, value_name = "COLUMN")]
    force: Option<String>,
    /// Unit of the force: N, mN, daN, kN, kgf, gf, lbf or ozf
    #[arg(long, value_name = "UNIT", value_parser = force_unit)]
    force_unit: Option<ForceUnit>,
    /// Column of the time: its heading or its number from 1
    #[arg(long, value_name = "COLUMN")]
    time: Option<String>,
    /// Unit of the time: s, ms, µs (or us), ns, min or h
    #[arg(long, value_name = "UNIT", value_parser = time_unit)]
    time_unit: Option<TimeUnit>,
    /// Sampling rate in hertz, where the log has no clock of its own
    #[arg(long, value_name = "HZ", value_parser = rate)]
    rate: Option<Hertz>,
    /// Which run of the log, from 1
    #[arg(long, value_name = "N", value_parser = run_number)]
    run: Option<usize>,
    /// A push was logged as a negative force: change the sign
    #[arg(long)]
    invert: bool,
    /// Decimal mark of the numbers: `.` or `,`
    #[arg(long, value_name = "MARK", value_parser = decimal_mark)]
    decimal_mark: Option<char>,
    /// Mark between the cells: `,` `;` `tab` `space` or another single character
    #[arg(long, value_name = "MARK", value_parser = delimiter)]
    delimiter: Option<char>,
    /// Recipe that answers for all logs of one logger; options given beside it win
    #[arg(long, value_name = "FILE")]
    pub recipe: Option<PathBuf>,
}

impl AnswerArgs {
    /// The answers, laid over those of a recipe.
    #[must_use]
    pub fn over(&self, recipe: Answers) -> Answers {
        Answers {
            force: self.force.clone().or(recipe.force),
            force_unit: self.force_unit.or(recipe.force_unit),
            time: self.time.clone().or(recipe.time),
            time_unit: self.time_unit.or(recipe.time_unit),
            rate: self.rate.or(recipe.rate),
            run: self.run.or(recipe.run),
            sign: self.invert.then_some(Sign::PushIsNegative).or(recipe.sign),
            decimal_mark: self.decimal_mark.or(recipe.decimal_mark),
            delimiter: self.delimiter.or(recipe.delimiter),
            recipe: recipe.recipe,
        }
    }
}

fn force_unit(text: &str) -> Result<ForceUnit, String> {
    ForceUnit::ALL
        .into_iter()
        .find(|unit| unit.symbol().eq_ignore_ascii_case(text))
        .ok_or_else(|| "expected N, mN, daN, kN, kgf, gf, lbf or ozf".to_owned())
}

fn time_unit(text: &str) -> Result<TimeUnit, String> {
    let text = if text == "us" { "µs" } else { text };
    TimeUnit::ALL
        .into_iter()
        .find(|unit| unit.symbol() == text)
        .ok_or_else(|| "expected s, ms, µs (or us), ns, min or h".to_owned())
}

fn rate(text: &str) -> Result<Hertz, String> {
    match text.parse::<f64>() {
        Ok(hertz) if hertz.is_finite() && hertz > 0.0 => Ok(Hertz(hertz)),
        _ => Err("expected a rate above 0 in hertz, such as 1000".to_owned()),
    }
}

fn run_number(text: &str) -> Result<usize, String> {
    match text.parse::<usize>() {
        Ok(number) if number > 0 => Ok(number),
        _ => Err("expected the number of a run, from 1".to_owned()),
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
