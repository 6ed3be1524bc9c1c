//! What is worth telling about how a log was read: facts, each of a kind that scripts know.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::quantity::{ForceUnit, Hertz, TimeUnit};
use crate::trace::{Clock, Column};

/// Something worth telling about how a log was read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Notice {
    /// Its kind.
    pub kind: Kind,
    /// Line of the log, from 1, where there is one.
    pub line: Option<u64>,
    /// What was seen.
    #[serde(flatten)]
    pub fact: Noticed,
}

impl Fact for Notice {
    const FAMILY: &'static str = "notice";
}

/// The kind of a notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the facts of each say it")]
pub enum Kind {
    Archive,
    Cell,
    ClockGap,
    Count,
    Encoding,
    Footer,
    Frozen,
    Head,
    LastLine,
    Missing,
    Clock,
    Outlier,
    Quality,
    Rate,
    Remark,
    RepeatedInstant,
    ThousandsMark,
    Unit,
    Wrap,
    Zero,
}

impl Fact for Kind {
    const FAMILY: &'static str = "notice-kind";
}

/// What was noticed. `found` is what stands in the log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names of the fields say it")]
#[strum(serialize_all = "kebab-case")]
pub enum Noticed {
    /// A file beside the log in its archive.
    FileLeftOut { file: String },
    /// Bytes that are no text in the encoding of the log, replaced by U+FFFD.
    BytesReplaced { encoding: String },
    /// Zero bytes or end-of-file signs after the last line.
    BytesAfterTheEnd { bytes: usize },
    /// Digits of another script, by its zero.
    OtherDigits { zero: String },
    /// Labels in front of the values of each row, taken for heads.
    LabelsAsHeads { labels: Vec<String> },
    /// Quotes around whole lines, taken off.
    LinesQuoted,
    /// A line of text above or between the rows.
    Remark { found: String },
    /// Words beyond the last column of a row.
    BeyondTheColumns { found: String },
    /// A line of text below the rows.
    Footer { found: String },
    /// The heads of the log once more.
    HeadsAgain { found: String },
    /// Other heads, under which nothing is read because a person chose the run.
    OtherHeads { found: String },
    /// Fewer rows than the log declares: it was cut off, or rows were lost.
    RowsMissing {
        found: String,
        rows: u64,
        missing: u64,
    },
    /// More rows than the log declares, and not a whole number of blocks of as many.
    OtherCount {
        found: String,
        declared: u64,
        rows: u64,
    },
    /// A unit of mass, read as the force that the mass weighs.
    UnitOfMass {
        column: Column,
        found: String,
        force_unit: ForceUnit,
        unit_n: f64,
    },
    /// A unit of force that a line above the rows declares.
    UnitDeclared {
        column: Column,
        force_unit: ForceUnit,
        declared_line: u64,
    },
    /// A unit of force that a person said, and the log says another.
    ForceUnitAnswered {
        column: Column,
        logged: ForceUnit,
        force_unit: ForceUnit,
    },
    /// A unit of time that a person said, and the log says another.
    TimeUnitAnswered {
        column: Column,
        logged: TimeUnit,
        time_unit: TimeUnit,
    },
    /// A clock without a unit, in which only one unit agrees with the sampling rate.
    TimeUnitByRate {
        column: Column,
        time_unit: TimeUnit,
        clock: Clock,
    },
    /// A clock without a unit, in which only one unit makes a plausible sampling rate.
    TimeUnitByStep {
        column: Column,
        time_unit: TimeUnit,
        step: f64,
    },
    /// A unit beside a force that is not the unit of the rows before.
    OtherUnitBeside { found: String },
    /// A force with a unit in its cell that is not the unit of its column.
    OtherUnitInCell {
        found: String,
        force_unit: ForceUnit,
    },
    /// Rows in falling order of their instants, turned round.
    NewestFirst { rows: usize },
    /// Instants made of two columns: whole seconds, and the digits after them.
    ClockOfTwo { column: Column, fraction: Column },
    /// A counter that rises by more than one: the rate is that of the rows.
    CountInSteps { column: Column, step: f64 },
    /// A line from which on the force is in another unit.
    UnitChanges {
        found: String,
        force_unit: ForceUnit,
    },
    /// The sign of the force, taken from a column of words.
    SignByColumn { column: Column },
    /// A clock read with another decimal mark than the force.
    ClockMark { column: Column, mark: char },
    /// A declared sampling rate that the clock contradicts; the clock is kept.
    RateOverruled {
        column: Column,
        own_hz: Hertz,
        rate_hz: Hertz,
        declared_line: u64,
        found: String,
    },
    /// A quoted cell over several lines.
    CellOverLines { lines: usize },
    /// A row with too many cells, of which some were joined to numbers.
    CellsJoined {
        found: String,
        cells: usize,
        columns: usize,
    },
    /// A cell that is no force.
    NoForce { column: Column, found: String },
    /// A line that is no row, where one was expected.
    NoRow { found: String },
    /// A row with a force and without an instant.
    NoInstant { column: Option<Column> },
    /// A line that begins like a row and has no instant.
    NoInstantInLine { found: String },
    /// An empty cell where a force was expected.
    ForceEmpty { column: Column },
    /// A word for no number where a force was expected.
    ForceNotFinite { column: Column, found: String },
    /// A row that the log marks as other than good.
    Marked { found: String },
    /// A number that its thousands mark had parted.
    PartedByThousandsMark { found: String },
    /// A number with a thousands mark.
    ThousandsMark { found: String },
    /// A last line without an end: digits may be cut off.
    NoLineEnd { found: String },
    /// Rows with the same instant, spread over a span.
    InstantRepeated {
        rows: usize,
        instant_s: f64,
        spread_s: f64,
    },
    /// A time without a sample.
    ClockGap { gap_s: f64, usual_s: f64 },
    /// A counter that began again, and what is added from there on, in its own unit.
    ClockWrapped { before: f64, after: f64, added: f64 },
    /// Forces that are all zero.
    AllZero { samples: usize },
    /// Forces that are all the same.
    AllEqual { samples: usize, force_n: f64 },
    /// Many equal forces in a row, where most others differ from the one before.
    Stuck { samples: usize, force_n: f64 },
    /// A first sample far from the one beside it.
    FirstStandsOut { force_n: f64, beside_n: f64 },
    /// A last sample far from the one beside it.
    LastStandsOut { force_n: f64, beside_n: f64 },
    /// A sample far from both beside it.
    StandsOut {
        force_n: f64,
        before_n: f64,
        after_n: f64,
    },
    /// More of this kind than are told one by one.
    AndMore { count: usize },
}
