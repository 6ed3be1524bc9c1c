//! Zero, noise and drift of a record.

use serde::{Deserialize, Serialize};

use super::median::{median, median_and_noise};
use super::zeroed::Zeroed;
use super::{Measured, Unmeasured, Zeroing};
use crate::quantity::Newton;
use crate::trace::Trace;

/// Length of the record's opening, which sets the noise band.
const OPENING_S: f64 = 0.050;
/// Samples that the opening and every quiet stretch must hold.
const LEAST_SAMPLES: usize = 20;
/// Time that every quiet stretch must last.
const LEAST_S: f64 = 0.050;
/// Time kept clear before the force leaves the band, and after release.
const CLEAR_S: f64 = 0.020;
/// Half-width of the noise band in multiples of the noise.
const BAND_NOISES: f64 = 6.0;
/// Half-width of the noise band in resolution steps of the log.
const BAND_STEPS: f64 = 2.0;
/// Rounding of a decimal fraction, in resolution steps of the log.
const EDGE_STEPS: f64 = 1e-6;
/// One in so many of the squared differences, the greatest, says nothing of the noise.
const TRIMMED: usize = 16;
/// The mean of all squares of a normal distribution over that of the rest: 1/(1 − 2qφ(q)/(15/16)), q = Φ⁻¹(31/32).
const OF_TRIMMED: f64 = 1.388;
/// Rounding of instants: a stretch of 50 ms is one even if its instants were decimal fractions.
const CLOCK_ROUNDING_S: f64 = 1e-9;

/// The zero of a record and what is known of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Zero {
    /// The zero, where there is one: the median of the quiet stretch, or 0 of a gauge declared to zero itself.
    pub value: Measured<Newton>,
    /// Standard deviation of the quiet stretch, as [`zero`] has it.
    pub noise: Measured<Newton>,
    /// Zero after release minus zero before contact.
    pub drift: Measured<Newton>,
    /// Number of samples in the quiet stretch before contact.
    pub samples: usize,
    /// What was taken off every force.
    pub subtracted: Newton,
    /// Where that comes from.
    pub from: ZeroFrom,
    /// How far the zero may lie from what was taken off, either way: 0 for a measured one.
    pub shift: Newton,
}

impl Zero {
    /// The zero of a record that cannot be calculated with.
    pub(super) fn unmeasured(reason: Unmeasured) -> Self {
        without_quiet(Err(reason), reason, ZeroFrom::LowestStretch, (0.0, 0.0))
    }
}

/// Where the number comes from that was taken off every force.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum ZeroFrom {
    /// Measured before contact.
    QuietStretch,
    /// No quiet stretch, but the gauge is declared to zero itself: 0.
    Declared,
    /// Neither: the lowest level that the record holds for 50 ms. A leaf only pushes, so the true zero is no higher and
    /// the forces are lower bounds.
    LowestStretch,
}

