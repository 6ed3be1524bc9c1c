//! Local maxima that stand out from their surroundings.

use super::zero::Zero;
use crate::quantity::Newton;

/// Least prominence in multiples of the noise.
const NOISES: f64 = 6.0;
/// Least prominence as a share of the greatest force.
const SHARE: f64 = 0.05;

/// The prominence (N) from which a local maximum counts: the greater of 6 × noise and 5 % of the greatest force.
#[must_use]
pub fn least_prominence(zero: &Zero, greatest: Newton) -> Newton {
    let noise = zero.noise.as_ref().map_or(0.0, |noise| noise.get());
    Newton((NOISES * noise).max(SHARE * greatest.get()))
}

/// Index of each local maximum of prominence at least `least` (> 0), in the order of time; of a flat top, its first sample.
///
/// A maximum is prominent if the signal rises by `least` to it and falls by `least` after it before it goes higher. One
/// pass: the running greatest value becomes a maximum once the signal has fallen `least` below it, and a new search starts
/// once the signal has risen `least` above the running smallest value. A first or last sample is never a maximum.
///
/// # Source
/// The prominence of a peak as `scipy.signal.find_peaks(x, prominence=least)` defines it; the tests compare both.
///
/// # Example
/// ```
/// use relent::response::maxima::prominent;
/// assert_eq!(prominent(&[0.0, 5.0, 4.5, 9.0, 1.0], 1.0), [3]);
/// assert_eq!(prominent(&[0.0, 5.0, 3.5, 9.0, 1.0], 1.0), [1, 3]);
/// ```
#[must_use]
pub fn prominent(values: &[f64], least: f64) -> Vec<usize> {
    let mut found = Vec::new();
    let mut climbing = false;
    let mut turn = 0;
    for (nth, chunk) in values.chunks(CHUNK).enumerate() {
        if nothing_turns(chunk, values[turn], least, climbing) {
            continue;
        }
        for (i, value) in (nth * CHUNK..).zip(chunk) {
            let held = values[turn];
            if climbing {
                if *value > held {
                    turn = i;
                } else if held - value >= least {
                    found.push(turn);
                    climbing = false;
                    turn = i;
                }
            } else if *value < held {
                turn = i;
            } else if value - held >= least && *value > held {
                climbing = true;
                turn = i;
            }
        }
    }
    found
}

/// Samples looked at together.
const CHUNK: usize = 8;

/// Whether no sample of a chunk is beyond the running extreme or far enough from it: then the chunk changes nothing.
fn nothing_turns(chunk: &[f64], held: f64, least: f64, climbing: bool) -> bool {
    let Ok(chunk) = <&[f64; CHUNK]>::try_from(chunk) else {
        return false;
    };
    let turns = |value: f64| {
        let above = if climbing { value - held } else { held - value };
        (above > 0.0) | (-above >= least)
    };
    !chunk.iter().fold(false, |any, value| any | turns(*value))
}
