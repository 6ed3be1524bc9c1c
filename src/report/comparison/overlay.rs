//! The curves of two series at one test point: median and range of each, and the difference of the medians below.

use maud::{Markup, html};

use super::forest::ticks;
use crate::compare::{Series, median};
use crate::limits::TestPoint;
use crate::report::canvas::{number, sheet};
use crate::report::elevation::{lettering, line};
use crate::words::Words;

const WIDE: f64 = 720.0;
const LEFT: f64 = 46.0;
const RIGHT: f64 = 708.0;
const UPPER: (f64, f64) = (20.0, 210.0);
const LOWER: (f64, f64) = (236.0, 300.0);
/// Instants at which the curves are read.
const COLUMNS: usize = 330;

/// Median, least and greatest force at an instant.
struct Column {
    middle: f64,
    least: f64,
    most: f64,
}

/// Draws a test point; `None` where a series has no hit with a contact there.
pub(super) fn overlay(
    words: &Words,
    before: &Series,
    after: &Series,
    point: &TestPoint,
) -> Option<Markup> {
    let (old, new) = (curves(before, point), curves(after, point));
    let end = old
        .iter()
        .chain(&new)
        .map(|curve| curve.end)
        .fold(0.0, f64::max)
        * 1.08;
    let start = -0.04 * end;
    let instants: Vec<f64> = (0..=COLUMNS)
        .map(|at| start + (end - start) * at as f64 / COLUMNS as f64)
        .collect();
    let (x_old, x_new) = (columns(&old, &instants)?, columns(&new, &instants)?);
    let top = x_old
        .iter()
        .chain(&x_new)
        .map(|it| it.most)
        .fold(1.0, f64::max)
        * 1.06;
    let gaps: Vec<f64> = x_old
        .iter()
        .zip(&x_new)
        .map(|(a, b)| b.middle - a.middle)
        .collect();
    let reach = gaps.iter().map(|gap| gap.abs()).fold(1.0, f64::max) * 1.1;
    let x = |t: f64| LEFT + (t - start) / (end - start) * (RIGHT - LEFT);
    let y = |force: f64| UPPER.1 - force / top * (UPPER.1 - UPPER.0);
    let z = |gap: f64| (LOWER.0 + LOWER.1) / 2.0 - gap / reach * (LOWER.1 - LOWER.0) / 2.0;
    let path = |of: &dyn Fn(usize) -> f64| trail(&instants, &x, of);
    let legend = |id, series: &Series, hits: usize| {
        let series = ("series", series.name.as_str().into());
        words.with(id, &[series, ("hits", hits.into())])
    };
    let drawn = html! {
        @for force in ticks(top, 4.0).into_iter().filter(|it| *it >= 0.0) {
            (line("hair", (LEFT, y(force)), (RIGHT, y(force))))
            (lettering("soft", (LEFT - 6.0, y(force) + 4.0), "end", &number(force)))
        }
        path.spread d=(area(&instants, &x, &|i| y(x_old[i].most), &|i| y(x_old[i].least))) {}
        path.edge d=(path(&|i| y(x_new[i].most))) {}
        path.edge d=(path(&|i| y(x_new[i].least))) {}
        path.before d=(path(&|i| y(x_old[i].middle))) {}
        path.after d=(path(&|i| y(x_new[i].middle))) {}
        (lettering("soft", (LEFT - 34.0, 11.0), "start", "N"))
        (lettering("soft", (LEFT - 34.0, LOWER.0 - 10.0), "start", &words.say("comparison-axis-medians")))
        @for gap in [-reach / 1.1, 0.0, reach / 1.1] {
            (line("hair", (LEFT, z(gap)), (RIGHT, z(gap))))
            (lettering("soft", (LEFT - 6.0, z(gap) + 4.0), "end", &format!("{gap:.0}")))
        }
        path.after d=(path(&|i| z(gaps[i]))) {}
        @for t in ticks(end * 1000.0, 8.0).into_iter().filter(|it| *it >= 0.0) {
            (line("thin", (x(t / 1000.0), LOWER.1 + 4.0), (x(t / 1000.0), LOWER.1 + 8.0)))
            (lettering("soft", (x(t / 1000.0), LOWER.1 + 20.0), "middle", &number(t)))
        }
        (lettering("soft", (RIGHT, LOWER.1 + 34.0), "end", &words.say("comparison-axis-time")))
        (line("before", (LEFT, LOWER.1 + 31.0), (LEFT + 26.0, LOWER.1 + 31.0)))
        (lettering("soft", (LEFT + 32.0, LOWER.1 + 35.0), "start", &legend("comparison-legend-before", before, old.len())))
        (line("after", (LEFT + 310.0, LOWER.1 + 31.0), (LEFT + 336.0, LOWER.1 + 31.0)))
        (lettering("soft", (LEFT + 342.0, LOWER.1 + 35.0), "start", &legend("comparison-legend-after", after, new.len())))
    };
    let greatest = |columns: &[Column]| columns.iter().map(|it| it.middle).fold(0.0, f64::max);
    let said = [
        ("before", before.name.as_str().into()),
        ("after", after.name.as_str().into()),
        ("before_n", greatest(&x_old).into()),
        ("after_n", greatest(&x_new).into()),
    ];
    let point = [("test_point", words.fact(point).into())];
    Some(sheet(
        (WIDE, LOWER.1 + 42.0),
        &words.with("comparison-curves-of", &point),
        &words.with("comparison-curves-statement", &said),
        &drawn,
    ))
}

