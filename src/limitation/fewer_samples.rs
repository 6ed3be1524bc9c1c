//! Fewer true samples than the log has rows: a sensor that holds its last value, or a logger that draws straight lines between values.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use super::{Limitation, Tolerances};
use crate::measure::{Peak, Response, Zeroed};
use crate::quantity::{Newton, Second};
use crate::trace::Trace;

/// Fewest marks from which a pattern is known, and the same where few rows lie between them.
const LEAST_MARKS: usize = 6;
const LEAST_MARKS_OF_FEW_ROWS: usize = 12;
const FEW_ROWS: f64 = 4.0;
/// Share of the marks that must stand alone, and of their distances that must be multiples of one.
const ALONE: f64 = 0.8;
const REGULAR: f64 = 0.8;
/// Greatest marks, which must stand alone like the others: they are those of the hit.
const GREATEST: usize = 12;
/// Rows that a distance may be off a multiple.
const OFF: f64 = 0.6;
/// Distances that say nothing of the pattern: in times of the usual one.
const FAR: usize = 20;
/// A neighbour is still up to this share of the mark.
const STILL: f64 = 0.15;
/// Changes, in steps of the log, that are a mark, and that are still. The difference of two rounded values is off by less than one step.
const CHANGE_STEPS: f64 = 1.5;
const STILL_STEPS: f64 = 0.5;
/// The same in times of the usual change, where the rows have noise of their own.
const CHANGE_NOISES: f64 = 5.0;
const STILL_NOISES: f64 = 2.5;
/// Kinks that are a mark, and that are still: rounding bends a straight line by less than two steps.
const KINK_STEPS: f64 = 4.5;
const STRAIGHT_STEPS: f64 = 1.5;
/// Changes, spread over the record, of which the usual one is taken.
const SOME: usize = 511;

/// How the rows between the true samples were filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Filling {
    /// With the last value.
    Held,
    /// With straight lines.
    Interpolated,
}

/// Fewer true samples than rows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FewerSamples {
    /// How the others were filled.
    pub filling: Filling,
    /// Rows of the log for each true sample.
    pub rows: f64,
}

/// Whether the forces of a log are held or interpolated between fewer true samples, at least two rows apart.
///
/// A held record changes in single rows, with none before and after; one of straight lines bends in single rows. Forces that were
/// sampled change and bend in neighbouring rows, in the flanks of the hit as in the noise. Held or interpolated if four fifths of all
/// marked changes (or bends) stand alone, the greatest too, at multiples of one distance.
///
/// # Quantities
/// `forces` (N) of evenly spaced rows; `step` of the log (N).
///
/// # Holds when
/// the forces move by several steps between true samples. Straight lines whose kinks are below 4.5 steps are not seen; there the
/// lines differ from the true force by less than their number of rows times 0.6 steps.
///
/// # Source
/// This project's own; `reports/detectors.md` counts.
///
/// # Example
/// ```
/// use relent::limitation::{FewerSamples, Filling, fewer_samples};
/// let sampled = |i: i32| (400.0 * f64::from(i) / 60.0).sin().abs() * 300.0;
/// let held: Vec<f64> = (0..600).map(|i| sampled(i / 5 * 5).round()).collect();
/// let found = fewer_samples(&held, 1.0).unwrap();
/// assert_eq!(found, FewerSamples { filling: Filling::Held, rows: 5.0 });
/// let each: Vec<f64> = (0..600).map(|i| sampled(i).round()).collect();
/// assert_eq!(fewer_samples(&each, 1.0), None);
/// ```
#[must_use]
pub fn fewer_samples(forces: &[f64], step: f64) -> Option<FewerSamples> {
    let differences = |values: &[f64]| -> Vec<f64> {
        let pairs = values.windows(2);
        pairs.map(|pair| pair[1] - pair[0]).collect()
    };
    let changes = differences(forces);
    let usual = usual(&changes);
    let of_held = Sizes {
        mark: (CHANGE_STEPS * step).max(CHANGE_NOISES * usual),
        still: STILL_STEPS * step + STILL_NOISES * usual,
    };
    if let Some(rows) = marks_alone(&changes, &of_held) {
        let filling = Filling::Held;
        return Some(FewerSamples { filling, rows });
    }
    let of_lines = Sizes {
        mark: KINK_STEPS * step,
        still: STRAIGHT_STEPS * step,
    };
    let rows = marks_alone(&differences(&changes), &of_lines)?;
    let filling = Filling::Interpolated;
    Some(FewerSamples { filling, rows })
}

