//! What can be wrong with a gate file.

use std::fmt;
use std::ops::Range;
use std::str::Utf8Error;

use jiff::civil::Date;

use super::likely::Slip;
use super::pattern::PatternError;
use crate::toml_tree::{Fault, Spot};

/// Why a gate file cannot be worked with: the problems that could be found in one go, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct GateError {
    /// At least one, and not more than [`MOST_PROBLEMS`].
    pub problems: Vec<Problem>,
}

/// The most problems, and the most warnings, that are told of one gate file: what has more is most likely no gate file.
pub const MOST_PROBLEMS: usize = 20;

/// One problem and its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// What is wrong.
    pub kind: Kind,
    /// Where.
    pub spot: Spot,
    /// The line on which that begins.
    pub line: String,
}

/// What is wrong. Keys are written with their section, as `gauge.capacity_n`.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Kind {
    /// The bytes are no UTF-8.
    #[error("the gate file is not UTF-8 text: byte {byte:#04x} after {after} bytes")]
    NotUtf8 {
        /// The byte.
        byte: u8,
        /// How many bytes before it are text.
        after: usize,
    },
    /// The text is no TOML.
    #[error("{0}")]
    Syntax(String),
    /// A key that no section has.
    #[error("unknown key `{key}`{}", within(section))]
    UnknownKey {
        /// Path of the section; empty for the top of the file.
        section: String,
        /// The key found.
        key: String,
        /// The key of the section that is most like it.
        nearest: Option<String>,
        /// The section that has such a key.
        home: Option<String>,
        /// The keys of the section.
        known: Vec<String>,
    },
    /// A section that is not known.
    #[error("unknown section [{section}]")]
    UnknownSection {
        /// Path of the section.
        section: String,
        /// The section that is most like it.
        nearest: Option<String>,
        /// The sections that could stand there.
        known: Vec<String>,
    },
    /// A section that must be there.
    #[error("no [{section}] section")]
    MissingSection {
        /// Its name.
        section: String,
        /// What it says.
        what: String,
    },
    /// A key that must be there.
    #[error("no `{key}`{}", within(section))]
    MissingKey {
        /// Path of the section; empty for the top of the file.
        section: String,
        /// The key.
        key: String,
        /// What it says.
        what: String,
        /// The words it takes; empty for any other value.
        words: Vec<String>,
    },
    /// A value of another kind than the key takes.
    #[error("{key} is {found}: expected {wanted}{}", in_unit(*unit))]
    WrongKind {
        /// The key.
        key: String,
        /// What stands there.
        found: Found,
        /// What the key takes.
        wanted: Wanted,
        /// The unit of the key.
        unit: Option<&'static str>,
    },
    /// A word that is not among those the key takes.
    #[error("{key} is \"{word}\": expected {}", any_of(words))]
    UnknownWord {
        /// The key.
        key: String,
        /// The word found.
        word: String,
        /// The word that is most like it.
        nearest: Option<String>,
        /// The words the key takes.
        words: Vec<String>,
    },
    /// A text of nothing but white space.
    #[error("{key} is empty: expected a text")]
    Blank {
        /// The key.
        key: String,
    },
    /// A text with a control character, most often from a backslash in double quotes.
    #[error("{key} holds the control character {}: expected printable text", character.escape_debug())]
    ControlCharacter {
        /// The key.
        key: String,
        /// The character.
        character: char,
    },
    /// A NaN or infinity.
    #[error("{key} is {text}: expected a finite number{}", in_unit(*unit))]
    NotFinite {
        /// The key.
        key: String,
        /// As it is written.
        text: String,
        /// The unit of the key.
        unit: Option<&'static str>,
    },
    /// A number outside what the key can be.
    #[error("{key} is {value}{}: expected {bounds}{}", after(*unit), after(*unit))]
    OutOfRange {
        /// The key.
        key: String,
        /// The number.
        value: f64,
        /// The unit of the key.
        unit: Option<&'static str>,
        /// What it can be.
        bounds: Bounds,
        /// The unit that was likely meant.
        slip: Option<Slip>,
    },
    /// A text that is no day of the calendar.
    #[error("{key} is \"{text}\": expected a day as year-month-day, such as 2026-03-02")]
    NotADay {
        /// The key.
        key: String,
        /// As it is written.
        text: String,
    },
    /// A calibration that ends before it begins.
    #[error("gauge.calibration_due is {due}, before gauge.calibrated_on {calibrated}")]
    DueBeforeCalibrated {
        /// Day of the calibration.
        calibrated: Date,
        /// Last day on which it holds.
        due: Date,
    },
    /// An obstacle without the space to it.
    #[error(
        "gate.opening_side names an obstacle, but there is no `obstacle_space_mm`: the gap of the hits on opening is that space"
    )]
    ObstacleWithoutSpace,
    /// The place of an obstacle where none is named.
    #[error("gate.{key} is given, but gate.opening_side does not name an obstacle")]
    SpaceWithoutObstacle {
        /// The key.
        key: &'static str,
    },
    /// A certificate that states no uncertainty.
    #[error(
        "the certificate gives no uncertainty: expected expanded_uncertainty_percent or expanded_uncertainty_n"
    )]
    EmptyCertificate,
    /// A certificate whose uncertainty has no coverage factor.
    #[error("the certificate gives an uncertainty without its `coverage_factor`")]
    CertificateWithoutFactor,
    /// A guard band under the simple rule.
    #[error("assessment.guard_band is given, but the simple rule has no guard band")]
    BandWithoutGuard,
    /// A pattern and a list of logs.
    #[error("[logs] has both `names` and a list: expected one of them")]
    NamesAndList,
    /// Neither a pattern nor a list of logs.
    #[error("[logs] does not say which hit each log holds: expected `names` or [[logs.list]]")]
    NeitherNamesNorList,
    /// A pattern that is none.
    #[error("logs.names: {0}")]
    Pattern(#[source] PatternError),
}

