//! What is a hit's own: its noise and its steps, in some six hundred bytes.
//!
//! Two hits differ in their noise, however alike they look. A copy keeps it, whatever is done to offset, scale, ends, rate or rounding.
//! A fingerprint holds the noise in blocks of [`BLOCK_S`], counted from the instant at which the force first passes half of its peak:
//! that instant stays where it is under all of these. Where a log has no noise, the exact steps of its forces tell two hits apart.
//!
//! `reports/copies.md` counts what is found of 31 ways to alter a log, and the false alarms on pairs of genuine hits.

mod blocks;
mod index;
mod noise;
mod steps;

pub use blocks::BLOCK_S;
pub use index::{Pair, pairs, pairs_by_index};

use self::blocks::{BLOCKS, block_means, passes_half};

/// A block that the record does not cover, or in which the force moves.
const ABSENT: i8 = i8::MIN;
/// Least correlation of the noise of a copy.
const LEAST_CORRELATION: f64 = 0.25;
/// The same in standard deviations of the correlation of two hits. It is the measure of one pair; among the pairs of genuine hits of
/// `reports/copies.md` the greatest is below 5.7.
const LEAST_DEVIATIONS: f64 = 5.9;
/// The same where fewer blocks than [`FEW`] are at rest in both: there the force may still sway a little, as it did in the hit before.
const LEAST_DEVIATIONS_OF_FEW: f64 = 7.5;
const FEW: u32 = 120;
/// Least runs of equal steps of a copy, for one edit; each run that differs asks for one more that does not.
const LEAST_RUNS: usize = 2;

/// The fingerprint of a record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fingerprint {
    /// The noise of each block as a whole number, [`ABSENT`] where there is none.
    noise: Box<[i8; BLOCKS]>,
    /// Digests of long runs of steps, where the record has such.
    runs: [Option<u64>; steps::RUNS],
}

/// How alike two fingerprints are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Likeness {
    /// Correlation of the noise, −1 to 1.
    pub correlation: f64,
    /// Blocks in which both show noise.
    pub blocks: u32,
    /// The correlation times the root of the number of blocks: in standard deviations, were the two of different hits.
    pub deviations: f64,
    /// Runs of steps that are the same to the last digit.
    pub equal_runs: usize,
    /// Runs of steps that are not.
    pub other_runs: usize,
}

impl Likeness {
    /// Whether it shows that one record was made from the other, or both from a third.
    #[must_use]
    pub fn is_of_copies(&self) -> bool {
        self.same_noise() || self.same_steps()
    }

    pub(super) fn same_noise(&self) -> bool {
        let least = match self.blocks {
            ..FEW => LEAST_DEVIATIONS_OF_FEW,
            _ => LEAST_DEVIATIONS,
        };
        self.correlation >= LEAST_CORRELATION && self.deviations >= least
    }

    pub(super) const fn same_steps(&self) -> bool {
        self.equal_runs >= LEAST_RUNS + self.other_runs
    }
}

impl Fingerprint {
    /// The fingerprint of a hit. `None` for a record that does not pass half of its peak, such as one that starts at it.
    ///
    /// # Quantities
    /// `times` (s, strictly increasing), `forces` (N, raw), of one length n ≥ 1; `resolution`: the step of the forces (N, > 0).
    ///
    /// # Holds when
    /// the noise is at least some tenths of the step, or the hit has some fifty steps that differ from the one before. Thinning, smoothing and
    /// coarser steps leave less of the noise; what remains findable stands in `reports/copies.md`.
    ///
    /// # Source
    /// This project's own.
    ///
    /// # Example
    /// ```
    /// use relent::limitation::fingerprint::Fingerprint;
    /// let noise = |i: i32| (f64::from(i * i % 9973).sin() * 1e4).round() % 9.0 / 10.0;
    /// let times: Vec<f64> = (0..3000).map(|i| f64::from(i) / 1000.0).collect();
    /// let hit = |i: i32| if (400..600).contains(&i) { 300.0 } else { 0.0 };
    /// let one: Vec<f64> = (0..3000).map(|i| hit(i) + noise(i)).collect();
    /// let copy: Vec<f64> = one.iter().map(|f| ((f * 0.93 + 4.0) * 10.0).round() / 10.0).collect();
    /// let other: Vec<f64> = (0..3000).map(|i| hit(i) + noise(i + 5000)).collect();
    /// let of = |forces: &[f64]| Fingerprint::of(&times, forces, 0.1);
    /// let (one, copy, other) = (of(&one).unwrap(), of(&copy).unwrap(), of(&other).unwrap());
    /// assert!(one.likeness(&copy).is_of_copies());
    /// assert!(!one.likeness(&other).is_of_copies());
    /// ```
    #[must_use]
    pub fn of(times: &[f64], forces: &[f64], resolution: f64) -> Option<Self> {
        let half = passes_half(times, forces)?;
        let means = block_means(times, forces, half.instant);
        Some(Self {
            noise: noise::of_blocks(&means, resolution),
            runs: steps::runs(forces, half.index, resolution),
        })
    }

    /// As bytes: the noise of each block, then the runs of steps, 0 for none, highest byte first.
    #[must_use]
    pub fn to_bytes(&self) -> Vec<u8> {
        let noise = self.noise.iter().map(|noise| noise.cast_unsigned());
        let runs = self.runs.iter().map(|run| run.unwrap_or(0));
        noise.chain(runs.flat_map(u64::to_be_bytes)).collect()
    }

    /// From its bytes; `None` for what are none.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let (noise, rest) = bytes.split_first_chunk::<BLOCKS>()?;
        let (runs, []) = rest.as_chunks::<8>() else {
            return None;
        };
        let runs: &[[u8; 8]; steps::RUNS] = runs.try_into().ok()?;
        Some(Self {
            noise: Box::new(noise.map(u8::cast_signed)),
            runs: runs.map(|run| Some(u64::from_be_bytes(run)).filter(|run| *run != 0)),
        })
    }

    /// How alike it is to another.
    #[must_use]
    pub fn likeness(&self, other: &Self) -> Likeness {
        let (mut both, mut own, mut others, mut blocks) = (0_i32, 0_i32, 0_i32, 0_u32);
        for (a, b) in self.noise.iter().zip(other.noise.iter()) {
            let present = *a != ABSENT && *b != ABSENT;
            blocks += u32::from(present);
            let present = i32::from(present);
            let (a, b) = (i32::from(*a) * present, i32::from(*b) * present);
            both += a * b;
            own += a * a;
            others += b * b;
        }
        let norm = (f64::from(own) * f64::from(others)).sqrt();
        let correlation = if norm > 0.0 {
            f64::from(both) / norm
        } else {
            0.0
        };
        let runs = self.runs.iter().zip(&other.runs);
        let of_both = runs.filter_map(|(a, b)| Some((*a)? == (*b)?));
        let (equal, differing): (Vec<bool>, Vec<bool>) = of_both.partition(|same| *same);
        Likeness {
            correlation,
            blocks,
            deviations: correlation * f64::from(blocks).sqrt(),
            equal_runs: equal.len(),
            other_runs: differing.len(),
        }
    }
}
