//! The whole: the worst finding wins, and what is missing never passes.

use serde::{Deserialize, Serialize};

use super::{Finding, Verdict};
use crate::fact::Fact;
use crate::limits::{Hazard, NoLimit, PlanError, TestPoint};

/// A wanted test point with fewer hits than wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MissingPoint {
    /// Where.
    pub point: TestPoint,
    /// Hits wanted.
    pub wanted: usize,
    /// Hits found.
    pub found: usize,
}

/// Two readings of one quantity that lead to different verdicts at one test point.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoReadings {
    /// The quantity.
    pub quantity: String,
    /// Where.
    pub test_point: Option<TestPoint>,
    /// The limit that decides, and its verdict.
    pub decides: (String, Verdict),
    /// The limit that is shown, and its verdict.
    pub shown: (String, Verdict),
}

/// Why the whole is not within although no finding is over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the messages of words/en/verdict.ftl say it")]
#[strum(serialize_all = "kebab-case")]
pub enum OpenItem {
    NothingAssessed,
    FindingsUndecided {
        findings: usize,
    },
    /// Required test points with fewer hits than required.
    PointsIncomplete {
        points: usize,
    },
    /// A required test point at which no limit decides.
    PointNotAssessed {
        test_point: TestPoint,
        no_limit: NoLimit,
    },
    /// A hazard that the gate file declares, without a test point.
    HazardNotTested {
        hazard: Hazard,
    },
    /// Numbers of hits that no log has, though one has a greater number.
    HitsUnaccounted {
        test_point: TestPoint,
        hits: Vec<u32>,
    },
    /// Files in the folder of the logs, or listed, that hold no hit that is known.
    FilesNotPlaced {
        files: usize,
    },
    /// It is not known which test points are required.
    PlanOpen {
        no_plan: PlanError,
    },
}

impl Fact for OpenItem {
    const FAMILY: &'static str = "open";
}

/// The verdict on everything that was assessed.
#[derive(Clone, Debug, PartialEq)]
pub struct Overall {
    /// The verdict.
    pub verdict: Verdict,
    /// Places of the findings that are over.
    pub over: Vec<usize>,
    /// Places of the findings that decide and are undecided.
    pub undecided: Vec<usize>,
    /// Why it is not within although no finding is over.
    pub reasons: Vec<OpenItem>,
    /// Where two readings of one quantity lead to different verdicts.
    pub two_readings: Vec<TwoReadings>,
}

/// The verdict on all findings: over if one is over, whether it decides or is shown only; else undecided if one is undecided, a wanted test point
/// lacks hits, or nothing that decides was assessed; else within.
#[must_use]
pub fn overall(findings: &[Finding], missing: &[MissingPoint]) -> Overall {
    let places = |verdict: Verdict| -> Vec<usize> {
        findings
            .iter()
            .enumerate()
            .filter(|(_, finding)| finding.counts() && finding.verdict() == verdict)
            .map(|(place, _)| place)
            .collect()
    };
    let (over, undecided) = (places(Verdict::Over), places(Verdict::Undecided));
    let mut reasons = Vec::new();
    if !findings.iter().any(Finding::decides) {
        reasons.push(OpenItem::NothingAssessed);
    }
    if !undecided.is_empty() {
        reasons.push(OpenItem::FindingsUndecided {
            findings: undecided.len(),
        });
    }
    if !missing.is_empty() {
        reasons.push(OpenItem::PointsIncomplete {
            points: missing.len(),
        });
    }
    let verdict = if !over.is_empty() {
        Verdict::Over
    } else if reasons.is_empty() {
        Verdict::Within
    } else {
        Verdict::Undecided
    };
    Overall {
        verdict,
        over,
        undecided,
        reasons,
        two_readings: two_readings(findings),
    }
}

fn two_readings(findings: &[Finding]) -> Vec<TwoReadings> {
    let mut pairs = Vec::new();
    for decides in findings.iter().filter(|finding| finding.decides()) {
        let Some(quantity) = &decides.limit.reading_of else {
            continue;
        };
        for shown in findings.iter().filter(|finding| !finding.decides()) {
            let same = shown.limit.reading_of.as_ref() == Some(quantity)
                && shown.test_point == decides.test_point
                && shown.verdict() != decides.verdict();
            if same {
                pairs.push(TwoReadings {
                    quantity: quantity.clone(),
                    test_point: decides.test_point,
                    decides: (decides.limit.name.clone(), decides.verdict()),
                    shown: (shown.limit.name.clone(), shown.verdict()),
                });
            }
        }
    }
    pairs
}
