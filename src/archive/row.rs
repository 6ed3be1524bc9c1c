//! The rows of one gate folder: what an archive keeps of an assessment.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::gate::GateFile;
use crate::limits::TestPoint;
use crate::verdict::{Finding, Verdict};
use crate::visit::Assessment;

/// How a gate folder stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum GateState {
    Within,
    Undecided,
    Over,
    NotJudged,
}

impl GateState {
    /// All states, the worst first.
    pub const ALL: [Self; 4] = [Self::NotJudged, Self::Over, Self::Undecided, Self::Within];

    /// The word of the tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Undecided => "undecided",
            Self::Over => "over",
            Self::NotJudged => "not-judged",
        }
    }

    /// The state as a reader sees it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Within => "within the limits that were judged",
            Self::Undecided => "undecided",
            Self::Over => "over the limit",
            Self::NotJudged => "could not be judged",
        }
    }
}

/// One gate folder. Absent: the gate file does not say, or the folder could not be judged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "`column::gates` says what each is")]
pub struct GateRow {
    pub folder: String,
    pub state: GateState,
    pub gate: Option<String>,
    pub place: Option<String>,
    pub motion: Option<String>,
    pub visit_date: Option<Date>,
    pub visit_kind: Option<String>,
    pub profile: Option<String>,
    pub decision: Option<String>,
    pub gauge_serial: Option<String>,
    pub calibrated_on: Option<Date>,
    pub calibration_due: Option<Date>,
    pub next_due: Option<Date>,
    pub temperature_c: Option<f64>,
    pub firmware: Option<String>,
    pub logs: usize,
    pub findings: usize,
    pub findings_over: usize,
    pub findings_undecided: usize,
    pub points_missing: usize,
    pub points_not_judged: usize,
    pub greatest_share: Option<f64>,
    pub greatest_share_at: Option<String>,
    pub reasons: String,
    pub remarks: String,
    pub complaint: Option<String>,
    pub record_sha256: Option<String>,
}

/// What a row of the table of findings is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RowKind {
    /// A limit held against the hits at a test point.
    Finding,
    /// A wanted test point with fewer hits than wanted.
    MissingPoint,
    /// A tested point at which no limit decides.
    PointWithoutLimit,
}

impl RowKind {
    /// The word of the tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Finding => "finding",
            Self::MissingPoint => "missing-point",
            Self::PointWithoutLimit => "point-without-limit",
        }
    }
}

/// One finding, missing test point or point without a limit. Absent: there is no such value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "`column::findings` says what each is")]
pub struct FindingRow {
    pub row: RowKind,
    pub limit: Option<String>,
    pub known_from: Option<String>,
    pub decides: Option<bool>,
    pub direction: Option<String>,
    pub hazard: Option<String>,
    pub gap_mm: Option<f64>,
    pub height_mm: Option<f64>,
    pub measure: Option<String>,
    pub unit: Option<String>,
    pub hits_wanted: Option<usize>,
    pub hits_found: Option<usize>,
    pub value: Option<f64>,
    pub lower_bound_only: Option<bool>,
    pub limit_value: Option<f64>,
    pub bound: Option<String>,
    pub share_of_limit: Option<f64>,
    pub headroom: Option<f64>,
    pub expanded_uncertainty: Option<f64>,
    pub probability_of_conformity: Option<f64>,
    pub verdict: String,
    pub reasons: String,
    pub logs: String,
}

/// Everything that an archive keeps of one gate folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JudgedGate {
    /// The folder.
    pub gate: GateRow,
    /// Its findings in the order of the assessment, then missing points, then points without a limit.
    pub findings: Vec<FindingRow>,
}

