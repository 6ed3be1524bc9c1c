//! `assessment.json`: the machine-readable record, `relent.assessment/1`.

use serde::Serialize;

use super::cautions::cautions;
use super::readiness;
use crate::gate::{Decision, GateFile};
use crate::limitation::Limitation;
use crate::limits::{NoLimit, TestPoint};
use crate::measure::Unmeasured;
use crate::quantity::Quantity;
use crate::uncertainty::{Budget, Component, Distribution, Source};
use crate::verdict::{Finding, Guard, NotCurrent, OpenItem, RepeatReading, Standing, Verdict};
use crate::view::{FindingRow, MeasuredLog};
use crate::visit::{Assessment, Hit, NotMeasured, Told};
use crate::words::{Said, Words};

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// `assessment.json`.
pub struct Record<'a> {
    schema: &'static str,
    tool: &'static str,
    gate: &'a GateFile,
    visit: &'a Option<crate::gate::VisitSection>,
    profile: ProfileLine<'a>,
    decision: Decision,
    #[serde(skip_serializing_if = "Option::is_none")]
    guard_band: Option<Guard>,
    verdict: Verdict,
    reasons: Vec<Said<OpenItem>>,
    /// What must be told whatever the verdict.
    told: Vec<Said<Told>>,
    findings: Vec<FindingLine<'a>>,
    missing: Vec<MissingLine>,
    /// Tested points at which no limit decides.
    not_assessed: Vec<NotAssessedLine<'a>>,
    logs: Vec<LogLine<'a>>,
    readiness: Vec<readiness::Line<'a>>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ProfileLine<'a> {
    name: &'a str,
    title: &'a str,
    confirmed: bool,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct FindingLine<'a> {
    #[serde(flatten)]
    row: FindingRow,
    readings: Vec<ReadingLine<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    budget: Option<BudgetLine>,
    #[serde(skip_serializing_if = "Option::is_none")]
    odd_one_out: Option<OddLine<'a>>,
    /// Why it does not hold for the gate as it is, or does not yet; empty where it does.
    not_current: Vec<Said<&'a NotCurrent>>,
    /// Why there is no value.
    #[serde(skip_serializing_if = "Option::is_none")]
    unmeasured: Option<Said<Unmeasured>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ReadingLine<'a> {
    log: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unmeasured: Option<Said<Unmeasured>>,
    /// The least that the true reading can be, before measurement uncertainty.
    at_least: f64,
    /// The greatest; absent where nothing bounds it.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<f64>,
    standing: Standing,
    limitations: Vec<Said<&'a Limitation>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct BudgetLine {
    components: Vec<ComponentLine>,
    correction: f64,
    left_out: Vec<Said<Source>>,
    combined: f64,
    /// Absent where it is infinite.
    #[serde(skip_serializing_if = "Option::is_none")]
    dof: Option<f64>,
    k: f64,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ComponentLine {
    #[serde(flatten)]
    source: Said<Source>,
    value: f64,
    distribution: Distribution,
    divisor: f64,
    u: f64,
    /// Absent where it is infinite.
    #[serde(skip_serializing_if = "Option::is_none")]
    dof: Option<f64>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct MissingLine {
    test_point: TestPoint,
    hits_required: usize,
    hits_recorded: usize,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct NotAssessedLine<'a> {
    test_point: TestPoint,
    #[serde(flatten)]
    no_limit: Said<&'a NoLimit>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct OddLine<'a> {
    log: &'a str,
    /// From the mean of the other hits, in the unit of the measure.
    distance: f64,
    chance: f64,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LogLine<'a> {
    file: &'a str,
    sha256: &'a str,
    /// Digest of the samples that line ends, number formats and a constant offset do not change.
    #[serde(skip_serializing_if = "Option::is_none")]
    samples_sha256: Option<String>,
    test_point: TestPoint,
    repeat: u32,
    /// Why the hit counts for nothing, as the gate file says; absent where it counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    void: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured: Option<MeasuredLog>,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_measured: Option<Said<&'a NotMeasured>>,
}

/// The assessment as JSON, with an end of line after it.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for an assessment.
pub fn assessment_json(
    words: &Words,
    assessment: &Assessment,
) -> Result<Vec<u8>, serde_json::Error> {
    let overall = assessment.overall();
    let voids = assessment.voids.iter();
    let voids = voids.map(|void| log_line(words, &void.hit, Some(void.reason.as_str())));
    let record = Record {
        schema: "relent.assessment/1",
        tool: concat!("relent ", env!("CARGO_PKG_VERSION")),
        gate: &assessment.gate,
        visit: &assessment.gate.visit,
        profile: ProfileLine {
            name: &assessment.profile.name,
            title: &assessment.profile.title,
            confirmed: assessment.profile.confirmed(),
        },
        decision: assessment.gate.assessment.decision,
        guard_band: assessment.gate.assessment.guard_band,
        verdict: overall.verdict,
        reasons: words.all_said(overall.reasons),
        told: words.all_said(assessment.told()),
        findings: assessment
            .findings
            .iter()
            .map(|one| finding_line(words, one))
            .collect(),
        missing: assessment
            .missing
            .iter()
            .map(|one| MissingLine {
                test_point: one.point,
                hits_required: one.wanted,
                hits_recorded: one.found,
            })
            .collect(),
        not_assessed: assessment
            .without_limit
            .iter()
            .map(|(point, no_limit)| NotAssessedLine {
                test_point: *point,
                no_limit: words.said(no_limit),
            })
            .collect(),
        logs: assessment
            .hits
            .iter()
            .map(|hit| log_line(words, hit, None))
            .chain(voids)
            .collect(),
        readiness: readiness::lines(words, &assessment.readiness),
        cautions: cautions(words),
    };
    let mut bytes = serde_json::to_vec_pretty(&record)?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn finding_line<'a>(words: &Words, finding: &'a Finding) -> FindingLine<'a> {
    FindingLine {
        row: FindingRow::of(words, finding),
        readings: finding
            .repeats
            .iter()
            .map(|one| reading_line(words, one))
            .collect(),
        budget: finding
            .budget
            .as_ref()
            .filter(|budget| budget.combined.is_finite())
            .map(|budget| budget_line(words, budget)),
        odd_one_out: finding.odd_one.and_then(|odd| {
            Some(OddLine {
                log: &finding.repeats.get(odd.place)?.log,
                distance: odd.distance,
                chance: odd.chance,
            })
        }),
        not_current: words.all_said(&finding.not_current),
        unmeasured: finding.value().err().map(|why| words.said(why)),
    }
}

fn reading_line<'a>(words: &Words, repeat: &'a RepeatReading) -> ReadingLine<'a> {
    ReadingLine {
        log: &repeat.log,
        value: repeat.value.ok().map(Quantity::get),
        unmeasured: repeat.value.err().map(|why| words.said(why)),
        at_least: repeat.interval.at_least,
        at_most: finite(repeat.interval.at_most),
        standing: repeat.standing(),
        limitations: words.all_said(&repeat.limitations),
    }
}

fn budget_line(words: &Words, budget: &Budget) -> BudgetLine {
    BudgetLine {
        components: budget
            .components
            .iter()
            .map(|one| component_line(words, one))
            .collect(),
        correction: budget.correction,
        left_out: words.all_said(budget.left_out.iter().copied()),
        combined: budget.combined,
        dof: finite(budget.dof),
        k: budget.k,
    }
}

fn component_line(words: &Words, one: &Component) -> ComponentLine {
    ComponentLine {
        source: words.said(one.source),
        value: one.value,
        distribution: one.distribution,
        divisor: one.divisor,
        u: one.u,
        dof: finite(one.dof),
    }
}

fn log_line<'a>(words: &Words, hit: &'a Hit, void: Option<&'a str>) -> LogLine<'a> {
    let measured = hit.measurement.as_ref();
    LogLine {
        file: &hit.file,
        sha256: &hit.sha256,
        samples_sha256: hit.samples_sha256(),
        test_point: hit.point,
        repeat: hit.repeat,
        void,
        measured: measured
            .ok()
            .map(|one| MeasuredLog::new(words, hit.file.clone(), hit.sha256.clone(), one)),
        not_measured: measured.err().map(|why| words.said(why)),
    }
}

/// JSON has no infinity and no NaN.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
