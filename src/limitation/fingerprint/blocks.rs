//! The mean force of each block, counted from where the force passes half of its peak.

/// Length of a block (s): long enough to outlast smoothing and thinning, short enough to give some hundreds in a record.
pub const BLOCK_S: f64 = 0.005;
/// Blocks of a fingerprint.
pub(super) const BLOCKS: usize = 512;
/// How many of them lie before the force passes half of its peak.
pub(super) const BEFORE: usize = 72;
/// Samples, spread over the record, of which the level without load is taken.
const SOME: usize = 255;
/// Which of them is that level: the fourth from below, for the gauge may rest for a few hundredths of the record only.
const FROM_BELOW: usize = 3;

/// Where a record passes half of its peak.
pub(super) struct Half {
    /// The first sample that is not below it.
    pub(super) index: usize,
    /// The instant (s), between that sample and the one before.
    pub(super) instant: f64,
}

/// Where the force first passes half of its peak and stays above for two samples. One sample alone neither makes a peak nor passes it, so
/// that an edited one does not move the blocks.
pub(super) fn passes_half(times: &[f64], forces: &[f64]) -> Option<Half> {
    let mut top = f64::NEG_INFINITY;
    for pair in forces.windows(2) {
        let lower = if pair[0] < pair[1] { pair[0] } else { pair[1] };
        top = if lower > top { lower } else { top };
    }
    let half = f64::midpoint(without_load(forces), top);
    let both = |pair: &[f64]| pair[0] >= half && pair[1] >= half;
    let index = forces.windows(2).position(both)?;
    let before = index.checked_sub(1)?;
    let share = (half - forces[before]) / (forces[index] - forces[before]);
    Some(Half {
        index,
        instant: times[before] + share * (times[index] - times[before]),
    })
}

fn without_load(forces: &[f64]) -> f64 {
    let many = forces.len().min(SOME);
    let spread = (0..many).map(|nth| forces[nth * forces.len() / many]);
    let mut some: Vec<f64> = spread.collect();
    let place = FROM_BELOW.min(many - 1);
    *some.select_nth_unstable_by(place, f64::total_cmp).1
}

/// Mean force of each block, NaN for one that the record does not cover. Between samples the force is a straight line, so that a block
/// begins anywhere and the rate does not matter.
pub(super) fn block_means(times: &[f64], forces: &[f64], half: f64) -> [f64; BLOCKS] {
    let mut means = [f64::NAN; BLOCKS];
    let edge = |block: usize| half + (block as f64 - BEFORE as f64) * BLOCK_S;
    let last = times[times.len() - 1];
    let Some(first) = (0..BLOCKS).find(|block| edge(*block) >= times[0]) else {
        return means;
    };
    let after = times.partition_point(|t| *t <= edge(first));
    let mut at = after.saturating_sub(1);
    for (block, mean) in means.iter_mut().enumerate().skip(first) {
        let (from, to) = (edge(block), edge(block + 1));
        if to > last {
            break;
        }
        let (mut area, mut since) = (0.0, from);
        loop {
            let (left, right) = (times[at], times[at + 1]);
            let slope = (forces[at + 1] - forces[at]) / (right - left);
            let until = if to < right { to } else { right };
            let middle = f64::midpoint(since, until);
            area += (until - since) * (forces[at] + slope * (middle - left));
            since = until;
            if right > to || at + 2 >= times.len() {
                break;
            }
            at += 1;
        }
        *mean = area / (to - from);
    }
    means
}