/// The zero z (N) before contact, with its noise; the drift is still to be measured, see [`drift`].
///
/// z = median of f over the quiet stretch: from the first sample to 20 ms before the first two consecutive samples outside
/// the noise band of the opening. Opening: the first 50 ms, at least 20 samples; band: its median ± the greater of 6 × noise
/// and two resolution steps. Noise = 1.4826 × median |f − z|; where that is below one step r, the greater of it and
/// √(s² + r²/12), s² half the mean square of the successive differences without the greatest sixteenth. Two steps count for no more than the
/// contact level: in a log of few different values the smallest step seen says little of the resolution.
///
/// # Quantities
/// `raw`: raw forces (N); `contact_level` (N); out: [`Zero`].
///
/// # Holds when
/// the quiet stretch has at least 20 samples and 50 ms and the band is no wider than the contact level. Else `value` names what is missing, and `subtracted` is 0 for a gauge
/// that zeroes itself, the lowest level held by the record for any other. The same where the force later stays below the
/// opening by more than the contact level: then the leaf was pressing when the record began.
///
/// # Source
/// Robust scale: Rousseeuw & Croux, JASA 88 (1993). Successive differences: von Neumann, Annals of Mathematical Statistics 12 (1941). The stretch and its lengths: this project's own rule.
///
/// # Example
/// ```
/// use relent::quantity::Newton;
/// use relent::measure::{zero, Zeroed, Zeroing};
/// use relent::trace::Trace;
/// let times: Vec<f64> = (0..400).map(|i| f64::from(i) / 1000.0).collect();
/// let forces: Vec<f64> = times.iter().map(|t| if *t < 0.2 { 3.5 } else { 200.0 }).collect();
/// let trace = Trace::new(times, forces)?;
/// let zero = zero(&trace, &Zeroed::raw(&trace)?, Newton(25.0), Zeroing::NotDeclared);
/// assert_eq!(zero.value, Ok(Newton(3.5)));
/// assert_eq!(zero.samples, 181);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn zero(trace: &Trace, raw: &Zeroed<'_>, contact_level: Newton, zeroing: Zeroing) -> Zero {
    let reason = match quiet_before(trace, raw, contact_level) {
        Ok(quiet) => match pressed_at_start(raw, quiet.zero, contact_level, zeroing) {
            None => return quiet.into(),
            Some(reason) => reason,
        },
        Err(reason) => reason,
    };
    match zeroing {
        Zeroing::BySelf => {
            let shift = shift(raw, 0.0, contact_level);
            without_quiet(Ok(Newton(0.0)), reason, ZeroFrom::Declared, (0.0, shift))
        }
        Zeroing::NotDeclared => {
            let lowest = lowest_level(raw);
            let shift = shift(raw, lowest, contact_level);
            without_quiet(
                Err(reason),
                reason,
                ZeroFrom::LowestStretch,
                (lowest, shift),
            )
        }
    }
}

/// The drift (N): median of f over the quiet stretch after release, minus the zero before contact.
///
/// The stretch runs from 20 ms after `release` (s from the first sample) to the end of the record.
///
/// # Errors
/// [`Unmeasured`] if the leaf is never released, or the stretch has fewer than 20 samples or less than 50 ms.
pub fn drift(record: &Zeroed<'_>, release: Option<f64>) -> Measured<Newton> {
    let release = release.ok_or(Unmeasured::NotReleased)?;
    let from = release + CLEAR_S;
    let rest = record.forces().get(record.index_at(from)..).unwrap_or(&[]);
    if rest.len() < LEAST_SAMPLES || record.end() - from < LEAST_S - CLOCK_ROUNDING_S {
        return Err(Unmeasured::NoQuietEnd);
    }
    median(rest, &mut Vec::new())
        .map(Newton)
        .ok_or(Unmeasured::NoQuietEnd)
}

struct Quiet {
    zero: f64,
    noise: f64,
    samples: usize,
}

impl From<Quiet> for Zero {
    fn from(quiet: Quiet) -> Self {
        Self {
            value: Ok(Newton(quiet.zero)),
            noise: Ok(Newton(quiet.noise)),
            drift: Err(Unmeasured::NotReleased),
            samples: quiet.samples,
            subtracted: Newton(quiet.zero),
            from: ZeroFrom::QuietStretch,
            shift: Newton(0.0),
        }
    }
}

fn without_quiet(
    value: Measured<Newton>,
    reason: Unmeasured,
    from: ZeroFrom,
    (subtracted, shift): (f64, f64),
) -> Zero {
    Zero {
        value,
        noise: Err(reason),
        drift: Err(reason),
        samples: 0,
        subtracted: Newton(subtracted),
        from,
        shift: Newton(shift),
    }
}

