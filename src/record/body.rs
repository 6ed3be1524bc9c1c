//! What a record holds: `relent.record/2`.

use serde::{Deserialize, Serialize};

use super::build::Build;
use super::knows::Knows;
use super::sealed_finding::SealedFinding;
use super::sealed_log::SealedLog;
use crate::gate::{Gap, HandoverSection, Shown};
use crate::limits::{NoLimit, SourceKind, TestPoint};
use crate::readiness::{Answer, CheckState, Checked, Permitted};
use crate::verdict::{OpenItem, Verdict};
use crate::visit::sources::Sources;
use crate::visit::{Assessment, Told};

/// The form of the record; a change of meaning raises the number.
pub const SCHEMA: &str = "relent.record/2";

/// A record: from what, by what, what was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// [`SCHEMA`]
    pub schema: String,
    /// The build that made it.
    pub build: Build,
    /// What that build could find.
    pub knows: Knows,
    /// The gate folder, from the folder of the record, parted by `/`.
    pub gate_folder: String,
    /// Everything that was read besides the logs.
    pub sources: Sources,
    /// The logs, in the order of test point and repeat.
    pub logs: Vec<SealedLog>,
    /// What follows from them.
    pub found: Found,
}

/// What was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Found {
    /// The verdict on everything.
    pub verdict: Verdict,
    /// Why it is not within although no finding is over.
    pub reasons: Vec<OpenItem>,
    /// What must be told whatever the verdict.
    pub told: Vec<Told>,
    /// Whether every value of the profile that decides was confirmed or read.
    pub profile_confirmed: bool,
    /// Every limit held against what was read at every tested point.
    pub findings: Vec<SealedFinding>,
    /// Wanted test points with fewer hits than wanted.
    pub missing: Vec<SealedMissing>,
    /// Tested points at which no limit decides.
    pub not_assessed: Vec<SealedNotAssessed>,
    /// What the gate file leaves open, with what follows from it.
    pub gaps: Vec<Gap>,
    /// What was looked at before the gate was driven.
    pub readiness: Vec<SealedCheck>,
    /// How all of that stands.
    pub ready: CheckState,
    /// The handover, as the gate file has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handover: Option<HandoverSection>,
    /// What the owner was not shown.
    pub not_shown: Vec<Shown>,
}

/// A wanted test point with fewer hits than wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedMissing {
    /// Where.
    pub test_point: TestPoint,
    /// Hits wanted.
    pub wanted: usize,
    /// Hits found.
    pub found: usize,
}

/// A tested point at which no limit decides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedNotAssessed {
    /// Where.
    pub test_point: TestPoint,
    /// Why.
    pub no_limit: NoLimit,
}

/// A check before the gate was driven.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedCheck {
    /// Its name.
    pub name: String,
    /// How it stands.
    pub state: CheckState,
    /// The answer.
    pub answer: Answer,
    /// What it may be.
    pub permitted: Permitted,
    /// Where the check comes from.
    pub reference: String,
    /// How that is known.
    pub source: SourceKind,
}

impl Body {
    /// The record of an assessment; `gate_folder` as seen from the folder of the record.
    #[must_use]
    pub fn new(assessment: &Assessment, sources: Sources, gate_folder: String) -> Self {
        Self {
            schema: SCHEMA.to_owned(),
            build: Build::this(),
            knows: Knows::this().clone(),
            gate_folder,
            sources,
            logs: assessment.all_hits().map(SealedLog::new).collect(),
            found: Found::new(assessment),
        }
    }
}

impl Found {
    /// What was found in an assessment.
    #[must_use]
    pub fn new(assessment: &Assessment) -> Self {
        let overall = assessment.overall();
        let handover = assessment.gate.handover.clone();
        let shown = |what: &Shown| handover.as_ref().is_some_and(|it| it.shown.contains(what));
        Self {
            verdict: overall.verdict,
            reasons: overall.reasons,
            told: assessment.told(),
            profile_confirmed: assessment.profile.confirmed(),
            findings: assessment.findings.iter().map(SealedFinding::new).collect(),
            missing: assessment
                .missing
                .iter()
                .map(|one| SealedMissing {
                    test_point: one.point,
                    wanted: one.wanted,
                    found: one.found,
                })
                .collect(),
            not_assessed: assessment
                .without_limit
                .iter()
                .map(|(point, no_limit)| SealedNotAssessed {
                    test_point: *point,
                    no_limit: no_limit.clone(),
                })
                .collect(),
            gaps: assessment.gaps(),
            readiness: assessment.readiness.checks.iter().map(check).collect(),
            ready: assessment.readiness.overall(),
            not_shown: Shown::ALL.into_iter().filter(|it| !shown(it)).collect(),
            handover,
        }
    }
}

fn check(checked: &Checked) -> SealedCheck {
    SealedCheck {
        name: checked.check.name.clone(),
        state: checked.state(),
        answer: checked.answer.clone(),
        permitted: checked.permitted.clone(),
        reference: checked.check.reference.clone(),
        source: checked.check.source,
    }
}
