//! Lone samples: far above their neighbours, faster than leaf and gauge can move.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::Limitation;
use crate::measure::{self, GaugeFacts, Kind, Measure, Response, Zeroed};
use crate::quantity::{Newton, Quantity};
use crate::trace::Trace;

/// Length of the shortest pulse that a leaf makes on a gauge (s): that of some 5 kg on 500 N/mm.
const SHORTEST_PULSE_S: f64 = 0.010;
/// Longest spike that is no pulse (s).
const LONGEST_SPIKE_S: f64 = 0.001;
/// How many times what the shortest pulse can rise and fall a spike must do.
const MARGIN: f64 = 1.5;
/// Excess that is no spike: in noises, and in steps of the log.
const NOISES: f64 = 8.0;
const STEPS: f64 = 3.0;
/// Share of a value within which two are the same.
const ROUNDING: f64 = 1e-9;

/// A sample of a spike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoneSample {
    /// Its index.
    pub index: usize,
    /// Its force (N).
    pub force_n: f64,
    /// What a straight line between the samples beside the spike has in its place (N).
    pub without_n: f64,
}

/// What a measure is without the lone samples of a record.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Without {
    /// Which.
    pub measure: Measure,
    /// Its value in its unit; none where nothing is measured without them.
    pub value: Option<f64>,
}

/// What is measured with other forces in the place of those of a record, and the measures that are then others.
pub(super) fn without(
    trace: &Trace,
    response: &Response,
    gauge: &GaugeFacts,
    forces: Vec<f64>,
) -> Option<(Response, Vec<Without>)> {
    let cleaned = trace.with_forces(forces).ok()?;
    let other = measure::measure(&cleaned, &response.method, gauge);
    let changed = |measure: Measure| {
        let with = response.value(measure).ok().map(Quantity::get)?;
        let value = other.value(measure).ok().map(Quantity::get);
        let same = value.is_some_and(|value| (value - with).abs() <= ROUNDING * with.abs());
        (!same).then_some(Without { measure, value })
    };
    let all = Measure::ALL.into_iter();
    let assessed = all.filter(|measure| measure.kind() != Kind::Reference);
    let without = assessed.filter_map(changed).collect();
    Some((other, without))
}

/// Lone samples change what is measured: the record is measured again with straight lines in their place.
#[must_use]
pub fn lone_sample(
    trace: &Trace,
    record: &Zeroed<'_>,
    response: &Response,
    gauge: &GaugeFacts,
) -> Option<Limitation> {
    let step = trace.resolution().map_or(0.0, Newton::get);
    let noise = response.zero.noise.map_or(0.0, Newton::get);
    let found = lone_samples(record.times(), record.forces(), noise, step);
    let highest = found
        .iter()
        .max_by(|a, b| a.force_n.total_cmp(&b.force_n))?;
    let mut forces = trace.forces().to_vec();
    for lone in &found {
        forces[lone.index] = lone.without_n + response.zero.subtracted.get();
    }
    let (other, without) = without(trace, response, gauge, forces)?;
    (!without.is_empty()).then(|| Limitation::LoneSample {
        samples: found.len(),
        at_s: record.times()[highest.index],
        force_n: highest.force_n,
        peak_without_n: other.peak.ok().map(|peak| peak.force.get()),
        without,
    })
}

/// The samples of a record that stand above those 1 ms before and after (at least one sample) by more than any leaf can make them.
///
/// A half-sine of the length T rises above its value a time δ beside its top by h (1 − cos(π δ / T)), h its height. Lone, if a sample stands
/// higher above both neighbours at ± δ than 1.5 times that, with T = 10 ms and h its height over the lowest force within T/2, and by 8
/// noises and 3 steps more. At less than some 400 samples a second no sample is too fast for a leaf, and none is found.
///
/// # Quantities
/// `times` (s), `forces` (N, zeroed or raw), `noise` (N) and `step` (N) of the log.
///
/// # Source
/// The half-sine is the pulse of a mass on a spring; T of 10 ms is π √(m/k) for 5 kg on 500 N/mm, less than the leaf of any gate.
///
/// # Example
/// ```
/// use relent::limitation::lone_samples;
/// let times: Vec<f64> = (0..400).map(|i| f64::from(i) / 1000.0).collect();
/// let hit = |t: &f64| 300.0 * (std::f64::consts::PI * (t - 0.1) / 0.03).sin() * f64::from((0.1..0.13).contains(t));
/// let mut forces: Vec<f64> = times.iter().map(hit).collect();
/// assert!(lone_samples(&times, &forces, 0.3, 0.1).is_empty());
/// forces[115] = 900.0;
/// let found = lone_samples(&times, &forces, 0.3, 0.1);
/// assert_eq!((found.len(), found[0].index, found[0].force_n), (1, 115, 900.0));
/// assert!((found[0].without_n - 298.36).abs() < 0.01);
/// ```
#[must_use]
pub fn lone_samples(times: &[f64], forces: &[f64], noise: f64, step: f64) -> Vec<LoneSample> {
    let count = forces.len();
    if count < 3 {
        return Vec::new();
    }
    let row = (times[count - 1] - times[0]) / (count - 1) as f64;
    let reach = ((LONGEST_SPIKE_S / row).round() as usize).max(1);
    let beside = (PI * reach as f64 * row / SHORTEST_PULSE_S).min(PI);
    let of_pulse = MARGIN * (1.0 - beside.cos());
    if of_pulse >= 1.0 {
        return Vec::new();
    }
    let least = NOISES * noise + STEPS * step;
    let around = (SHORTEST_PULSE_S / (2.0 * row)).ceil() as usize;
    let excess = |at: usize| {
        let before = forces[at.saturating_sub(reach)];
        let after = forces[(at + reach).min(count - 1)];
        (
            before,
            after,
            forces[at] - if before > after { before } else { after },
        )
    };
    // Nearly all samples are none: they are passed over in slices.
    let inner = reach.min(count)..count.saturating_sub(reach).max(reach.min(count));
    let sides = forces
        .iter()
        .zip(forces.get(2 * reach..).unwrap_or_default());
    let rising = |(at, (force, (before, after))): (usize, (&f64, (&f64, &f64)))| {
        let higher = if before > after { before } else { after };
        (force - higher > least).then_some(at + reach)
    };
    let of_inner = forces[inner.clone()].iter().zip(sides).enumerate();
    let candidates = (0..inner.start)
        .chain(of_inner.filter_map(rising))
        .chain(inner.end..count);
    let mut found = Vec::new();
    for at in candidates {
        let (before, after, excess) = excess(at);
        if excess <= least {
            continue;
        }
        let near = &forces[at.saturating_sub(around)..(at + around + 1).min(count)];
        let height = forces[at] - near.iter().copied().fold(f64::INFINITY, f64::min);
        if excess > of_pulse * height + least {
            found.push(LoneSample {
                index: at,
                force_n: forces[at],
                without_n: f64::midpoint(before, after),
            });
        }
    }
    found
}