fn quiet_before(trace: &Trace, raw: &Zeroed<'_>, contact_level: Newton) -> Measured<Quiet> {
    let (times, forces) = (raw.times(), raw.forces());
    let opening = times
        .partition_point(|t| *t <= OPENING_S)
        .max(LEAST_SAMPLES);
    let step = trace.resolution().map_or(0.0, Newton::get);
    // As with the steps of the band: no more than makes a band of the contact level.
    let hides = step.min(contact_level.get() * 3.0 / BAND_NOISES);
    let (middle, noise) = forces
        .get(..opening)
        .and_then(|opening| middle_and_noise(opening, hides))
        .ok_or(Unmeasured::TooFewSamples {
            samples: times.len(),
        })?;
    let steps = (BAND_STEPS * step).min(contact_level.get());
    let band = (BAND_NOISES * noise).max(steps);
    if band > contact_level.get() {
        return Err(Unmeasured::NotQuiet { noise_n: noise });
    }
    // A sample at the edge of the band is inside, whatever the rounding of its decimal fraction.
    let edge = band + EDGE_STEPS * step;
    let outside = |f: &f64| (f - middle).abs() > edge;
    let leaves = forces.windows(2).position(|pair| pair.iter().all(outside));
    let end = leaves.map_or(raw.end(), |i| times[i] - CLEAR_S);
    let samples = times.partition_point(|t| *t <= end);
    if samples < LEAST_SAMPLES || end < LEAST_S - CLOCK_ROUNDING_S {
        return Err(Unmeasured::QuietTooShort {
            quiet_ms: (end * 1000.0).max(0.0),
            samples,
        });
    }
    let found = middle_and_noise(&forces[..samples], hides);
    let (zero, noise) = found.ok_or(Unmeasured::QuietTooShort {
        quiet_ms: 0.0,
        samples: 0,
    })?;
    Ok(Quiet {
        zero,
        noise,
        samples,
    })
}

/// Median of some forces and the standard deviation of their noise, which a step of the log does not hide.
fn middle_and_noise(forces: &[f64], step: f64) -> Option<(f64, f64)> {
    let (middle, noise) = median_and_noise(forces)?;
    if noise >= step {
        return Some((middle, noise));
    }
    let differences = forces.windows(2).map(|pair| (pair[1] - pair[0]).powi(2));
    let mut squares: Vec<f64> = differences.collect();
    let kept = squares.len() - squares.len() / TRIMMED;
    if kept < squares.len() {
        squares.select_nth_unstable_by(kept, f64::total_cmp);
    }
    let mean = squares[..kept].iter().sum::<f64>() / kept.max(1) as f64;
    let quick = (OF_TRIMMED * mean / 2.0 + step * step / 12.0).sqrt();
    Some((middle, noise.max(quick)))
}

/// How far the zero may lie from `taken`, either way: to the level of every stretch of 50 ms that is not above it by more than the
/// contact level.
fn shift(raw: &Zeroed<'_>, taken: f64, contact_level: Newton) -> f64 {
    let away = |level: f64| (level - taken).abs();
    let near = levels(raw).filter(|level| away(*level) <= contact_level.get());
    near.map(away).fold(0.0, f64::max)
}

/// Whether the quiet opening was a leaf at rest against the gauge and not a free gauge; the reason, if so.
fn pressed_at_start(
    raw: &Zeroed<'_>,
    zero: f64,
    contact_level: Newton,
    zeroing: Zeroing,
) -> Option<Unmeasured> {
    let level = contact_level.get();
    if zeroing == Zeroing::BySelf && zero > level {
        return Some(Unmeasured::OpensPressed { opens_n: zero });
    }
    if raw.range().0 - zero >= -level {
        return None;
    }
    let lowest = lowest_level(raw);
    (lowest < zero - level && lowest >= -level).then_some(Unmeasured::RestsLower {
        opens_n: zero,
        rests_n: lowest,
    })
}

/// The lowest median of f over consecutive stretches of at least 20 samples and 50 ms; of all samples in a shorter record.
fn lowest_level(raw: &Zeroed<'_>) -> f64 {
    levels(raw)
        .reduce(f64::min)
        .unwrap_or_else(|| median(raw.forces(), &mut Vec::new()).unwrap_or(0.0))
}

/// The medians of f over consecutive stretches of at least 20 samples and 50 ms.
fn levels<'a>(raw: &'a Zeroed<'_>) -> impl Iterator<Item = f64> + 'a {
    let (times, forces) = (raw.times(), raw.forces());
    let mut scratch = Vec::new();
    let mut start = 0;
    std::iter::from_fn(move || {
        let first = times.get(start)?;
        let by_time = times.partition_point(|t| *t < first + LEAST_S);
        let end = by_time.max(start + LEAST_SAMPLES);
        let level = median(forces.get(start..end)?, &mut scratch);
        start = end;
        level
    })
}
