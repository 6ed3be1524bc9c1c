//! What a person must say before a log can be read: facts; which option answers a question is told where the options are.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::quantity::{ForceUnit, Hertz};
use crate::trace::Column;

/// Something that a person must say before the log can be read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Question {
    /// What is asked.
    pub ask: Ask,
    /// What was seen and why it is not enough.
    #[serde(flatten)]
    pub doubt: Doubt,
}

impl Fact for Question {
    const FAMILY: &'static str = "question";
}

/// What can be asked about a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    Scale,
    Sign,
    Run,
    File,
}

/// Why something is asked. `found` is what stands in the log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names of the fields say it")]
pub enum Doubt {
    /// Columns without heads: which is the force?
    NoHeads { width: usize },
    /// Another number of heads than of columns.
    HeadsDoNotFit {
        heads: usize,
        width: usize,
        columns: Vec<Column>,
    },
    /// No head names a measured force with a unit of force.
    NoForceNamed { columns: Vec<Column> },
    /// A head that alone does not say that its column is a force.
    HeadSaysTooLittle { column: Column },
    /// Several columns may be the force.
    SeveralForces { columns: Vec<Column> },
    /// Rows with fewer cells between their blanks than there are columns.
    ShortRows { rows: usize, width: usize },
    /// Rows with more numbers than there are columns.
    WideRows { rows: usize, width: usize },
    /// No head and no line names a unit of force.
    NoForceUnit,
    /// Force columns without one unit of force.
    ForceUnitUnclear { unclear_columns: Vec<UnclearColumn> },
    /// A factor beside the name and the unit of the force.
    FactorBesideUnit { column: Column },
    /// A recipe gives another unit than the log.
    UnitContradicted {
        column: Column,
        logged: ForceUnit,
        answered: ForceUnit,
    },
    /// Several columns may be the time.
    SeveralTimes { columns: Vec<Column> },
    /// No head says which column is the time.
    NoTimeNamed { width: usize },
    /// Many rows have no instant that can be read.
    InstantsUnreadable {
        rows: usize,
        line: u64,
        found: String,
    },
    /// A clock without a unit, and the usual step of its numbers.
    NoTimeUnit {
        column: Column,
        usual_step: Option<f64>,
    },
    /// One column, and no declared rate.
    OneColumnWithoutRate,
    /// No column is a clock, and no line declares a rate.
    NoClock { columns: Vec<Column> },
    /// Two lines declare different rates.
    TwoRates {
        rate_hz: Hertz,
        line: u64,
        found: String,
        other_rate_hz: Hertz,
        other_line: u64,
        other_found: String,
        first_line: u64,
    },
    /// A counter that rises by more than one from row to row, beside a declared rate.
    CountRisesBy {
        column: Column,
        step: f64,
        rate_hz: Hertz,
    },
    /// Which rows push, by a column of words, where the sign of the numbers may say so too.
    SignInColumn { column: Column, found: String },
    /// A line between rows that names another unit of force.
    UnitBetween {
        line: u64,
        found: String,
        force_unit: ForceUnit,
    },
    /// A clock whose numbers all have a thousands mark, or another decimal mark than the force.
    ClockMarkOpen {
        line: u64,
        column: Column,
        found: String,
    },
    /// A clock that stands still too often to be one.
    ClockTooCoarse {
        column: Column,
        still: usize,
        steps: usize,
        span_s: f64,
    },
    /// Numbers with a decimal point and numbers with a decimal comma.
    TwoMarks {
        point_line: u64,
        point: String,
        comma_line: u64,
        comma: String,
    },
    /// A number that may have decimals or a thousands mark.
    MarkOpen { line: u64, found: String },
    /// A decimal mark that the log declares and does not use.
    MarkContradicted {
        declared: char,
        used: char,
        line: u64,
        found: String,
    },
    /// Rows with more cells than heads and without a decimal point: commas may be decimal marks too.
    CommasMayBeMarks {
        line: u64,
        found: String,
        cells: usize,
        heads: usize,
    },
    /// A number with a thousands mark and no decimals, where all others have decimals.
    ThousandsOrDecimals {
        line: u64,
        column: Column,
        found: String,
        mark: char,
    },
    /// A row with more cells than there are columns, since a delimiter may stand inside a number.
    TooManyCells {
        line: u64,
        found: String,
        cells: usize,
        width: usize,
        inside: Inside,
    },
    /// One number with a decimal comma, or several cells.
    NumberOrCells {
        line: u64,
        found: String,
        delimiter: String,
    },
    /// Several delimiters make cells of numbers.
    SeveralDelimiters {
        line: u64,
        found: String,
        delimiters: Vec<String>,
    },
    /// The greatest magnitude is negative.
    PushMayBeNegative { max_n: f64, min_n: f64 },
    /// Several runs, and the lines on which all but the first begin, the first few of them.
    SeveralRuns {
        runs: usize,
        lines: Vec<u64>,
        more: usize,
    },
    /// Several logs in one archive, the first few of them.
    SeveralLogs { files: Vec<String>, more: usize },
    /// Other heads begin another table.
    OtherHeads { line: u64, found: String },
}

/// What may stand inside a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Inside {
    /// The comma, which is the decimal mark and the delimiter.
    CommaOfBoth,
    /// The comma, which is the delimiter.
    Comma,
    /// Another delimiter.
    Delimiter,
}

/// A force column whose unit is not known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UnclearColumn {
    /// Its number, from 1.
    pub number: usize,
    /// What stands over it.
    pub name: Option<String>,
    /// What stands there as its unit, if anything.
    pub unit: Option<String>,
}
