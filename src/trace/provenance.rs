//! Where a record comes from: which columns of which text, in which units, on which clock, and what a person said about it.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::quantity::{ForceUnit, Hertz, Newton, TimeUnit};

/// How a log was read to make a record of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Provenance {
    /// What the text was packed in; absent for plain text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub container: Option<Container>,
    /// Encoding of the text, as the WHATWG encoding standard names it.
    pub encoding: String,
    /// `comma`, `semicolon`, `tab`, `bar`, `blanks`, `none` for one bare column, or the character itself.
    pub delimiter: String,
    /// `.` or `,`
    pub decimal_mark: char,
    /// The columns whose sum is the force.
    pub forces: Vec<ForceColumn>,
    /// Sign of a push in the log.
    pub push: Sign,
    /// What the instants were read from.
    pub clock: Clock,
    /// Median sampling rate; absent for a single sample.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rate_hz: Option<Hertz>,
    /// Which run of the log, from 1.
    pub run: usize,
    /// How many runs the log has.
    pub runs: usize,
    /// Rows of the run that gave no sample.
    pub rows_lost: usize,
    /// What a person said about the log.
    pub answers: Answers,
    /// Greatest force that the logger was set to show, as the log says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range_n: Option<Newton>,
    /// Day of the test, as the log says; two where the order of day and month is open.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(with = "Vec<String>"))]
    pub days: Vec<Date>,
    /// Serial numbers of the gauge, as the log says.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub serials: Vec<String>,
}

/// What the text of a log was packed in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Container {
    /// A gzip file.
    Gzip,
    /// A zip archive.
    Zip {
        /// Name of the log inside it.
        file: String,
    },
    /// JSON: an array of objects, or one object a line.
    Json,
    /// A workbook.
    Workbook {
        /// Name of the sheet.
        sheet: String,
    },
}

impl Fact for Container {
    const FAMILY: &'static str = "container";
}

/// A column of a log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Column {
    /// Its number, from 1.
    pub number: usize,
    /// What stands over it.
    pub name: Option<String>,
}

/// A column that the force was read from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ForceColumn {
    /// The column.
    pub column: Column,
    /// The unit of its numbers.
    pub unit: ForceUnit,
    /// What one of the unit is in newtons.
    pub unit_n: f64,
}

impl Fact for ForceColumn {
    const FAMILY: &'static str = "force-column";
}

/// What the instants of a record were read from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Clock {
    /// A column of numbers.
    Numbers {
        /// The column.
        column: Column,
        /// The unit of its numbers.
        unit: TimeUnit,
    },
    /// A column of clock times.
    Stamps {
        /// The column.
        column: Column,
    },
    /// A sampling rate that the log declares.
    Declared {
        /// The rate.
        rate_hz: Hertz,
        /// Line of the log, from 1.
        line: u64,
        /// What stands there.
        found: String,
    },
    /// A sampling rate that a person gave.
    Answered {
        /// The rate.
        rate_hz: Hertz,
    },
}

impl Fact for Clock {
    const FAMILY: &'static str = "clock";
}

/// What a person said about a log, on the command line or in a recipe. Empty by default.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Answers {
    /// Name of the log in its archive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Column of the force: a name, a number from 1, or two joined by `+` to add them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub force: Option<String>,
    /// Unit of the force column.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub force_unit: Option<ForceUnit>,
    /// What the numbers of the force are multiplied by to be in their unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale: Option<f64>,
    /// Column of the time: a name or a number from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<String>,
    /// Unit of the time column.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_unit: Option<TimeUnit>,
    /// Sampling rate where the log has no usable clock.
    #[serde(default, rename = "rate_hz", skip_serializing_if = "Option::is_none")]
    pub rate: Option<Hertz>,
    /// Which run of the log, from 1, or `all` where they are one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run: Option<ChosenRun>,
    /// Whether a push was logged as a negative force.
    #[serde(default, rename = "push", skip_serializing_if = "Option::is_none")]
    pub sign: Option<Sign>,
    /// `.` or `,`
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decimal_mark: Option<char>,
    /// Decimal mark of the time column, where it has another one: `.` or `,`
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_decimal_mark: Option<char>,
    /// Delimiter between cells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub delimiter: Option<char>,
    /// Name of the recipe these answers come from, for the record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<String>,
}

/// The run that a person chose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum ChosenRun {
    /// One of several, by its number from 1.
    Number(usize),
    /// All rows: what stands between them ends no run.
    Every(EveryRun),
}

/// The word for all rows of a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum EveryRun {
    /// All of them.
    All,
}

impl ChosenRun {
    /// All rows as one run.
    pub const ALL: Self = Self::Every(EveryRun::All);
}

impl From<usize> for ChosenRun {
    fn from(number: usize) -> Self {
        Self::Number(number)
    }
}

/// Sign of a push on the gauge in the log.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Sign {
    /// A push is logged as a positive force.
    #[default]
    #[serde(rename = "positive")]
    PushIsPositive,
    /// A push is logged as a negative force: `--invert`.
    #[serde(rename = "negative")]
    PushIsNegative,
}
