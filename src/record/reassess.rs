//! The same hits under another limit profile: which verdicts change, and why.

use serde::Serialize;

use super::body::{Found, SealedMissing, SealedNotAssessed};
use super::sealed_finding::SealedFinding;
use crate::limits::TestPoint;
use crate::measure::Measure;
use crate::verdict::{OpenItem, Reason, Verdict};

/// What another profile makes of a visit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reassessed {
    /// The other profile.
    pub profile: String,
    /// The verdict as it was.
    pub verdict_then: Verdict,
    /// The verdict under the other profile.
    pub verdict_now: Verdict,
    /// Findings whose limit, value or verdict is another.
    pub changed: Vec<Turn>,
    /// How many findings have the same limit, value and verdict.
    pub unchanged: usize,
    /// Test points that the other profile wants, and that lack hits which they did not lack before.
    pub newly_missing: Vec<SealedMissing>,
    /// Tested points at which the other profile has no limit that decides, and the one before had.
    pub newly_not_assessed: Vec<SealedNotAssessed>,
    /// Why it is not within under the other profile although no finding is over.
    pub reasons: Vec<OpenItem>,
}

/// One measure at one test point, then and now.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Turn {
    /// Where; absent for a log without a test point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub test_point: Option<TestPoint>,
    /// What is measured.
    pub measure: Measure,
    /// Unit of its numbers.
    pub unit: &'static str,
    /// As it was assessed; absent where no limit was held against it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub then: Option<Side>,
    /// As the other profile assesses it; absent where that has no limit for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<Side>,
}

/// A finding in short.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Side {
    /// Name of the limit.
    pub limit: String,
    /// Whether it counts for the verdict, or is shown only.
    pub decides: bool,
    /// Its value, in the unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit_value: Option<f64>,
    /// What was held against it, in the unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The same as the report prints it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub printed_value: Option<String>,
    /// The verdict.
    pub verdict: Verdict,
    /// Why it is what it is where that does not follow from the value alone.
    pub reasons: Vec<Reason>,
}

impl Turn {
    /// Whether the verdict is another, or there is none on one side.
    #[must_use]
    pub fn turns(&self) -> bool {
        let verdict = |side: &Option<Side>| side.as_ref().map(|side| (side.verdict, side.decides));
        verdict(&self.then) != verdict(&self.now)
    }
}

/// Holds what was found then against what is found under the other profile.
#[must_use]
pub fn reassess(profile: &str, then: &Found, now: &Found) -> Reassessed {
    let turns = turns(&then.findings, &now.findings);
    let all = turns.len();
    let changed: Vec<Turn> = turns.into_iter().filter(differs).collect();
    let lacked = |point: TestPoint| then.missing.iter().any(|old| old.test_point == point);
    let unassessed = |point: TestPoint| then.not_assessed.iter().any(|old| old.test_point == point);
    Reassessed {
        profile: profile.to_owned(),
        verdict_then: then.verdict,
        verdict_now: now.verdict,
        unchanged: all - changed.len(),
        changed,
        newly_missing: now
            .missing
            .iter()
            .filter(|one| !lacked(one.test_point))
            .cloned()
            .collect(),
        newly_not_assessed: now
            .not_assessed
            .iter()
            .filter(|one| !unassessed(one.test_point))
            .cloned()
            .collect(),
        reasons: now.reasons.clone(),
    }
}

fn differs(turn: &Turn) -> bool {
    let numbers = |side: &Option<Side>| side.as_ref().map(|it| (it.limit_value, it.value));
    turn.turns() || numbers(&turn.then) != numbers(&turn.now)
}

/// Pairs findings of one measure at one test point: those of one limit name first, then those that decide, then the rest.
fn turns(then: &[SealedFinding], now: &[SealedFinding]) -> Vec<Turn> {
    let mut left: Vec<&SealedFinding> = now.iter().collect();
    let mut partners: Vec<Option<&SealedFinding>> = vec![None; then.len()];
    type Alike = fn(&SealedFinding, &SealedFinding) -> bool;
    let ways: [Alike; 3] = [
        |old, new| old.short_limit() == new.short_limit(),
        |old, new| old.decides == new.decides,
        |_, _| true,
    ];
    for alike in ways {
        for (old, partner) in then.iter().zip(&mut partners) {
            let same = |new: &&SealedFinding| {
                new.measure == old.measure && new.test_point == old.test_point && alike(old, new)
            };
            if partner.is_none()
                && let Some(place) = left.iter().position(same)
            {
                *partner = Some(left.remove(place));
            }
        }
    }
    let old = then
        .iter()
        .zip(partners)
        .map(|(old, new)| turn(Some(old), new));
    let new = left.into_iter().map(|new| turn(None, Some(new)));
    old.chain(new).flatten().collect()
}

fn turn(then: Option<&SealedFinding>, now: Option<&SealedFinding>) -> Option<Turn> {
    let one = then.or(now)?;
    Some(Turn {
        test_point: one.test_point,
        measure: one.measure,
        unit: one.measure.unit(),
        then: then.map(side),
        now: now.map(side),
    })
}

fn side(finding: &SealedFinding) -> Side {
    Side {
        limit: finding.limit.clone(),
        decides: finding.decides,
        limit_value: finding.number("limit"),
        value: finding.number("value"),
        printed_value: finding.printed_value.clone(),
        verdict: finding.verdict,
        reasons: finding.reasons.clone(),
    }
}
