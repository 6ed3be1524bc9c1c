//! Local maxima that stand out from their surroundings.

use super::zero::Zero;
use crate::quantity::Newton;
use crate::trace::{Outline, Outlined, SPAN};

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
/// use relent::measure::maxima::prominent;
/// assert_eq!(prominent(&[0.0, 5.0, 4.5, 9.0, 1.0], 1.0), [3]);
/// assert_eq!(prominent(&[0.0, 5.0, 3.5, 9.0, 1.0], 1.0), [1, 3]);
/// ```
#[must_use]
pub fn prominent(values: &[f64], least: f64) -> Vec<usize> {
    prominent_in(Outlined::new(values, Outline::of(values).spans()), least)
}

/// As [`prominent`], for values whose outline is known.
pub(super) fn prominent_in(outlined: Outlined<'_>, least: f64) -> Vec<usize> {
    let mut found = Vec::new();
    let values = outlined.values();
    let Some(mut held) = values.first().copied() else {
        return found;
    };
    let mut climbing = false;
    let mut turn = 0;
    for (nth, span) in outlined.spans().iter().enumerate() {
        let first = nth * SPAN;
        let few = &values[first..values.len().min(first + SPAN)];
        let (low, high) = if climbing {
            (span.least, held.max(span.most))
        } else {
            (held.min(span.least), span.most)
        };
        if high - low < least {
            // The span goes on as the one before, and its own extremes say how far.
            if climbing && high > held {
                turn = first + few.iter().position(|value| *value == high).unwrap_or(0);
            }
            held = if climbing { high } else { low };
            continue;
        }
        for (place, value) in few.iter().enumerate() {
            let turns = if climbing {
                let falls = held - value >= least;
                if falls {
                    found.push(turn);
                    climbing = false;
                }
                falls || *value > held
            } else {
                climbing = value - held >= least && *value > held;
                climbing || *value < held
            };
            if turns {
                (turn, held) = (first + place, *value);
            }
        }
    }
    found
}
