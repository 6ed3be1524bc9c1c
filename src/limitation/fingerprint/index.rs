//! Which of many fingerprints are of copies.

use super::blocks::BLOCKS;
use super::{ABSENT, Fingerprint, Likeness};

/// Blocks of a window of which the extremes make a name.
const WINDOW: usize = 64;
/// Blocks from one window to the next.
const HOP: usize = 8;
/// Marks the name of a run of steps.
const OF_A_RUN: u64 = 1 << 63;

/// Two records of which one was made from the other, or both from a third.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Place of the first in the list.
    pub first: usize,
    /// Place of the second, after it.
    pub second: usize,
    /// How alike they are.
    pub likeness: Likeness,
}

/// Every pair of copies among some fingerprints, in the order of the list. Each is compared with each: for the logs of a gate.
#[must_use]
pub fn pairs(prints: &[&Fingerprint]) -> Vec<Pair> {
    let each = (0..prints.len())
        .flat_map(|first| (first + 1..prints.len()).map(move |second| (first, second)));
    each.filter_map(|places| compared(prints, places)).collect()
}

/// As [`pairs`], for an archive: only those that share a name are compared.
///
/// A fingerprint has a name for each window of its noise, from the blocks of the greatest and the smallest value, and one for each run of
/// steps. Two genuine hits share one in about a hundred pairs, copies nearly always while their noise correlates by more than 0.8
/// (`reports/copies.md`). Time grows with the number of fingerprints, and little with its square.
#[must_use]
pub fn pairs_by_index(prints: &[&Fingerprint]) -> Vec<Pair> {
    let mut names: Vec<(u64, usize)> = Vec::new();
    for (place, print) in prints.iter().enumerate() {
        names.extend(print.names().map(|name| (name, place)));
    }
    names.sort_unstable();
    let mut found = Vec::new();
    for same in names.chunk_by(|a, b| a.0 == b.0) {
        for (nth, (_, second)) in same.iter().enumerate() {
            let before = same[..nth].iter().map(|(_, first)| (*first, *second));
            found.extend(before.filter_map(|places| compared(prints, places)));
        }
    }
    found.sort_unstable_by_key(|pair: &Pair| (pair.first, pair.second));
    found.dedup_by_key(|pair| (pair.first, pair.second));
    found
}

fn compared(prints: &[&Fingerprint], (first, second): (usize, usize)) -> Option<Pair> {
    let likeness = prints[first].likeness(prints[second]);
    likeness.is_of_copies().then_some(Pair {
        first,
        second,
        likeness,
    })
}

impl Fingerprint {
    /// The names under which a copy is likely to be found.
    fn names(&self) -> impl Iterator<Item = u64> + '_ {
        let windows = self.noise.windows(WINDOW).step_by(HOP).enumerate();
        let of_noise = windows
            .filter_map(|(nth, window)| Some(extremes(window)? + (nth * WINDOW * WINDOW) as u64));
        let of_runs = self.runs.iter().enumerate();
        of_noise
            .chain(of_runs.filter_map(|(nth, run)| Some(OF_A_RUN | ((*run)? << 2) | nth as u64)))
    }
}

/// The places of the greatest and of the smallest value as one number below the square of the window; `None` where the force moves.
fn extremes(window: &[i8]) -> Option<u64> {
    const _: () = assert!(BLOCKS.is_multiple_of(HOP) && WINDOW <= BLOCKS);
    let (mut most, mut least, mut present) = (0, 0, 0);
    for (at, value) in window
        .iter()
        .enumerate()
        .filter(|(_, value)| **value != ABSENT)
    {
        if present == 0 || *value > window[most] {
            most = at;
        }
        if present == 0 || *value < window[least] {
            least = at;
        }
        present += 1;
    }
    (present >= WINDOW * 3 / 4).then_some((most * WINDOW + least) as u64)
}