/// The log holds fewer true samples than rows, and the true ones may have missed more of the top than the profile tolerates.
#[must_use]
pub fn fewer_true_samples(
    trace: &Trace,
    record: &Zeroed<'_>,
    response: &Response,
    tolerances: &Tolerances,
) -> Option<Limitation> {
    let peak = response.peak.as_ref().ok()?;
    let found = fewer_samples(record.forces(), trace.resolution().map(Newton::get)?)?;
    let (peak_n, unseen_n) = (peak.force.get(), unseen(record.forces(), peak, found.rows));
    let bears = unseen_n > tolerances.sampling_tolerance_share * peak_n;
    let row_s = trace.median_step().map(Second::get)?;
    bears.then_some(Limitation::FewerSamples {
        filling: found.filling,
        rows: found.rows,
        true_rate_hz: 1.0 / (found.rows * row_s),
        peak_n,
        unseen_n,
    })
}

/// What true samples so many rows apart may have missed of the top (N): by the parabola through the highest and its true neighbours, or by
/// the half-sine, F_d (1/cos φ − 1), of which φ grows with the distance; whichever says more.
fn unseen(forces: &[f64], peak: &Peak, rows: f64) -> f64 {
    let (top, apart) = (peak.index, rows.round() as usize);
    let beside = |at: Option<usize>| at.and_then(|at| forces.get(at)).copied();
    let before = beside(top.checked_sub(apart));
    let parabola = match (before, beside(top.checked_add(apart))) {
        (Some(before), Some(after)) => (before - 2.0 * forces[top] + after).abs() / 8.0,
        _ => 0.0,
    };
    let force = peak.force.get();
    let of_a_row = (force / (force + peak.unseen_half_sine.get())).acos();
    let phase = (rows * of_a_row).min(PI / 3.0);
    parabola.max(force * (1.0 / phase.cos() - 1.0))
}

/// How large a mark is at least, and how large a still neighbour at most, in newtons.
struct Sizes {
    mark: f64,
    still: f64,
}

/// A change that more than a third of all rows stay below.
fn usual(changes: &[f64]) -> f64 {
    let many = changes.len().min(SOME);
    let spread = (0..many).map(|nth| changes[nth * changes.len() / many].abs());
    let mut some: Vec<f64> = spread.collect();
    if some.is_empty() {
        return 0.0;
    }
    *some.select_nth_unstable_by(many * 2 / 5, f64::total_cmp).1
}

/// Rows from mark to mark, if nearly all stand alone.
fn marks_alone(values: &[f64], sizes: &Sizes) -> Option<f64> {
    let (mut marks, mut alone) = (Vec::new(), Vec::new());
    // With more than these among others, whatever follows, too few of the marks stand alone.
    let most_crowded = (1.0 - ALONE) * values.len() as f64;
    for (at, around) in values.windows(3).enumerate() {
        let size = around[1].abs();
        if size < sizes.mark {
            continue;
        }
        let still = STILL * size + sizes.still;
        let stands_alone = around[0].abs() <= still && around[2].abs() <= still;
        marks.push((size, stands_alone));
        if stands_alone {
            alone.push(at);
        } else if (marks.len() - alone.len()) as f64 > most_crowded {
            return None;
        }
    }
    let marks_alone = |marks: &[(f64, bool)]| {
        let alone = marks.iter().filter(|(_, alone)| *alone).count();
        alone as f64 >= ALONE * marks.len() as f64
    };
    if marks.len() < LEAST_MARKS || !marks_alone(&marks) {
        return None;
    }
    // A pattern of the noise alone is none of the sensor: the hit must have it too.
    let greatest = GREATEST.min(marks.len() - 1);
    marks.select_nth_unstable_by(greatest, |a, b| b.0.total_cmp(&a.0));
    if !marks_alone(&marks[..greatest]) {
        return None;
    }
    let gaps: Vec<usize> = alone.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let rows = regular(&gaps)?;
    (rows >= FEW_ROWS || marks.len() >= LEAST_MARKS_OF_FEW_ROWS).then_some(rows)
}

/// The distance of which nearly all are multiples.
fn regular(gaps: &[usize]) -> Option<f64> {
    let mut sorted = gaps.to_vec();
    sorted.sort_unstable();
    let usual = *sorted.get(sorted.len() / 10)?;
    let near = sorted.partition_point(|gap| *gap <= usual + 1);
    let rows = sorted[..near].iter().sum::<usize>() as f64 / near as f64;
    let fits = |gap: &&usize| {
        let times = **gap as f64 / rows;
        **gap > FAR * usual || (times - times.round()).abs() * rows <= OFF
    };
    let fitting = gaps.iter().filter(fits).count();
    (fitting as f64 >= REGULAR * gaps.len() as f64).then_some(rows)
}