impl GateRow {
    /// A folder that could not be judged, and why.
    #[must_use]
    pub fn not_judged(folder: &str, complaint: String) -> Self {
        Self {
            folder: folder.to_owned(),
            state: GateState::NotJudged,
            gate: None,
            place: None,
            motion: None,
            visit_date: None,
            visit_kind: None,
            profile: None,
            decision: None,
            gauge_serial: None,
            calibrated_on: None,
            calibration_due: None,
            next_due: None,
            temperature_c: None,
            firmware: None,
            logs: 0,
            findings: 0,
            findings_over: 0,
            findings_undecided: 0,
            points_missing: 0,
            points_not_judged: 0,
            greatest_share: None,
            greatest_share_at: None,
            reasons: String::new(),
            remarks: String::new(),
            complaint: Some(complaint),
            record_sha256: None,
        }
    }

    /// The row with what its gate file says; `months` for which the profile lets a calibration hold.
    #[must_use]
    pub fn described(self, gate: &GateFile, months: Option<f64>) -> Self {
        let visit = gate.visit.as_ref();
        let calibrations = gate.calibrations(months);
        let days = || calibrations.iter();
        Self {
            gate: Some(gate.gate.name.clone()),
            place: gate.gate.place.clone(),
            motion: Some(gate.gate.motion.to_string()),
            visit_date: visit.map(|visit| visit.date),
            visit_kind: visit.map(|visit| visit.kind.to_string()),
            profile: Some(gate.judge.profile.clone()),
            decision: Some(gate.judge.rule().to_string()),
            gauge_serial: gate.gauge.as_ref().and_then(|gauge| gauge.serial.clone()),
            calibrated_on: days().filter_map(|one| one.calibrated_on).max(),
            calibration_due: days()
                .filter_map(crate::limitation::Calibration::holds_until)
                .max(),
            next_due: gate
                .handover
                .as_ref()
                .and_then(|handover| handover.next_due),
            temperature_c: visit.and_then(|visit| visit.temperature_c),
            firmware: gate.drive.as_ref().and_then(|drive| drive.firmware.clone()),
            ..self
        }
    }

    /// What tells one gate from another in an archive: its name and its place. `None` where its gate file could not be read.
    #[must_use]
    pub fn identity(&self) -> Option<(&str, Option<&str>)> {
        Some((self.gate.as_deref()?, self.place.as_deref()))
    }
}

impl JudgedGate {
    /// The rows of an assessment. `record_sha256`: digest of its `assessment.json`; `odd`: what looks odd in the gate file.
    #[must_use]
    pub fn new(
        folder: &str,
        assessment: &Assessment,
        record_sha256: String,
        odd: Vec<String>,
    ) -> Self {
        let overall = assessment.overall();
        let months = assessment.profile.gauge.calibration_months;
        let decide = || assessment.findings.iter().filter(|one| one.decides());
        let worst = decide()
            .filter_map(|finding| Some((finding.share_of_limit().filter(finite)?, finding)))
            .max_by(|(one, _), (other, _)| one.total_cmp(other));
        let remarks: Vec<String> = assessment.told().into_iter().chain(odd).collect();
        let gate = GateRow {
            state: match overall.verdict {
                Verdict::Within => GateState::Within,
                Verdict::Over => GateState::Over,
                Verdict::Undecided => GateState::Undecided,
            },
            logs: assessment.hits.len(),
            findings: decide().count(),
            findings_over: overall.over.len(),
            findings_undecided: overall.undecided.len(),
            points_missing: assessment.missing.len(),
            points_not_judged: assessment.without_limit.len(),
            greatest_share: worst.map(|(share, _)| share),
            greatest_share_at: worst.map(|(_, finding)| place(finding)),
            reasons: overall.reasons.join("; "),
            remarks: remarks.join("; "),
            complaint: None,
            record_sha256: Some(record_sha256),
            ..GateRow::not_judged(folder, String::new()).described(&assessment.gate, months)
        };
        let judged = assessment.findings.iter().map(FindingRow::of);
        let missing = assessment.missing.iter().map(|one| FindingRow {
            hits_wanted: Some(one.wanted),
            hits_found: Some(one.found),
            verdict: if one.found == 0 {
                "not-tested"
            } else {
                "incomplete"
            }
            .to_owned(),
            reasons: format!("{} of {} wanted hits were found", one.found, one.wanted),
            ..FindingRow::at(RowKind::MissingPoint, Some(&one.point))
        });
        let without = assessment
            .without_limit
            .iter()
            .map(|(point, why)| FindingRow {
                verdict: "not-judged".to_owned(),
                reasons: why.to_string(),
                ..FindingRow::at(RowKind::PointWithoutLimit, Some(point))
            });
        Self {
            gate,
            findings: judged.chain(missing).chain(without).collect(),
        }
    }
}

