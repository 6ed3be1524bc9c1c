//! A finding as a row.

use serde::{Deserialize, Serialize};

use super::VisitRow;
use super::column::{Cell, Column, Columns, columns, row};
use super::table::CsvTable;
use crate::limits::{Bound, SourceKind, TestPoint};
use crate::measure::Measure;
use crate::quantity::Quantity;
use crate::verdict::{Finding, OpenItem, Reason, Remark, Verdict};
use crate::visit::{Assessment, Told};
use crate::words::{Said, Words};

/// What a row of the table of findings is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum RowKind {
    /// A limit applied to the hits at a test point.
    Finding,
    /// A required test point with fewer hits than required.
    MissingPoint,
    /// A tested point at which no limit decides.
    PointWithoutLimit,
    /// The visit as a whole.
    Visit,
}

row! {
    /// One finding, missing test point or point without a limit. Absent: there is no such value.
    pub struct FindingRow {
        /// finding, missing-point (a required point without all hits), point-without-limit, or visit (the last row: the whole)
        row: RowKind,
        /// name of the limit
        limit?: String,
        /// source of the limit: confirmed, read, second-hand, memory or chosen
        limit_source?: SourceKind,
        /// whether the whole needs it to be within, or it is shown only; over counts in either case
        decides?: bool,
        /// where the gauge was held
        test_point?: TestPoint,
        /// what was measured
        measure?: Measure,
        /// unit of hit_values, value, at_least, at_most, limit_value, headroom, expanded_uncertainty and spread: N, s or N·s
        unit?: String,
        /// hits required at the point
        hits_required?: usize,
        /// hits recorded there
        hits_recorded?: usize,
        /// the value of each hit, in their order; none (in JSON null) for a hit without one
        hit_values: Vec<Option<f64>>,
        /// mean or greatest of the readings, unrounded
        value?: f64,
        /// the least that the records, the gauge and the hits that are missing allow the value to be, before its uncertainty
        at_least?: f64,
        /// the greatest that they allow; none where nothing bounds it
        at_most?: f64,
        /// the limit
        limit_value?: f64,
        /// at-most or below: whether the limit itself is permitted
        bound?: Bound,
        /// value divided by limit
        share_of_limit?: f64,
        /// limit minus value
        headroom?: f64,
        /// expanded uncertainty U of the value for 95 %
        expanded_uncertainty?: f64,
        /// probability that the true value is within the limit
        probability_of_conformity?: f64,
        /// greatest minus least usable reading
        spread?: f64,
        /// over, within or undecided
        verdict: Verdict,
        /// why the verdict is what it is, where the value alone does not say it
        reasons: Vec<Said<Reason>>,
        /// what must be told beside the verdict
        remarks: Vec<Said<Remark>>,
        /// of the visit: why it is not within though no finding is over
        open: Vec<Said<OpenItem>>,
        /// of the visit: what must be told whatever the verdict: own limits, chosen points, single hits over, void hits, files
        told: Vec<Said<Told>>,
        /// the logs it comes from
        logs: Vec<String>,
    }
}

impl FindingRow {
    /// The rows of an assessment: its findings, missing points, points without a limit, and the visit as a whole.
    #[must_use]
    pub fn all(words: &Words, assessment: &Assessment) -> Vec<Self> {
        let missing = assessment.missing.iter().map(|one| Self {
            hits_required: Some(one.wanted),
            hits_recorded: Some(one.found),
            reasons: vec![words.said(Reason::HitsMissing {
                found: one.found,
                required: one.wanted,
            })],
            ..Self::at(RowKind::MissingPoint, Some(one.point))
        });
        let without = assessment
            .without_limit
            .iter()
            .map(|(point, no_limit)| Self {
                reasons: vec![words.said(Reason::NoLimit {
                    no_limit: no_limit.clone(),
                })],
                ..Self::at(RowKind::PointWithoutLimit, Some(*point))
            });
        let found = assessment.findings.iter().map(|one| Self::of(words, one));
        let overall = assessment.overall();
        let whole = Self {
            verdict: overall.verdict,
            open: words.all_said(overall.reasons),
            told: words.all_said(assessment.told()),
            ..Self::at(RowKind::Visit, None)
        };
        found.chain(missing).chain(without).chain([whole]).collect()
    }

