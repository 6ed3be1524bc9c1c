//! The columns of the tables: name, kind, meaning and the cell of a row. CSV, Parquet and the help are made from them.

use std::borrow::Cow;

use jiff::civil::Date;

use super::{FindingRow, GateRow};

/// A value of a table; inside `None` where there is none.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell<'a> {
    /// Text, UTF-8.
    Text(Option<Cow<'a, str>>),
    /// A number.
    Number(Option<f64>),
    /// A whole number.
    Whole(Option<i64>),
    /// A day.
    Day(Option<Date>),
    /// Yes or no.
    Flag(Option<bool>),
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Kind {
    Text,
    Number,
    Whole,
    Day,
    Flag,
}

impl Kind {
    /// The word of the help.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Number => "number",
            Self::Whole => "whole number",
            Self::Day => "day",
            Self::Flag => "yes or no",
        }
    }
}

/// A column of a table whose rows are made from `Row`.
pub struct Column<Row: ?Sized> {
    /// Its heading; ends in the unit where it has one.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What it means.
    pub meaning: &'static str,
    /// Its cell of a row.
    pub cell: for<'a> fn(&'a Row) -> Cell<'a>,
}

/// A row of the table of findings: the gate folder and the finding.
pub struct FoundAt<'g> {
    /// The folder.
    pub gate: &'g GateRow,
    /// The finding in it.
    pub finding: &'g FindingRow,
}

fn text(text: &str) -> Cell<'_> {
    Cell::Text(Some(Cow::Borrowed(text)))
}

fn maybe(text: &Option<String>) -> Cell<'_> {
    Cell::Text(text.as_deref().map(Cow::Borrowed))
}

/// Text that is empty where there is nothing to say.
fn some(text: &str) -> Cell<'_> {
    Cell::Text(Some(text).filter(|it| !it.is_empty()).map(Cow::Borrowed))
}

fn count<'a>(count: usize) -> Cell<'a> {
    Cell::Whole(i64::try_from(count).ok())
}

fn counted<'a>(count: Option<usize>) -> Cell<'a> {
    Cell::Whole(count.and_then(|count| i64::try_from(count).ok()))
}

const fn column<Row: ?Sized>(
    name: &'static str,
    kind: Kind,
    meaning: &'static str,
    cell: for<'a> fn(&'a Row) -> Cell<'a>,
) -> Column<Row> {
    Column {
        name,
        kind,
        meaning,
        cell,
    }
}

/// The columns of the table of gate folders.
#[rustfmt::skip]
#[must_use]
pub const fn gates() -> [Column<GateRow>; 27] {[
    column("folder", Kind::Text, "the gate folder, from the tree", |row| text(&row.folder)),
    column("state", Kind::Text, "within, over, undecided or not-judged: the verdict on the whole folder", |row| text(row.state.word())),
    column("gate", Kind::Text, "name of the gate", |row| maybe(&row.gate)),
    column("place", Kind::Text, "where it stands", |row| maybe(&row.place)),
    column("motion", Kind::Text, "how the leaf moves", |row| maybe(&row.motion)),
    column("visit_date", Kind::Day, "day of the visit", |row| Cell::Day(row.visit_date)),
    column("visit_kind", Kind::Text, "first, recurring or after-change", |row| maybe(&row.visit_kind)),
    column("profile", Kind::Text, "limit profile it was judged against", |row| maybe(&row.profile)),
    column("decision", Kind::Text, "decision rule", |row| maybe(&row.decision)),
    column("gauge_serial", Kind::Text, "serial number of the gauge", |row| maybe(&row.gauge_serial)),
    column("calibrated_on", Kind::Day, "last calibration that the gate file names", |row| Cell::Day(row.calibrated_on)),
    column("calibration_due", Kind::Day, "last day on which any calibration in the gate file holds", |row| Cell::Day(row.calibration_due)),
    column("next_due", Kind::Day, "day of the next visit, from the handover", |row| Cell::Day(row.next_due)),
    column("temperature_c", Kind::Number, "temperature at the visit, °C", |row| Cell::Number(row.temperature_c)),
    column("firmware", Kind::Text, "firmware of the drive", |row| maybe(&row.firmware)),
    column("logs", Kind::Whole, "logs that were read as hits", |row| count(row.logs)),
    column("findings", Kind::Whole, "findings that decide", |row| count(row.findings)),
    column("findings_over", Kind::Whole, "of these over the limit", |row| count(row.findings_over)),
    column("findings_undecided", Kind::Whole, "of these undecided", |row| count(row.findings_undecided)),
    column("points_missing", Kind::Whole, "wanted test points without all hits", |row| count(row.points_missing)),
    column("points_not_judged", Kind::Whole, "tested points at which no limit decides", |row| count(row.points_not_judged)),
    column("greatest_share", Kind::Number, "greatest value of a finding that decides, as a share of its limit", |row| Cell::Number(row.greatest_share)),
    column("greatest_share_at", Kind::Text, "limit and test point of that value", |row| maybe(&row.greatest_share_at)),
    column("reasons", Kind::Text, "why the folder is not within although nothing is over", |row| some(&row.reasons)),
    column("remarks", Kind::Text, "what must be told whatever the verdict", |row| some(&row.remarks)),
    column("complaint", Kind::Text, "why the folder could not be judged", |row| maybe(&row.complaint)),
    column("record_sha256", Kind::Text, "SHA-256 of the assessment.json that `relent assess` writes for this folder", |row| maybe(&row.record_sha256)),
]}

