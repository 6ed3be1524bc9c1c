//! A clipped top: flat between two corners.
//!
//! A gauge or logger that cannot show more leaves a flat top with the flanks of the true hit still steep beside it: two corners. A drive
//! at its force limit leaves a flat top too, but a mass on a spring enters and leaves it in a bend. `reports/detectors.md` counts what is
//! missed and what is taken for clipped by noise, step and depth of the cut.

use std::ops::RangeInclusive;

/// Depth of the top below the highest sample: in noises and in steps of the log.
const TOP_NOISES: f64 = 5.0;
const TOP_STEPS: f64 = 1.5;
/// The same at least, as shares of the peak that are tried one after the other: noise on the plateau may be more than at rest.
const TOP_SHARES: [f64; 3] = [0.002, 0.005, 0.015];
/// A deeper level, in depths of the top.
const DEEPER: f64 = 4.0;
/// The deepest: so many depths, but no more than that share of the peak. With fewer than the least the hit is too low to tell.
const DEEPEST: f64 = 16.0;
const LEAST_DEEPEST: f64 = 12.0;
const MOST_SHARE: f64 = 0.85;
/// Width of the top as a share of that at the deeper level: 1/2 for a rounded top, towards 1 for a flat one between steep flanks.
const LEAST_WIDTH: f64 = 0.72;
/// Time from the deeper level to the top in times of what a straight flank takes, by the flank below: 1 for a corner, 2 for a flank that
/// bends like a parabola, 4 for one that approaches the top as a decay does.
const MOST_BEND: f64 = 1.6;
/// Steps of the clock within which a flank cannot be seen to bend.
const UNSEEN: f64 = 0.6;
/// Neighbours that may fall out of the top by noise.
const FALL_OUT: usize = 2;
/// Fewest samples that are a top.
const LEAST_SAMPLES: usize = 3;
/// Noise of the top as a share of that at rest, below which the logger and not the hit holds the force; from so many samples on.
const QUIETER: f64 = 0.3;
const MANY: usize = 12;

/// A flat top with corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Plateau {
    /// Its samples, from the first to the last.
    pub samples: RangeInclusive<usize>,
    /// Mean of its forces (N).
    pub level_n: f64,
    /// The least force that counts as part of it (N).
    pub least_n: f64,
    /// How long it lasts (s).
    pub lasts_s: f64,
}

/// The noise and the step of a record, against which its top is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtRest {
    /// Standard deviation of the forces (N).
    pub noise_n: f64,
    /// The same from one sample to the next, less where the noise wanders (N).
    pub quick_noise_n: f64,
    /// Step of the log (N).
    pub step_n: f64,
}

impl AtRest {
    /// Of forces without load (N), in steps of `step_n`; all zero but the step for fewer than two.
    #[must_use]
    pub fn of(quiet: &[f64], step_n: f64) -> Self {
        let count = quiet.len().max(1) as f64;
        let mean = quiet.iter().sum::<f64>() / count;
        let squares = quiet
            .iter()
            .map(|force| (force - mean).powi(2))
            .sum::<f64>();
        let quick_noise_n = quick_noise(quiet);
        Self {
            noise_n: (squares / count).sqrt().max(quick_noise_n),
            quick_noise_n,
            step_n,
        }
    }
}

