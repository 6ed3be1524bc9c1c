//! The sampling rate that a line of words declares: as a rate, or as the step between two samples.

use crate::ingest::tokens::delimiter::Mark;
use crate::ingest::tokens::number::{self, Grouping, Value};
use crate::ingest::tokens::units::{self, Measured};

/// Words of sampling one value after the other, in the languages in which loggers write.
const SAMPLING: [&str; 12] = [
    "sampl",
    "abtast",
    "scan",
    "messrate",
    "messfreq",
    "échantillon",
    "muestreo",
    "campionamento",
    "próbkowan",
    "vzorkov",
    "amostragem",
    "bemonster",
];

/// Words of a whole record: its rate is that of the samples, its period is not.
const RECORDING: [&str; 7] = [
    "data rate",
    "datenrate",
    "logging",
    "logger",
    "acquisition",
    "recording",
    "aufzeichnung",
];

const RATES: [&str; 11] = [
    "rate",
    "freq",
    "frequenz",
    "fréq",
    "frecuencia",
    "frequência",
    "frekv",
    "częstotliwość",
    "taxa",
    "per second",
    "pro sekunde",
];
const STEPS: [&str; 5] = ["interval", "increment", "time step", "timestep", "pas d'"];
const PERIODS: [&str; 4] = ["period", "périod", "períod", "okres"];

/// Names that are a rate, or a step, without a word of sampling.
const RATE_NAMES: [&str; 3] = ["fs", "messrate", "sps"];
const STEP_NAMES: [&str; 7] = [
    "dt",
    "delta t",
    "δt",
    "interval",
    "time step",
    "timestep",
    "time increment",
];

/// What a name declares.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Declares {
    Rate,
    Step,
    /// The step of the columns, in the unit of the first one, which is the second.
    DeltaX,
    /// A rate, if the number has the unit of one.
    Doubtful,
    Nothing,
}

/// The sampling rate that a line declares, in hertz: as a whole, or in one of its cells.
pub(in crate::ingest) fn rate(text: &str, mark: Option<Mark>) -> Option<f64> {
    if !text.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let lower = text.to_lowercase().replace('_', " ").replace('’', "'");
    // A comma between digits is a mark inside a number.
    let commas = !lower
        .as_bytes()
        .windows(3)
        .any(|it| it[1] == b',' && it[0].is_ascii_digit() && it[2].is_ascii_digit());
    let cells = || lower.split(|c| matches!(c, '\t' | ';') || commas && c == ',');
    let hertz = declared(&lower, mark).or_else(|| cells().find_map(|cell| declared(cell, mark)))?;
    (SLOWEST_HZ..=FASTEST_HZ).contains(&hertz).then_some(hertz)
}

/// Rates that a logger of forces may declare; common practice, no source.
const SLOWEST_HZ: f64 = 0.5;
const FASTEST_HZ: f64 = 1e6;

fn declared(text: &str, mark: Option<Mark>) -> Option<f64> {
    let (name, value) = parted(text);
    let (name, unit) = without_unit(name);
    let declares = declares(name);
    if declares == Declares::Nothing {
        return None;
    }
    let (value, unit) = match value.split_once(PARTS) {
        Some((word, rest)) if is_unit(word) => (rest, Some(word.trim())),
        _ => (value, unit),
    };
    let value =
        value.trim_start_matches(|c: char| PARTS.contains(&c) || c == '"' || c.is_whitespace());
    let (number, rest) = first_number(value, mark)?;
    if rest.contains("hz") && rest.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let unit = match phrase(rest) {
        "" => unit.unwrap_or(""),
        written => written,
    };
    let hertz = match declares {
        Declares::Rate => number * factor(unit)?,
        Declares::Doubtful if unit.is_empty() => return None,
        Declares::Doubtful => number * factor(unit)?,
        Declares::DeltaX if same_throughout(value, number, mark) => 1.0 / number,
        Declares::DeltaX | Declares::Nothing => return None,
        Declares::Step => 1.0 / seconds(number, unit)?,
    };
    (hertz.is_finite() && hertz > 0.0).then_some(hertz)
}

/// Signs between a name and its value.
const PARTS: [char; 5] = ['=', ':', '\t', ';', ','];

/// A name and its value: at the first sign between them, or where the first number begins.
fn parted(text: &str) -> (&str, &str) {
    text.split_once(PARTS).unwrap_or_else(|| {
        let start = text.find(|c: char| c.is_ascii_digit());
        text.split_at(start.unwrap_or(text.len()))
    })
}

/// A name without the unit at its end: `dt [s]`, `fs (hz)`, `dt s`.
fn without_unit(name: &str) -> (&str, Option<&str>) {
    let name = name.trim().trim_matches('"').trim();
    if let Some(inner) = name.strip_suffix([']', ')'])
        && let Some((name, unit)) = inner.rsplit_once(['[', '('])
    {
        return (name.trim(), Some(unit.trim()));
    }
    match name.rsplit_once(' ') {
        Some((rest, unit)) if is_unit(unit) && unit != "second" => (rest.trim(), Some(unit)),
        _ => (name, None),
    }
}

