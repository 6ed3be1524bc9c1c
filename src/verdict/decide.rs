//! The one place that compares a value with a limit. Everything here works on unrounded numbers.
//!
//! A comparison with a number that is none is neither within nor over; a reading of another dimension than the limit has no number.

use std::cmp::Ordering;

use super::{DecisionRule, Finding, Guard, Interval, Lean, RepeatReading, Standing, Verdict};
use crate::limits::{Assessed, Bound};

/// Differences below this share of the limit are the arithmetic's, not the gate's: 25.000000000000004 N is 25 N.
const ROUNDING: f64 = 1e-9;

/// How a value lies to a limit; `None` for a number that is none.
fn compared(value: f64, limit: f64) -> Option<Ordering> {
    if (value - limit).abs() < ROUNDING * limit.abs() {
        return Some(Ordering::Equal);
    }
    value.partial_cmp(&limit)
}

/// Whether a value is over a limit.
pub(super) fn over(value: f64, limit: f64, bound: Bound) -> bool {
    match bound {
        Bound::AtMost => compared(value, limit) == Some(Ordering::Greater),
        Bound::Below => compared(value, limit).is_some_and(Ordering::is_ge),
    }
}

/// Whether a value is within a limit. Not the opposite of [`over`]: a number that is none is neither.
pub(super) fn within(value: f64, limit: f64, bound: Bound) -> bool {
    match bound {
        Bound::AtMost => compared(value, limit).is_some_and(Ordering::is_le),
        Bound::Below => compared(value, limit) == Some(Ordering::Less),
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

/// The readings that have a number in the unit of the limit.
pub(super) fn readings(finding: &Finding) -> Vec<f64> {
    let dimension = finding.limit.dimension();
    let repeats = finding.repeats.iter();
    repeats
        .filter_map(|repeat| repeat.number(dimension).ok())
        .collect()
}

/// How many hits a mean is taken over: those that are required, and the greatest if there are more. So no further hit can lower it.
fn counted(finding: &Finding) -> usize {
    finding.wanted.max(1)
}

/// The greatest numbers that a mean is taken over, or the greatest alone.
fn greatest(finding: &Finding, mut numbers: Vec<f64>) -> Vec<f64> {
    numbers.sort_by(|one, other| other.total_cmp(one));
    numbers.truncate(match finding.limit.assessed {
        Assessed::Worst => 1,
        Assessed::Mean => counted(finding),
    });
    numbers
}

/// Mean or greatest of the readings; `None` without any.
pub(super) fn value(finding: &Finding) -> Option<f64> {
    let held = greatest(finding, readings(finding));
    (!held.is_empty()).then(|| held.iter().sum::<f64>() / held.len() as f64)
}

/// What the readings allow the value to be: the ends are taken over the ends of the readings. A hit that is missing, or has no
/// number, may be anything from 0 up.
pub(super) fn interval(finding: &Finding) -> Interval {
    let dimension = finding.limit.dimension();
    let of = |end: fn(&Interval) -> f64, without: f64| {
        let ends = finding.repeats.iter().map(|repeat| {
            let number = repeat.number(dimension);
            number.map_or(without, |_| end(&repeat.interval))
        });
        let missing = counted(finding).saturating_sub(finding.repeats.len());
        let ends: Vec<f64> = ends.chain(std::iter::repeat_n(without, missing)).collect();
        let held = greatest(finding, ends);
        held.iter().sum::<f64>() / held.len() as f64
    };
    Interval {
        at_least: of(|it| it.at_least, Interval::ANY.at_least),
        at_most: of(|it| it.at_most, Interval::ANY.at_most),
    }
}

/// Whether every wanted hit is there and has a number.
pub(super) fn all_there(finding: &Finding) -> bool {
    finding.repeats.len() >= counted(finding) && readings(finding).len() == finding.repeats.len()
}

/// Whether every wanted hit is there, every reading shows its value, and the finding is current.
pub(super) fn complete(finding: &Finding) -> bool {
    let full = |repeat: &RepeatReading| repeat.standing() == Standing::Full;
    all_there(finding) && finding.repeats.iter().all(full) && finding.not_current.is_empty()
}

/// The verdict of a finding: over if the least that the value may be is, within if the greatest is and nothing is missing.
pub(super) fn verdict(finding: &Finding) -> Verdict {
    let Some((low, high)) = offsets(finding) else {
        return Verdict::Undecided;
    };
    let (limit, bound) = (finding.limit.value, finding.limit.bound);
    let interval = interval(finding);
    if value(finding).is_some() && over(interval.at_least + low, limit, bound) {
        return Verdict::Over;
    }
    if all_there(finding)
        && finding.not_current.is_empty()
        && budget_serves(finding)
        && within(interval.at_most + high, limit, bound)
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
    let best = value(finding)? + correction;
    let (limit, bound) = (finding.limit.value, finding.limit.bound);
    if over(best, limit, bound) {
        Some(Lean::Over)
    } else {
        within(best, limit, bound).then_some(Lean::Within)
    }
}

/// The readings that are over the limit by themselves, by their place in the finding.
pub(super) fn hits_over(finding: &Finding) -> Vec<usize> {
    let (limit, bound) = (finding.limit.value, finding.limit.bound);
    let dimension = finding.limit.dimension();
    let repeats = finding.repeats.iter().enumerate();
    repeats
        .filter(|(_, repeat)| {
            let number = repeat.number(dimension);
            number.is_ok_and(|number| over(number, limit, bound))
        })
        .map(|(place, _)| place)
        .collect()
}