/// The clipped top of a record, if it has one: the first stretch near the highest sample that is flat between two corners.
///
/// With d the depth of the top, w the width of the force at a level and t the time for which a flank runs from one level to another: clipped if
/// w(d) ≥ 0.72 w(4 d), and on either flank t(4 d → d) ≤ 1.6 · 3/12 · t(16 d → 4 d), or too short for the clock to show. A parabola has
/// 0.5 and 2 · 3/12, a flank that ends in a decay 4 · 3/12. Where the logger's noise is seen at rest and gone on the top, it is clipped too.
///
/// # Quantities
/// `times` (s), `forces` (N, zeroed), `peak`: index of the highest sample; `equal_samples`: fewest samples of a plateau.
///
/// # Holds when
/// the cut takes more than some 5 % of the peak and the top has three samples.
///
/// # Source
/// This project's own.
#[must_use]
pub fn plateau(
    times: &[f64],
    forces: &[f64],
    peak: usize,
    rest: &AtRest,
    equal_samples: usize,
) -> Option<Plateau> {
    let highest = forces[peak];
    let noise = TOP_NOISES * rest.noise_n + TOP_STEPS * rest.step_n;
    let least = equal_samples.max(LEAST_SAMPLES);
    TOP_SHARES.iter().find_map(|share| {
        let shape = Shape {
            times,
            forces,
            highest,
            depth: noise.max(share * highest),
        };
        let mut tops = shape.tops().into_iter();
        let long = |top: &RangeInclusive<usize>| top.end() - top.start() + 1 >= least;
        let found = tops.find(|top| long(top) && (shape.is_still(top, rest) || shape.is_flat(top)));
        found.map(|top| shape.plateau(top))
    })
}

/// A record near its highest force, looked at with a depth.
struct Shape<'a> {
    times: &'a [f64],
    forces: &'a [f64],
    highest: f64,
    depth: f64,
}

/// A flank of a top: its instants at the level of the top, the deeper and the deepest.
struct Flank {
    top: f64,
    deeper: f64,
    deepest: f64,
}

impl Shape<'_> {
    fn level(&self, depths: f64) -> f64 {
        self.highest - depths * self.depth
    }

    /// Every stretch at the level of the top.
    fn tops(&self) -> Vec<RangeInclusive<usize>> {
        let level = self.level(1.0);
        let mut found: Vec<RangeInclusive<usize>> = Vec::new();
        for (at, _) in self
            .forces
            .iter()
            .enumerate()
            .filter(|(_, force)| **force >= level)
        {
            match found.last_mut() {
                Some(last) if at - last.end() <= FALL_OUT + 1 => *last = *last.start()..=at,
                _ => found.push(at..=at),
            }
        }
        found
    }

    /// Whether the noise at rest is gone on the top.
    fn is_still(&self, top: &RangeInclusive<usize>, rest: &AtRest) -> bool {
        let of_top = &self.forces[top.clone()];
        let visible = rest.quick_noise_n >= rest.step_n && self.deepest().is_some();
        visible && of_top.len() >= MANY && quick_noise(of_top) < QUIETER * rest.quick_noise_n
    }

    fn deepest(&self) -> Option<f64> {
        let most = MOST_SHARE * self.highest / self.depth;
        (most >= LEAST_DEEPEST).then_some(most.min(DEEPEST))
    }

    fn is_flat(&self, top: &RangeInclusive<usize>) -> bool {
        let Some(deepest) = self.deepest() else {
            return false;
        };
        let (first, last) = (*top.start(), *top.end());
        let step = (self.times[last] - self.times[first]) / (last - first) as f64;
        let straight = (DEEPER - 1.0) / (deepest - DEEPER);
        let sharp = |flank: &Flank| {
            let above = (flank.top - flank.deeper).abs();
            let below = (flank.deeper - flank.deepest).abs();
            above <= UNSEEN * step || above <= MOST_BEND * straight * below
        };
        let middle = usize::midpoint(first, last);
        let Some(rise) = self.flank(middle, deepest, Shape::rises).filter(sharp) else {
            return false;
        };
        let wide = |top: f64, deeper: f64| top - rise.top >= LEAST_WIDTH * (deeper - rise.deeper);
        match self.flank(middle, deepest, Shape::falls) {
            Some(fall) => sharp(&fall) && wide(fall.top, fall.deeper),
            // The record ends on the plateau.
            None => wide(self.times[last], self.times[last]),
        }
    }

    fn flank(
        &self,
        middle: usize,
        deepest: f64,
        at: fn(&Self, usize, f64) -> Option<f64>,
    ) -> Option<Flank> {
        Some(Flank {
            top: at(self, middle, self.level(1.0))?,
            deeper: at(self, middle, self.level(DEEPER))?,
            deepest: at(self, middle, self.level(deepest))?,
        })
    }

    /// The instant before a sample at which the force comes to stay at a level, but for a few neighbours.
    fn rises(&self, middle: usize, level: f64) -> Option<f64> {
        let first = middle - reach(self.forces[..middle].iter().rev(), level);
        self.crossing(first, first.checked_sub(1)?, level)
    }

    /// The same after it.
    fn falls(&self, middle: usize, level: f64) -> Option<f64> {
        let last = middle + reach(self.forces[middle + 1..].iter(), level);
        self.crossing(last, last + 1, level)
    }

    fn crossing(&self, above: usize, below: usize, level: f64) -> Option<f64> {
        let (high, low) = (self.forces[above], *self.forces.get(below)?);
        let share = (high - level) / (high - low);
        Some(self.times[above] + share * (self.times[below] - self.times[above]))
    }

    fn plateau(&self, top: RangeInclusive<usize>) -> Plateau {
        let of_top = &self.forces[top.clone()];
        Plateau {
            level_n: of_top.iter().sum::<f64>() / of_top.len() as f64,
            least_n: self.level(1.0),
            lasts_s: self.times[*top.end()] - self.times[*top.start()],
            samples: top,
        }
    }
}