/// A record from contact on, zero taken off.
struct Curve<'a> {
    times: &'a [f64],
    forces: &'a [f64],
    contact: f64,
    zero: f64,
    /// When the leaf let go, or half a second.
    end: f64,
}

fn curves<'a>(series: &'a Series, point: &TestPoint) -> Vec<Curve<'a>> {
    let hits = series
        .assessment
        .hits
        .iter()
        .filter(|hit| hit.point == *point);
    hits.filter_map(|hit| {
        let measured = hit.measurement.as_ref().ok()?;
        let response = &measured.response;
        Some(Curve {
            times: measured.trace.times().to_slice()?,
            forces: measured.trace.forces().to_slice()?,
            contact: response.contact.as_ref().ok()?.get(),
            zero: response.zero.subtracted.get(),
            end: response
                .release
                .as_ref()
                .map_or(0.5, |release| release.get()),
        })
    })
    .collect()
}

impl Curve<'_> {
    /// The force at an instant after contact, on the straight line between two samples; `None` outside the record.
    fn at(&self, instant: f64) -> Option<f64> {
        let t = instant + self.contact;
        let next = self.times.partition_point(|time| *time < t);
        let before = next.checked_sub(1)?;
        let (from, to) = (*self.times.get(before)?, *self.times.get(next)?);
        let share = (t - from) / (to - from);
        Some(self.forces[before] + share * (self.forces[next] - self.forces[before]) - self.zero)
    }
}

fn columns(curves: &[Curve<'_>], instants: &[f64]) -> Option<Vec<Column>> {
    let column = |instant: &f64| {
        let forces: Vec<f64> = curves
            .iter()
            .filter_map(|curve| curve.at(*instant))
            .collect();
        Some(Column {
            middle: median(&forces).ok()?,
            least: forces.iter().copied().fold(f64::INFINITY, f64::min),
            most: forces.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        })
    };
    instants.iter().map(column).collect()
}

fn trail(instants: &[f64], x: &dyn Fn(f64) -> f64, y: &dyn Fn(usize) -> f64) -> String {
    let mut path = String::new();
    for (i, t) in instants.iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        path += &format!("{letter}{} {}", number(x(*t)), number(y(i)));
    }
    path
}

fn area(
    instants: &[f64],
    x: &dyn Fn(f64) -> f64,
    upper: &dyn Fn(usize) -> f64,
    lower: &dyn Fn(usize) -> f64,
) -> String {
    let mut path = trail(instants, x, upper);
    for (i, t) in instants.iter().enumerate().rev() {
        path += &format!("L{} {}", number(x(*t)), number(lower(i)));
    }
    path + "z"
}
