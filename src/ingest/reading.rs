//! What was understood of a log.

use serde::Serialize;

use crate::fact::Fact;
use crate::ingest::notice::Notice;
use crate::ingest::question::Question;
use crate::quantity::{Hertz, Newton, Second};
use crate::trace::Trace;

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
    /// The runs found, the first 100 of them; the chosen one only, where one was chosen.
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

impl Fact for Role {
    const FAMILY: &'static str = "role";
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