/// What stands where something else was expected.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Found {
    Text(String),
    Number(String),
    Switch(bool),
    Day(String),
    List,
    Table,
}

/// What a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Wanted {
    Text,
    Day,
    Number,
    WholeNumber,
    Switch,
    List,
    Table,
    Setting,
}

/// What a number can be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// It must be greater than this.
    pub above: Option<f64>,
    /// It must be at least this.
    pub least: Option<f64>,
    /// It must be at most this.
    pub most: Option<f64>,
}

impl GateError {
    pub(super) fn new(text: &str, mut found: Vec<(Kind, Range<usize>)>) -> Self {
        found.sort_by_key(|(_, span)| span.start);
        found.truncate(MOST_PROBLEMS);
        let problem = |(kind, span)| {
            let spot = Spot::new(text, span);
            let line = spot.line_of(text).to_owned();
            Problem { kind, spot, line }
        };
        Self {
            problems: found.into_iter().map(problem).collect(),
        }
    }

    pub(super) fn syntax(text: &str, faults: Vec<Fault>) -> Self {
        let found = faults.into_iter().map(|fault| {
            let what = match &*fault.key {
                "" => fault.what,
                key => format!("{key}: {}", fault.what),
            };
            (Kind::Syntax(what), fault.spot.span)
        });
        Self::new(text, found.collect())
    }

    pub(super) fn not_utf8(bytes: &[u8], error: &Utf8Error) -> Self {
        let after = error.valid_up_to();
        let text = String::from_utf8_lossy(bytes);
        let kind = Kind::NotUtf8 {
            byte: bytes.get(after).copied().unwrap_or_default(),
            after,
        };
        Self::new(&text, vec![(kind, after..after + 1)])
    }
}

impl std::error::Error for GateError {}

impl fmt::Display for GateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.problems.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            problem.fmt(f)?;
        }
        Ok(())
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Spot { line, column, .. } = self.spot;
        write!(f, "line {line}, column {column}: {}", self.kind)
    }
}

impl fmt::Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(text) => write!(f, "the text \"{text}\""),
            Self::Number(number) => write!(f, "the number {number}"),
            Self::Switch(switch) => switch.fmt(f),
            Self::Day(day) => write!(f, "the day {day}"),
            Self::List => f.write_str("a list"),
            Self::Table => f.write_str("a section"),
        }
    }
}

impl fmt::Display for Wanted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Text => "a text in quotes",
            Self::Day => "a day as year-month-day, such as 2026-03-02",
            Self::Number => "a number",
            Self::WholeNumber => "a whole number",
            Self::Switch => "true or false",
            Self::List => "a list in square brackets",
            Self::Table => "a section",
            Self::Setting => "a number, a text in quotes, true or false",
        })
    }
}

impl fmt::Display for Bounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self {
                above: Some(above),
                most: Some(most),
                ..
            } => write!(f, "more than {above} and at most {most}"),
            Self {
                least: Some(least),
                most: Some(most),
                ..
            } => write!(f, "{least} to {most}"),
            Self {
                above: Some(above), ..
            } => write!(f, "more than {above}"),
            Self {
                least: Some(least), ..
            } => write!(f, "at least {least}"),
            Self {
                most: Some(most), ..
            } => write!(f, "at most {most}"),
            Self { .. } => f.write_str("any number"),
        }
    }
}

fn within(section: &str) -> String {
    if section.is_empty() {
        " at the top of the gate file".to_owned()
    } else {
        format!(" in [{section}]")
    }
}

fn in_unit(unit: Option<&str>) -> String {
    unit.map_or_else(String::new, |unit| format!(" in {unit}"))
}

fn after(unit: Option<&str>) -> String {
    unit.map_or_else(String::new, |unit| format!(" {unit}"))
}

fn any_of(words: &[String]) -> String {
    match words {
        [] => "nothing".to_owned(),
        [only] => format!("\"{only}\""),
        [first @ .., last] => {
            let first: Vec<String> = first.iter().map(|word| format!("\"{word}\"")).collect();
            format!("{} or \"{last}\"", first.join(", "))
        }
    }
}
