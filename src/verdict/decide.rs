//! The one place that compares a value with a limit. Everything here works on unrounded numbers.
//!
//! A comparison with a number that is none, or with a quantity of another dimension, is neither within nor over.

use super::{DecisionRule, Finding, Guard, Lean, Verdict};
use crate::limitation::Standing;
use crate::limits::{Assessed, Bound};

/// Whether a value is over a limit.
pub(super) fn over<Q: PartialOrd>(value: Q, limit: Q, bound: Bound) -> bool {
    match bound {
        Bound::AtMost => value > limit,
        Bound::Below => value >= limit,
    }
}

/// Whether a value is within a limit. Not the opposite of [`over`]: a number that is none is neither.
pub(super) fn within<Q: PartialOrd>(value: Q, limit: Q, bound: Bound) -> bool {
    match bound {
        Bound::AtMost => value <= limit,
        Bound::Below => value < limit,
    }
}

/// A single value against what is permitted, without uncertainty; a number that is none is neither within nor over.
pub(super) fn held(value: f64, at_least: Option<f64>, most: Option<(f64, Bound)>) -> Verdict {
    let most = most.map(|(limit, bound)| (over(value, limit, bound), within(value, limit, bound)));
    let least = at_least.map(|limit| (value < limit, value >= limit));
    let sides: Vec<(bool, bool)> = most.into_iter().chain(least).collect();
    if sides.iter().any(|(outside, _)| *outside) {
        Verdict::Over
    } else if !sides.is_empty() && sides.iter().all(|(_, inside)| *inside) {
        Verdict::Within
    } else {
        Verdict::Undecided
    }
}

/// The readings that prove something, in the unit of the limit: finite, and not voided by a limitation.
pub(super) fn usable(finding: &Finding) -> Vec<f64> {
    finding
        .repeats
        .iter()
        .filter(|repeat| repeat.standing != Standing::Void)
        .filter_map(|repeat| repeat.number(finding.limit.dimension()).ok())
        .collect()
}

/// What the readings amount to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Judgement {
    /// Mean or greatest of the usable readings.
    pub(super) value: f64,
    /// The least that it can be, whatever the missing, voided and bounded readings would have been (0 or more).
    pub(super) at_least: f64,
}

/// Mean or greatest of the usable readings; `None` without any.
pub(super) fn judgement(finding: &Finding) -> Option<Judgement> {
    let values = usable(finding);
    let greatest = values.iter().copied().max_by(f64::total_cmp)?;
    let hits = finding.wanted.max(finding.repeats.len());
    Some(match finding.limit.assessed {
        Assessed::Worst => Judgement {
            value: greatest,
            at_least: greatest,
        },
        Assessed::Mean => {
            let sum: f64 = values.iter().sum();
            Judgement {
                value: sum / values.len() as f64,
                at_least: sum / hits as f64,
            }
        }
    })
}

/// Whether every wanted hit is there and every reading stands for what it shows.
pub(super) fn complete(finding: &Finding) -> bool {
    finding.repeats.len() >= finding.wanted.max(1)
        && usable(finding).len() == finding.repeats.len()
        && finding
            .repeats
            .iter()
            .all(|repeat| repeat.standing == Standing::Full)
        && finding.not_current.is_empty()
}

/// The verdict of a finding.
pub(super) fn verdict(finding: &Finding) -> Verdict {
    let Some(judgement) = judgement(finding) else {
        return Verdict::Undecided;
    };
    let (limit, bound) = (finding.limit.quantity(), finding.limit.bound);
    let like = |number: f64| limit.dimension().of(number);
    let Some((low, high)) = offsets(finding) else {
        return Verdict::Undecided;
    };
    if over(like(judgement.at_least + low), limit, bound) {
        return Verdict::Over;
    }
    if complete(finding)
        && budget_serves(finding)
        && within(like(judgement.value + high), limit, bound)
    {
        return Verdict::Within;
    }
    Verdict::Undecided
}

/// What the rule adds to a value before it may be called over, and before it may be called within; `None` where the rule
/// needs a budget and there is none.
fn offsets(finding: &Finding) -> Option<(f64, f64)> {
    match finding.rule {
        DecisionRule::Simple => Some((0.0, 0.0)),
        DecisionRule::Guarded(guard) => {
            let (correction, width) = guard_band(finding, guard)?;
            Some((correction - width, correction + width))
        }
    }
}

fn guard_band(finding: &Finding, guard: Guard) -> Option<(f64, f64)> {
    let budget = finding.budget.as_ref()?;
    Some((
        budget.correction,
        guard.width(budget.expanded, budget.combined),
    ))
}

/// Whether the rule can say "within": a guard band needs a budget that leaves nothing out.
pub(super) fn budget_serves(finding: &Finding) -> bool {
    match finding.rule {
        DecisionRule::Simple => true,
        DecisionRule::Guarded(_) => finding
            .budget
            .as_ref()
            .is_some_and(|budget| budget.left_out.is_empty()),
    }
}

/// To which side a value in the guard band leans; `None` if it is not the guard band that leaves it undecided.
pub(super) fn lean(finding: &Finding) -> Option<Lean> {
    let DecisionRule::Guarded(guard) = finding.rule else {
        return None;
    };
    if verdict(finding) != Verdict::Undecided || !complete(finding) {
        return None;
    }
    let (correction, _) = guard_band(finding, guard)?;
    let best = judgement(finding)?.value + correction;
    let (limit, bound) = (finding.limit.value, finding.limit.bound);
    if over(best, limit, bound) {
        Some(Lean::Over)
    } else {
        within(best, limit, bound).then_some(Lean::Within)
    }
}

/// The readings that are over the limit by themselves, by their place in the finding.
pub(super) fn hits_over(finding: &Finding) -> Vec<usize> {
    let (limit, bound) = (finding.limit.quantity(), finding.limit.bound);
    finding
        .repeats
        .iter()
        .enumerate()
        .filter(|(_, repeat)| repeat.standing != Standing::Void)
        .filter(|(_, repeat)| repeat.value.is_ok_and(|value| over(value, limit, bound)))
        .map(|(place, _)| place)
        .collect()
}
