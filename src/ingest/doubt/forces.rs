//! What looks odd in the forces of a run. Nothing is left out for it: it is told.

use crate::ingest::rows::table::Table;
use crate::ingest::{Ask, Doubt, Kind, Noticed, Question};
use crate::trace::Outline;

/// Fewest samples for a statement about a channel.
const FEW: usize = 10;

/// Fewest equal samples in a row that are told.
const FROZEN: usize = 20;

/// Share of the whole range by which one sample stands out from both its neighbours to be told.
const STANDS_OUT: f64 = 0.3;

/// Tells of constant, frozen and single odd samples; `from` is the run's first sample.
pub(in crate::ingest) fn look(forces: &[f64], from: usize, outline: &Outline, table: &mut Table) {
    let (whole, distances) = (outline.whole(), outline.distances());
    if whole.most == 0.0 && whole.least == 0.0 {
        let samples = forces.len();
        let fact = || Noticed::AllZero { samples };
        table.notices.add(Kind::Zero, None, fact);
        return;
    }
    if forces.len() < FEW {
        return;
    }
    if whole.most == whole.least {
        table.notices.add(Kind::Frozen, None, || Noticed::AllEqual {
            samples: forces.len(),
            force_n: whole.most,
        });
        return;
    }
    let far = STANDS_OUT * (whole.most - whole.least);
    frozen(forces, from, table);
    if distances.most > far {
        outliers(forces, from, far, table);
    }
}

/// Many equal samples in a row where most samples differ from the one before.
fn frozen(forces: &[f64], from: usize, table: &mut Table) {
    let same = |at: &usize| forces[*at] == forces[*at - 1];
    let (mut longest, mut start) = (0, 0);
    // A streak that is told has a sample at a multiple of its least length.
    let mut at = FROZEN;
    while at < forces.len() {
        if !same(&at) {
            at += FROZEN;
            continue;
        }
        let first = (1..=at).rev().take_while(same).last().unwrap_or(at);
        let after = (at..forces.len())
            .find(|at| !same(at))
            .unwrap_or(forces.len());
        let streak = after.saturating_sub(first);
        if streak > longest {
            longest = streak;
            start = first - 1;
        }
        at = (after + 1).next_multiple_of(FROZEN);
    }
    if longest < FROZEN {
        return;
    }
    let others = forces.len() - 1 - longest;
    let equal = (1..forces.len()).filter(same).count();
    if (equal - longest) * 2 < others {
        let line = table.line(from + start);
        table
            .notices
            .add(Kind::Frozen, Some(line), || Noticed::Stuck {
                samples: longest + 1,
                force_n: forces[start],
            });
    }
}

/// One sample far from both its neighbours, which are near each other; at an end, from the two next to it.
fn outliers(forces: &[f64], from: usize, far: f64, table: &mut Table) {
    let last = forces.len() - 1;
    for (at, next, over_next) in [(0, 1, 2), (last, last - 1, last - 2)] {
        let step = (forces[at] - forces[next]).abs();
        if step > far && (forces[next] - forces[over_next]).abs() < 0.1 * step {
            let line = table.line(from + at);
            let (force_n, beside_n) = (forces[at], forces[next]);
            table.notices.add(Kind::Outlier, Some(line), || match at {
                0 => Noticed::FirstStandsOut { force_n, beside_n },
                _ => Noticed::LastStandsOut { force_n, beside_n },
            });
        }
    }
    for at in 1..forces.len() - 1 {
        let (before, now, after) = (forces[at - 1], forces[at], forces[at + 1]);
        let (up, down) = (now - before, now - after);
        if up.abs() > far
            && down.abs() > far
            && up * down > 0.0
            && (before - after).abs() < 0.1 * up.abs()
        {
            let line = table.line(from + at);
            let fact = || Noticed::StandsOut {
                force_n: now,
                before_n: before,
                after_n: after,
            };
            table.notices.add(Kind::Outlier, Some(line), fact);
        }
    }
}

/// A push logged as a negative force is asked: the greatest magnitude is negative and far beyond the noise, where there are
/// enough samples to see that.
pub(in crate::ingest) fn sign(forces: &[f64], min: f64, max: f64) -> Option<Question> {
    let seen = forces.len() >= FEW;
    if -min <= max || seen && -min <= BEYOND_NOISE * noise(forces) {
        return None;
    }
    Some(Question {
        ask: Ask::Sign,
        doubt: Doubt::PushMayBeNegative {
            max_n: max,
            min_n: min,
        },
    })
}

/// A greatest magnitude within so many noise steps is noise: 5.4 standard deviations where the noise is normal.
const BEYOND_NOISE: f64 = 12.0;

/// Lower quartile of the steps between neighbouring forces: the noise even where a hit fills half the log.
fn noise(forces: &[f64]) -> f64 {
    let mut steps: Vec<f64> = forces
        .windows(2)
        .map(|pair| (pair[1] - pair[0]).abs())
        .collect();
    if steps.is_empty() {
        return 0.0;
    }
    let quarter = steps.len() / 4;
    *steps.select_nth_unstable_by(quarter, f64::total_cmp).1
}