/// How many neighbours on one side are at or above a level, of which a few may be below.
fn reach<'a>(neighbours: impl Iterator<Item = &'a f64>, level: f64) -> usize {
    let (mut last, mut below) = (0, 0);
    for (nth, force) in neighbours.enumerate() {
        if *force >= level {
            (last, below) = (nth + 1, 0);
        } else {
            below += 1;
            if below > FALL_OUT {
                break;
            }
        }
    }
    last
}

/// Standard deviation of noise by the differences of neighbours (N); 0 for fewer than two forces.
fn quick_noise(forces: &[f64]) -> f64 {
    let differences = forces.windows(2).map(|pair| (pair[1] - pair[0]).powi(2));
    let pairs = forces.len().saturating_sub(1).max(1);
    (differences.sum::<f64>() / (2 * pairs) as f64).sqrt()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may fail")]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    const QUIET: AtRest = AtRest {
        noise_n: 0.05,
        quick_noise_n: 0.05,
        step_n: 0.1,
    };

    /// A record of 1 kHz.
    fn of(force: impl Fn(f64) -> f64) -> Option<Plateau> {
        let times: Vec<f64> = (0..2000).map(|at| f64::from(at) / 1000.0).collect();
        let forces: Vec<f64> = times.iter().map(|at| force(*at)).collect();
        let peak = (0..2000).max_by(|a, b| forces[*a].total_cmp(&forces[*b]));
        plateau(&times, &forces, peak.unwrap(), &QUIET, 3)
    }

    fn half_sine(at: f64) -> f64 {
        900.0 * (PI * (at - 0.3) / 0.05).sin().max(0.0) * f64::from((0.3..0.35).contains(&at))
    }

    #[test]
    fn a_half_sine_is_not_clipped_and_its_lower_part_is() {
        assert_eq!(of(half_sine), None);
        // Two codes in turn on the plateau.
        let toggles = |at: f64| half_sine(at).min(362.0 + 0.3 * ((at * 1000.0).round() % 2.0));
        let found = of(toggles).unwrap();
        assert!((found.level_n - 362.15).abs() < 0.1, "{found:?}");
        // It is above 362 N for 50 ms (1 − 2 asin(362/900)/π).
        assert!((found.lasts_s - 0.0368).abs() < 0.001, "{found:?}");
    }

    #[test]
    fn a_drive_at_its_force_limit_is_not_clipped() {
        let approached = |at: f64| {
            let since = (at - 0.3).max(0.0);
            let until = (at - 1.2).max(0.0);
            (300.0 * (1.0 - (-since / 0.02).exp()) - 15_000.0 * until * until).max(0.0)
        };
        assert_eq!(of(approached), None);
    }

    #[test]
    fn a_record_may_end_on_the_plateau() {
        let cut = |at: f64| (900.0 * ((at - 1.5) / 0.01)).clamp(0.0, 362.0);
        assert!(of(cut).is_some());
    }
}