    fn at(row: RowKind, test_point: Option<TestPoint>) -> Self {
        Self {
            row,
            limit: None,
            limit_source: None,
            decides: None,
            test_point,
            measure: None,
            unit: None,
            hits_required: None,
            hits_recorded: None,
            hit_values: Vec::new(),
            value: None,
            at_least: None,
            at_most: None,
            limit_value: None,
            bound: None,
            share_of_limit: None,
            headroom: None,
            expanded_uncertainty: None,
            probability_of_conformity: None,
            spread: None,
            verdict: Verdict::Undecided,
            reasons: Vec::new(),
            remarks: Vec::new(),
            open: Vec::new(),
            told: Vec::new(),
            logs: Vec::new(),
        }
    }

    /// The row of a finding.
    #[must_use]
    pub fn of(words: &Words, finding: &Finding) -> Self {
        let limit = &finding.limit;
        let value = finding.value().ok();
        let interval = finding.interval();
        let finite = |number: Option<f64>| number.filter(|it| it.is_finite());
        Self {
            limit: Some(limit.name.clone()),
            limit_source: Some(limit.source),
            decides: Some(finding.decides()),
            measure: Some(limit.measure),
            unit: Some(limit.unit().to_owned()),
            hits_required: Some(finding.wanted),
            hits_recorded: Some(finding.repeats.len()),
            hit_values: finding
                .repeats
                .iter()
                .map(|it| finite(it.value.ok().map(Quantity::get)))
                .collect(),
            at_least: finite(value.map(|_| interval.at_least)),
            at_most: finite(value.map(|_| interval.at_most)),
            value: finite(value),
            limit_value: Some(limit.value),
            bound: Some(limit.bound),
            share_of_limit: finite(finding.share_of_limit()),
            headroom: finite(finding.headroom()),
            expanded_uncertainty: finite(finding.budget.as_ref().map(|budget| budget.expanded)),
            probability_of_conformity: finite(finding.probability()),
            spread: finite(finding.spread()),
            verdict: finding.verdict(),
            reasons: words.all_said(finding.reasons()),
            remarks: words.all_said(finding.remarks()),
            logs: finding
                .repeats
                .iter()
                .map(|repeat| repeat.log.clone())
                .collect(),
            ..Self::at(RowKind::Finding, finding.test_point)
        }
    }

    /// Whether it is a finding that is over.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.row == RowKind::Finding && self.verdict == Verdict::Over
    }
}

/// A row of the table of findings: the visit and the finding.
pub struct Found<'a> {
    /// The visit.
    pub visit: &'a VisitRow,
    /// The finding.
    pub finding: &'a FindingRow,
}

impl Columns for Found<'_> {
    fn columns(_: &'static str, _: &'static str) -> Vec<Column> {
        [columns::<VisitRow>(), columns::<FindingRow>()].concat()
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        VisitRow::cells(it.map(|it| it.visit), to);
        FindingRow::cells(it.map(|it| it.finding), to);
    }
}

/// `findings.csv` of a visit.
///
/// # Errors
/// [`csv::Error`] of the writer; none is known for a writer into memory.
pub fn findings_csv(words: &Words, assessment: &Assessment) -> Result<Vec<u8>, csv::Error> {
    let months = assessment.profile.gauge.calibration_months;
    let visit = &VisitRow::of(&assessment.gate, months);
    let mut table = CsvTable::of::<Found<'_>>(Vec::new())?;
    for finding in &FindingRow::all(words, assessment) {
        table.add(&Found { visit, finding })?;
    }
    table.finish()
}