impl FindingRow {
    fn at(row: RowKind, point: Option<&TestPoint>) -> Self {
        Self {
            row,
            limit: None,
            known_from: None,
            decides: None,
            direction: point.map(|point| point.direction.to_string()),
            hazard: point.map(|point| point.hazard.to_string()),
            gap_mm: point.map(|point| point.gap_mm),
            height_mm: point.map(|point| point.height_mm),
            measure: None,
            unit: None,
            hits_wanted: None,
            hits_found: None,
            value: None,
            lower_bound_only: None,
            limit_value: None,
            bound: None,
            share_of_limit: None,
            headroom: None,
            expanded_uncertainty: None,
            probability_of_conformity: None,
            verdict: String::new(),
            reasons: String::new(),
            logs: String::new(),
        }
    }

    /// The row of a finding.
    #[must_use]
    pub fn of(finding: &Finding) -> Self {
        let limit = &finding.limit;
        let value = finding.value().ok();
        let verdict = match finding.verdict() {
            _ if finding.repeats.is_empty() => "not-tested",
            Verdict::Within => "within",
            Verdict::Over => "over",
            Verdict::Undecided => "undecided",
        };
        let reasons: Vec<String> = finding
            .reasons()
            .into_iter()
            .chain(finding.remarks())
            .collect();
        let logs: Vec<&str> = finding
            .repeats
            .iter()
            .map(|repeat| repeat.log.as_str())
            .collect();
        Self {
            limit: Some(limit.name.clone()),
            known_from: Some(limit.known_from.to_string()),
            decides: Some(finding.decides()),
            measure: Some(limit.measure.to_string()),
            unit: Some(limit.unit().to_owned()),
            hits_wanted: Some(finding.wanted),
            hits_found: Some(finding.repeats.len()),
            lower_bound_only: value.map(|_| !finding.complete()),
            value: value.filter(finite),
            limit_value: Some(limit.value),
            bound: Some(limit.bound.word().to_owned()),
            share_of_limit: finding.share_of_limit().filter(finite),
            headroom: finding.headroom().filter(finite),
            expanded_uncertainty: finding
                .budget
                .as_ref()
                .map(|budget| budget.expanded)
                .filter(finite),
            probability_of_conformity: finding.probability().filter(finite),
            verdict: verdict.to_owned(),
            reasons: reasons.join("; "),
            logs: logs.join(" "),
            ..Self::at(RowKind::Finding, finding.test_point.as_ref())
        }
    }

    /// Whether it is a finding that decides and is over.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.row == RowKind::Finding && self.decides == Some(true) && self.verdict == "over"
    }

    /// The test point in words.
    #[must_use]
    pub fn point(&self) -> String {
        match (&self.direction, &self.hazard, self.gap_mm, self.height_mm) {
            (Some(way), Some(part), Some(gap), Some(height)) => {
                format!("{way}, {part}, gap {gap} mm, height {height} mm")
            }
            _ => "no test point".to_owned(),
        }
    }
}

/// Limit and test point in words.
fn place(finding: &Finding) -> String {
    match &finding.test_point {
        Some(point) => format!("{}: {point}", finding.limit.name),
        None => finding.limit.name.clone(),
    }
}

fn finite(value: &f64) -> bool {
    value.is_finite()
}
