//! The noise of the blocks in which the force is at rest, made white.

use super::ABSENT;
use super::blocks::{BEFORE, BLOCKS};

/// Blocks that the filter takes together.
const TAPS: usize = 7;
/// The filter: nothing is left of a straight line, and of hum of 50 and of 60 Hz. It is the second difference, then (1, 0, 1), which is
/// 0 at a fifth of a second⁻¹ of blocks of 5 ms, 50 Hz, then (1, 2 cos 72°, 1), which is 0 at 60 Hz.
const STANDS_OUT: [f64; TAPS] = taps();
/// Noises that a block may stand out from its neighbours; beyond, the hit is seen.
const HIT_NOISES: f64 = 5.0;
/// Noises that the mean of three blocks may lie from that of the three after; beyond, the force moves.
const MOVES_NOISES: f64 = 1.2;
/// The same where the noise wanders: times its usual wandering, and at most so many times the above.
const WANDERS: f64 = 3.0;
const MOST_WANDER: f64 = 5.0;
/// Blocks on either side of one in which the force moves that are left out with it.
const SPREAD: usize = 4;
/// Noise as a share of the step of the log, where it cannot be seen.
const UNSEEN: f64 = 0.1;
/// Rounding of the sums, as a share of the step.
const ROUNDING: f64 = 1e-6;
/// From the median of the distances to the standard deviation of a normal distribution.
const MEDIAN_TO_SIGMA: f64 = 1.4826;
/// Order of the prediction that makes the noise white.
const ORDER: usize = 6;
/// Least share of the blocks at rest that must differ from their neighbours: below, the log shows no noise.
const LEAST_SHARE: f64 = 0.25;
/// Blocks before the hit from which it is seen whether there is noise.
const LEAST_LEAD: usize = 8;
/// Whole numbers for one standard deviation.
const UNITS: f64 = 16.0;
/// Standard deviations beyond which a value counts no more.
const MOST: f64 = 2.5;

const fn taps() -> [f64; TAPS] {
    let second = [-0.5, 1.0, -0.5];
    let sixty = [1.0, 0.618_033_988_749_895, 1.0];
    let mut taps = [0.0; TAPS];
    let mut at = 0;
    while at < 9 {
        let both = second[at / 3] * sixty[at % 3];
        taps[at / 3 + at % 3] += both;
        taps[at / 3 + at % 3 + 2] += both;
        at += 1;
    }
    taps
}

/// The noise of each block as a whole number.
pub(super) fn of_blocks(means: &[f64; BLOCKS], resolution: f64) -> Box<[i8; BLOCKS]> {
    let residuals = at_rest(means, resolution);
    let mut noise = Box::new([ABSENT; BLOCKS]);
    if !shows_noise(&residuals) {
        return noise;
    }
    let white = whitened(&residuals);
    let squares: f64 = white.iter().map(|value| value * value).sum();
    let telling = residuals.iter().filter(|it| it.abs() > 0.0).count();
    let unit = (squares / telling as f64).sqrt() / UNITS;
    for (at, whole) in noise.iter_mut().enumerate() {
        if residuals[at].is_finite() {
            let most = MOST * UNITS;
            *whole = (white[at] / unit).round().clamp(-most, most) as i8;
        }
    }
    noise
}

/// Whether enough blocks differ from their neighbours: of those before the hit, where a force that moves slowly is not taken for noise; of
/// all where there are too few.
fn shows_noise(residuals: &[f64; BLOCKS]) -> bool {
    let present = |some: &[f64]| some.iter().filter(|it| it.is_finite()).count();
    let telling = |some: &[f64]| some.iter().filter(|it| it.abs() > 0.0).count();
    let lead = &residuals[..BEFORE];
    let some = if present(lead) < LEAST_LEAD {
        residuals
    } else {
        lead
    };
    telling(some) > 0 && telling(some) as f64 >= LEAST_SHARE * present(some) as f64
}

