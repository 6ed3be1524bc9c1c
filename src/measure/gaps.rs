//! Where a record holds no measurement: rows lost, and steps of the clock that are too long.

use crate::trace::Trace;

/// A step is a gap if it is longer than this many of the record's usual steps: one missing sample makes it 2.
const GAP_STEPS: f64 = 1.5;

/// The usual step is the one that this share of all steps does not exceed, so that a clock written in coarse digits
/// (steps of 1, 1, 2, 1, 1, 2 ms) has no gap at every third sample.
const USUAL_SHARE: f64 = 0.99;

/// The intervals i → i + 1 in which samples are missing, as the sorted indices i.
pub(super) fn gaps(trace: &Trace, times: &[f64]) -> Vec<usize> {
    let last = times.len() - 1;
    let mut found: Vec<usize> = trace
        .lost
        .iter()
        .filter_map(|lost| lost.after)
        .filter(|after| *after < last)
        .collect();
    if let Some(longest) = longest_usual_step(trace.steps(), times) {
        found.extend((0..last).filter(|i| times[i + 1] - times[*i] > longest));
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The longest step that is no gap; `None` where all steps are alike.
fn longest_usual_step((least, most): (f64, f64), times: &[f64]) -> Option<f64> {
    if most <= GAP_STEPS * least {
        return None;
    }
    let mut steps: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let rank = ((steps.len() - 1) as f64 * USUAL_SHARE).floor() as usize;
    let (_, usual, _) = steps.select_nth_unstable_by(rank, f64::total_cmp);
    Some(GAP_STEPS * *usual)
}