/// The columns of the table of findings.
#[rustfmt::skip]
#[must_use]
pub const fn findings<'g>() -> [Column<FoundAt<'g>>; 32] {[
    column("row", Kind::Text, "finding, missing-point (a wanted point without all hits) or point-without-limit", |at| text(at.finding.row.word())),
    column("folder", Kind::Text, "the gate folder, from the tree", |at| text(&at.gate.folder)),
    column("gate", Kind::Text, "name of the gate", |at| maybe(&at.gate.gate)),
    column("place", Kind::Text, "where it stands", |at| maybe(&at.gate.place)),
    column("visit_date", Kind::Day, "day of the visit", |at| Cell::Day(at.gate.visit_date)),
    column("visit_kind", Kind::Text, "first, recurring or after-change", |at| maybe(&at.gate.visit_kind)),
    column("profile", Kind::Text, "limit profile", |at| maybe(&at.gate.profile)),
    column("limit", Kind::Text, "name of the limit", |at| maybe(&at.finding.limit)),
    column("known_from", Kind::Text, "how the limit is known: read, second-hand, memory or chosen", |at| maybe(&at.finding.known_from)),
    column("decides", Kind::Flag, "whether it counts for the verdict, or is shown only", |at| Cell::Flag(at.finding.decides)),
    column("direction", Kind::Text, "which way the leaf moved", |at| maybe(&at.finding.direction)),
    column("hazard", Kind::Text, "which part of the leaf hit", |at| maybe(&at.finding.hazard)),
    column("gap_mm", Kind::Number, "opening left at contact", |at| Cell::Number(at.finding.gap_mm)),
    column("height_mm", Kind::Number, "height above the ground; of a vertical leaf the place across", |at| Cell::Number(at.finding.height_mm)),
    column("measure", Kind::Text, "what was measured", |at| maybe(&at.finding.measure)),
    column("unit", Kind::Text, "unit of value, limit_value, headroom and expanded_uncertainty: N, s or Ns", |at| maybe(&at.finding.unit)),
    column("hits_wanted", Kind::Whole, "hits wanted at the point", |at| counted(at.finding.hits_wanted)),
    column("hits_found", Kind::Whole, "hits found there", |at| counted(at.finding.hits_found)),
    column("value", Kind::Number, "mean or greatest of the usable readings, unrounded", |at| Cell::Number(at.finding.value)),
    column("lower_bound_only", Kind::Flag, "the true value may be greater: hits are missing, or the evidence is incomplete", |at| Cell::Flag(at.finding.lower_bound_only)),
    column("limit_value", Kind::Number, "the limit", |at| Cell::Number(at.finding.limit_value)),
    column("bound", Kind::Text, "at-most or below: whether the limit itself is permitted", |at| maybe(&at.finding.bound)),
    column("share_of_limit", Kind::Number, "value divided by limit", |at| Cell::Number(at.finding.share_of_limit)),
    column("headroom", Kind::Number, "limit minus value", |at| Cell::Number(at.finding.headroom)),
    column("expanded_uncertainty", Kind::Number, "U for 95 %", |at| Cell::Number(at.finding.expanded_uncertainty)),
    column("probability_of_conformity", Kind::Number, "probability that the true value is within the limit", |at| Cell::Number(at.finding.probability_of_conformity)),
    column("verdict", Kind::Text, "within, over, undecided, not-tested, incomplete or not-judged", |at| text(&at.finding.verdict)),
    column("reasons", Kind::Text, "why, and what must be told beside it", |at| some(&at.finding.reasons)),
    column("logs", Kind::Text, "the logs it comes from", |at| some(&at.finding.logs)),
    column("gauge_serial", Kind::Text, "serial number of the gauge", |at| maybe(&at.gate.gauge_serial)),
    column("calibration_due", Kind::Day, "last day on which any calibration in the gate file holds", |at| Cell::Day(at.gate.calibration_due)),
    column("next_due", Kind::Day, "day of the next visit, from the handover", |at| Cell::Day(at.gate.next_due)),
]}