/// How each block stands out from its neighbours; NaN where the record has none, or the force moves.
fn at_rest(means: &[f64; BLOCKS], resolution: f64) -> [f64; BLOCKS] {
    let (mut residuals, mut moves) = ([f64::NAN; BLOCKS], [f64::NAN; BLOCKS]);
    for (at, around) in means.windows(TAPS).enumerate() {
        let products = around.iter().zip(STANDS_OUT).map(|(mean, tap)| mean * tap);
        let out: f64 = products.sum();
        let rounding = out.abs() < ROUNDING * resolution;
        residuals[at + TAPS / 2] = if rounding { 0.0 } else { out };
        let (before, after) = (&around[..TAPS / 2], &around[TAPS / 2 + 1..]);
        let way = after.iter().sum::<f64>() - before.iter().sum::<f64>();
        moves[at + TAPS / 2] = way.abs() / (TAPS / 2) as f64;
    }
    let noise = (MEDIAN_TO_SIGMA * usual(&residuals)).max(UNSEEN * resolution);
    let least = MOVES_NOISES * noise;
    let most_moves = (WANDERS * usual(&moves)).clamp(least, MOST_WANDER * least);
    let mut still = [true; BLOCKS];
    for at in 0..BLOCKS {
        if residuals[at].abs() > HIT_NOISES * noise || moves[at] > most_moves {
            still[at.saturating_sub(SPREAD)..(at + SPREAD + 1).min(BLOCKS)].fill(false);
        }
    }
    for (residual, still) in residuals.iter_mut().zip(still) {
        if !still {
            *residual = f64::NAN;
        }
    }
    residuals
}

/// Median of the sizes of what is there; 0 for nothing.
fn usual(values: &[f64; BLOCKS]) -> f64 {
    let present = values.iter().filter(|value| value.is_finite());
    let mut sizes: Vec<f64> = present.map(|value| value.abs()).collect();
    if sizes.is_empty() {
        return 0.0;
    }
    let middle = sizes.len() / 2;
    *sizes.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// The residuals less what those before them predict: what repeats from block to block tells nothing.
fn whitened(residuals: &[f64; BLOCKS]) -> [f64; BLOCKS] {
    let known = residuals.map(|residual| if residual.is_finite() { residual } else { 0.0 });
    let weights = prediction(&known);
    let mut white = [0.0; BLOCKS];
    for at in 0..BLOCKS {
        if residuals[at].is_finite() {
            let before = known[at.saturating_sub(ORDER)..at].iter().rev();
            let predicted: f64 = before
                .zip(weights)
                .map(|(value, weight)| value * weight)
                .sum();
            white[at] = known[at] - predicted;
        }
    }
    white
}

/// The weights of the best linear prediction of a value from those before it, the last one first.
///
/// # Source
/// The Levinson–Durbin recursion; Brockwell & Davis, Time Series: Theory and Methods, 2nd edition, proposition 5.2.1.
fn prediction(values: &[f64; BLOCKS]) -> [f64; ORDER] {
    let product = |lag: usize| -> f64 {
        let pairs = values[lag..].iter().zip(values);
        pairs.map(|(a, b)| a * b).sum()
    };
    let power = product(0);
    let (mut weights, mut left) = ([0.0; ORDER], power);
    for order in 0..ORDER {
        if left <= 1e-9 * power {
            break;
        }
        let known = (0..order).map(|lag| weights[lag] * product(order - lag));
        let reflected = (product(order + 1) - known.sum::<f64>()) / left;
        let before = weights;
        for lag in 0..order {
            weights[lag] -= reflected * before[order - 1 - lag];
        }
        weights[order] = reflected;
        left *= 1.0 - reflected * reflected;
    }
    weights
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    #[test]
    fn nothing_is_left_of_a_straight_line_and_of_hum() {
        let signals: [&dyn Fn(f64) -> f64; 3] = [
            &|t| 3.0 + 40.0 * t,
            &|t| (TAU * 50.0 * t + 0.4).sin(),
            &|t| (TAU * 60.0 * t + 0.4).sin(),
        ];
        for signal in signals {
            let blocks = (0..TAPS).map(|at| signal(at as f64 * super::super::BLOCK_S));
            let left: f64 = blocks.zip(STANDS_OUT).map(|(mean, tap)| mean * tap).sum();
            assert!(left.abs() < 1e-12, "{left}");
        }
    }

    #[test]
    fn the_prediction_of_an_autoregressive_row_has_its_weights() {
        // x(i) = 1.2 x(i − 1) − 0.6 x(i − 2) + e(i), with e a fixed row of no pattern.
        let mut values = [0.0; BLOCKS];
        let mut seed = 11_u64;
        for at in 2..BLOCKS {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let fresh = (seed >> 40) as f64 / 2_f64.powi(24) - 0.5;
            values[at] = 1.2 * values[at - 1] - 0.6 * values[at - 2] + fresh;
        }
        let weights = prediction(&values);
        assert!(
            (weights[0] - 1.2).abs() < 0.1 && (weights[1] + 0.6).abs() < 0.15,
            "{weights:?}"
        );
        assert!(
            weights[2..].iter().all(|weight| weight.abs() < 0.15),
            "{weights:?}"
        );
    }
}
