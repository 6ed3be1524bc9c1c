//! Bytes of a log → what was understood of it, and, where nothing has to be asked, its force–time record.

mod alike;
mod bounds;
mod cells;
mod choice;
mod clock;
mod columns;
mod container;
mod decimal;
mod dialect;
mod document;
mod encoding;
mod error;
mod fast;
mod heads;
mod join;
mod marks;
mod notices;
mod number;
mod preamble;
mod rate;
mod reading;
mod recipe;
mod sample;
mod shape;
mod slow;
mod sniff;
mod stack;
mod stamp;
mod start;
mod steps;
mod suspicion;
mod table;
mod units;
mod words;
mod workbook;
mod wraps;

pub use cells::printable;
pub use document::{Document, document};
pub use error::ReadError;
pub use reading::{DigestOf, hexadecimal, read, read_with, sha256};
pub use recipe::{RecipeError, from_recipe, to_recipe};
pub use units::{force_unit, time_unit};

use serde::Serialize;

use crate::quantity::{ForceUnit, Hertz, Newton, Second, TimeUnit};
use crate::trace::Trace;

/// What a person said about a log, on the command line or in a recipe. Empty by default.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answers {
    /// Column of the force: a name, a number from 1, or two joined by `+` to add them.
    pub force: Option<String>,
    /// Unit of the force column.
    pub force_unit: Option<ForceUnit>,
    /// Column of the time: a name or a number from 1.
    pub time: Option<String>,
    /// Unit of the time column.
    pub time_unit: Option<TimeUnit>,
    /// Sampling rate where the log has no usable clock.
    pub rate: Option<Hertz>,
    /// Which run of the log, from 1.
    pub run: Option<usize>,
    /// Whether a push was logged as a negative force.
    pub sign: Option<Sign>,
    /// `.` or `,`
    pub decimal_mark: Option<char>,
    /// Delimiter between cells.
    pub delimiter: Option<char>,
    /// Name of the recipe these answers come from, for the record.
    pub recipe: Option<String>,
}

/// Sign of a push on the gauge in the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A push is logged as a positive force.
    PushIsPositive,
    /// A push is logged as a negative force: `--invert`.
    PushIsNegative,
}

/// What was understood of a log.
#[derive(Clone, Debug)]
pub struct Reading {
    /// SHA-256 of the log's bytes as they lie in the file, lower-case hexadecimal.
    pub sha256: String,
    /// Encoding, as the WHATWG encoding standard names it.
    pub encoding: String,
    /// Delimiter between cells; `None` for a single bare column.
    pub delimiter: Option<char>,
    /// `.` or `,`
    pub decimal_mark: char,
    /// The columns, in the order of the log.
    pub channels: Vec<Channel>,
    /// The runs found; the chosen one only, where one was chosen.
    pub runs: Vec<Run>,
    /// Everything a person should know about how the log was read.
    pub notices: Vec<Notice>,
    /// The record, or what must be answered first.
    pub outcome: Outcome,
}

/// The record of a log, or the questions in its way.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// Read without doubt.
    Read(Box<Trace>),
    /// Not read: at least one question.
    Asks(Vec<Question>),
}

/// A column of the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Channel {
    /// Number of the column, from 1.
    pub column: usize,
    /// Heading, empty where there is none.
    pub name: String,
    /// Unit as the log writes it.
    pub unit: Option<String>,
    /// What it was taken for.
    pub role: Role,
}

/// What a column is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Role {
    Force,
    Time,
    Position,
    Speed,
    Current,
    Quality,
    Other,
}

impl Role {
    /// The role in running text.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Force => "force",
            Self::Time => "time",
            Self::Position => "position of the leaf",
            Self::Speed => "speed of the leaf",
            Self::Current => "motor current",
            Self::Quality => "quality mark",
            Self::Other => "not used",
        }
    }
}

/// One run of a log in numbers, before anything is computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Rows with a usable instant, those without a usable force among them.
    pub samples: usize,
    /// Rows whose force cell was empty, not finite or not a number.
    pub missing: usize,
    /// Median sampling rate.
    pub rate: Option<Hertz>,
    /// Smallest, median and greatest step of the clock.
    pub step: Option<[Second; 3]>,
    /// Greatest raw force.
    pub max: Newton,
    /// Its instant from the run's first sample.
    pub max_at: Second,
    /// Smallest raw force.
    pub min: Newton,
}

/// Something that a person must say before the log can be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What is asked.
    pub ask: Ask,
    /// What was seen and why it is not enough.
    pub text: String,
    /// The option that answers it.
    pub answer_with: String,
}

/// What can be asked about a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Ask {
    ForceColumn,
    ForceUnit,
    TimeColumn,
    TimeUnit,
    SamplingRate,
    DecimalMark,
    Delimiter,
    Sign,
    Run,
}

/// Something worth telling about how a log was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// `footer`, `remark`, `missing`, `cell`, `repeated-instant`, `clock-gap`, `wrap`, `frozen`, `outlier`, `unit`, `zero`, `count` …
    pub kind: &'static str,
    /// Line of the log, from 1, where there is one.
    pub line: Option<u64>,
    /// What was seen.
    pub text: String,
}