/// Whether a word is a unit of a rate or of a step.
fn is_unit(word: &str) -> bool {
    let word = word.trim();
    let time = matches!(units::measured(word), Some(Measured::Time(_)));
    !word.is_empty() && (time || factor(word).is_some())
}

/// What a name declares. A word after the word of a rate makes it another thing: the divider of a sampling rate is none.
fn declares(name: &str) -> Declares {
    let has = |text: &str, words: &[&str]| words.iter().any(|word| text.contains(word));
    let last = name.rsplit(' ').next().unwrap_or("");
    let samples = has(name, &SAMPLING);
    if name.starts_with("delta x") {
        Declares::DeltaX
    } else if STEP_NAMES.contains(&name) {
        Declares::Step
    } else if name == "rate" {
        Declares::Doubtful
    } else if RATE_NAMES.contains(&name) {
        Declares::Rate
    } else if !(samples || has(name, &RECORDING)) || has(name, &["max", "min", "höchst"]) {
        Declares::Nothing
    } else if has(name, &STEPS) || samples && has(name, &PERIODS) {
        Declares::Step
    } else if has(name, &RATES) && (has(last, &RATES) || has(last, &SAMPLING) || last == "second") {
        Declares::Rate
    } else if has(name, &RATES) || has(last, &SAMPLING) {
        Declares::Doubtful
    } else {
        Declares::Nothing
    }
}

/// What one of a unit is in hertz.
fn factor(unit: &str) -> Option<f64> {
    Some(match unit {
        "" | "hz" | "hertz" | "1/s" | "/s" | "s/s" | "sa/s" | "sps" | "samples/s" | "sample/s"
        | "samples/sec" | "samples/second" | "samples per second" | "samples" | "scans/s"
        | "werte/s" | "messwerte/s" | "points/s" | "pts/s" => 1.0,
        "khz" | "ks/s" | "ksa/s" | "ksps" => 1e3,
        "mhz" => 1e6,
        _ => return None,
    })
}

/// A step in seconds; without a unit only where nothing but seconds makes a plausible rate.
fn seconds(step: f64, unit: &str) -> Option<f64> {
    if unit.is_empty() {
        return units::plausible_unit(step).map(|unit| unit.to_seconds(step));
    }
    match units::measured(unit)? {
        Measured::Time(unit) => Some(unit.to_seconds(step)),
        _ => None,
    }
}

/// The words right after a number, up to the next sign: its unit. Of several words the first, where it says all.
fn phrase(rest: &str) -> &str {
    let words = rest
        .trim_start_matches(|c: char| {
            matches!(c, '"' | ';' | ',' | '\t' | '[' | '(') || c.is_whitespace()
        })
        .split(['"', ';', ',', '\t', ')', ']', '('])
        .next()
        .unwrap_or("")
        .trim();
    let first = words.split(' ').next().unwrap_or("");
    let whole =
        factor(words).is_some() || first == "samples" || factor(first).is_none() && !is_unit(first);
    if whole { words } else { first }
}

/// The number at the start of a text and what follows it; `None` if its mark is in doubt.
fn first_number(text: &str, mark: Option<Mark>) -> Option<(f64, &str)> {
    const LONGEST: usize = 32;
    let read = |digits: &str, mark| match number::value(digits.as_bytes(), mark) {
        Value::Number(number) => Some(number),
        _ => None,
    };
    let ends = (1..=text.len().min(LONGEST)).rev().filter(|end| {
        let next = text.as_bytes().get(*end);
        text.is_char_boundary(*end)
            && text.as_bytes()[end - 1].is_ascii_digit()
            && !next.is_some_and(u8::is_ascii_digit)
    });
    if !text.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    for end in ends {
        let (digits, rest) = text.split_at(end);
        let found = match (mark, read(digits, Mark::Point), read(digits, Mark::Comma)) {
            (Some(Mark::Point), Some(found), _) | (Some(Mark::Comma), _, Some(found)) => found,
            (None, Some(a), Some(b)) if a.value == b.value => a,
            (None, Some(a), Some(b)) => {
                let lone = a.grouping == Grouping::Lone || b.grouping == Grouping::Lone;
                return (!lone).then_some((a.value, rest));
            }
            (None, Some(found), None) | (None, None, Some(found)) => found,
            _ => continue,
        };
        return Some((found.value, rest));
    }
    None
}

/// Whether every number of a row declares the same step.
fn same_throughout(text: &str, value: f64, mark: Option<Mark>) -> bool {
    text.split(['\t', ';'])
        .filter_map(|cell| first_number(cell.trim(), mark))
        .all(|(other, _)| other == value)
}
