//! A long record → the few points that draw the same line.

use std::ops::Range;

/// The points of a record inside a window of time, thinned to what `columns` columns of a drawing can show: of each column its
/// first, lowest, highest and last point, in order of time. The ends of the window are interpolated.
///
/// # Quantities
/// `times` (s, increasing), `forces` (N) of one length; `window` in s; out: (s, N).
///
/// # Holds when
/// The greatest and the least force of the window are always kept exactly.
#[must_use]
pub fn thinned(
    times: &[f64],
    forces: &[f64],
    window: Range<f64>,
    columns: usize,
) -> Vec<(f64, f64)> {
    let count = times.len();
    let first = times.iter().take_while(|t| **t < window.start).count();
    let end = first
        + times
            .iter()
            .skip(first)
            .take_while(|t| **t <= window.end)
            .count();
    let at = |index: usize| (times[index], forces[index]);
    let mut points = Vec::with_capacity(4 * columns + 2);
    if first > 0 && first < count {
        points.push(between(at(first - 1), at(first), window.start));
    }
    let width = (window.end - window.start) / columns.max(1) as f64;
    let mut start = first;
    while start < end {
        let column = ((times[start] - window.start) / width).floor();
        let stop = (start..end)
            .find(|index| ((times[*index] - window.start) / width).floor() > column)
            .unwrap_or(end);
        points.extend(outline(start, stop, forces).map(at));
        start = stop;
    }
    if end > 0 && end < count {
        points.push(between(at(end - 1), at(end), window.end));
    }
    without_repeats(points)
}

/// Indices of the first, lowest, highest and last sample of a stretch, in order and without doubles.
fn outline(start: usize, stop: usize, forces: &[f64]) -> impl Iterator<Item = usize> {
    let by_force = |a: &usize, b: &usize| forces[*a].total_cmp(&forces[*b]);
    let lowest = (start..stop).min_by(by_force).unwrap_or(start);
    let highest = (start..stop).max_by(by_force).unwrap_or(start);
    let mut indices = vec![start, lowest, highest, stop - 1];
    indices.sort_unstable();
    indices.dedup();
    indices.into_iter()
}

/// The point of a straight line at an instant.
fn between(from: (f64, f64), to: (f64, f64), at: f64) -> (f64, f64) {
    let share = (at - from.0) / (to.0 - from.0);
    (at, from.1 + share * (to.1 - from.1))
}

/// Drops the inner points of level stretches.
fn without_repeats(points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let level = |a: f64, b: f64| a.total_cmp(&b).is_eq();
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len());
    for point in points {
        if let [.., before, last] = kept.as_mut_slice()
            && level(before.1, last.1)
            && level(last.1, point.1)
        {
            *last = point;
        } else {
            kept.push(point);
        }
    }
    kept
}
