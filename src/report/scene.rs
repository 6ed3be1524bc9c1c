//! The points of one direction and part → its elevation and its grid of small pictures.

use std::borrow::Cow;

use super::State;
use super::elevation::{Elevation, Point};
use super::hit::Hits;
use super::multiples::{Cell, Grid};
use super::place::{Place, upright, view};
use super::sentence::counts;
use crate::limits::{Direction, Hazard, Motion};
use crate::quantity::Millimetre;
use crate::visit::Assessment;
use crate::words::Words;

/// The elevation of a view, and what keeps the whole opening from being drawn.
pub(super) fn elevation<'w>(
    words: &'w Words,
    assessment: &Assessment,
    (direction, hazard): (Direction, Hazard),
    points: &[&Place<'_>],
) -> (Elevation, Option<Cow<'w, str>>) {
    let gate = &assessment.gate.gate;
    let opening = gate.clear_opening.or(gate.leaf_width).map(Millimetre::get);
    let height = gate.leaf_height.map(Millimetre::get);
    let unknown = match (opening, height) {
        (None, _) => Some(words.say("report-no-opening")),
        (_, None) => Some(words.say("report-no-height")),
        _ => None,
    };
    let highest = points
        .iter()
        .fold(1000.0_f64, |most, place| most.max(place.point.height_mm));
    let elevation = Elevation {
        title: view(words, direction, hazard),
        statement: statement(words, points),
        motion: gate.motion,
        direction,
        opening_mm: opening.unwrap_or(highest + 300.0),
        height_mm: height.unwrap_or(highest + 300.0),
        clearance_mm: gate.ground_clearance.map_or(0.0, Millimetre::get),
        points: points
            .iter()
            .map(|place| Point {
                gap_mm: place.point.gap_mm,
                height_mm: place.point.height_mm,
                state: place.state(),
                share: place.share(),
                number: place.number(words),
            })
            .collect(),
    };
    (elevation, unknown)
}

/// What a view shows, in words: how many points stand how, and every one that is not within.
pub(super) fn statement(words: &Words, points: &[&Place<'_>]) -> String {
    let mut lines = vec![counts(words, points.iter().map(|place| place.state()))];
    for place in points {
        let state = place.state();
        if state == State::Within {
            continue;
        }
        let mut variables = vec![
            ("gap_mm", place.point.gap_mm.into()),
            ("place_mm", place.point.height_mm.into()),
            ("state", words.fact(&state).into()),
        ];
        let number = place.number(words);
        lines.push(if number.is_empty() {
            words.with("report-point-state", &variables)
        } else {
            variables.push(("value", number.into()));
            words.with("report-point-value", &variables)
        });
    }
    lines.join(" ")
}

/// The grid of a view: gaps and places lie as in its elevation.
pub(super) fn grid(
    words: &Words,
    motion: Motion,
    (direction, hazard): (Direction, Hazard),
    points: &[(&Place<'_>, Option<Hits>)],
) -> Grid {
    let mut gaps = distinct(points.iter().map(|(place, _)| place.point.gap_mm));
    let mut heights = distinct(points.iter().map(|(place, _)| place.point.height_mm));
    let find = |all: &[f64], one: f64| {
        all.iter()
            .position(|value| value.total_cmp(&one).is_eq())
            .unwrap_or(0)
    };
    if upright(motion) {
        gaps.reverse();
    } else {
        heights.reverse();
        if !(motion == Motion::Sliding && direction == Direction::Opening) {
            gaps.reverse();
        }
    }
    let gap_words = gaps
        .iter()
        .map(|gap| words.with("report-gap", &[("gap_mm", (*gap).into())]))
        .collect();
    let height_words = heights
        .iter()
        .map(|height| format!("{height} mm"))
        .collect();
    let (columns, rows) = if upright(motion) {
        (height_words, gap_words)
    } else {
        (gap_words, height_words)
    };
    let cells = points
        .iter()
        .map(|(place, hits)| {
            let (gap, height) = (
                find(&gaps, place.point.gap_mm),
                find(&heights, place.point.height_mm),
            );
            let (column, row) = if upright(motion) {
                (height, gap)
            } else {
                (gap, height)
            };
            Cell {
                column,
                row,
                state: place.state(),
                share: place.share(),
                number: place.number(words),
                hits: hits.clone(),
            }
        })
        .collect();
    let places: Vec<&Place<'_>> = points.iter().map(|(place, _)| *place).collect();
    Grid {
        title: words.with(
            "report-grid",
            &[("view", view(words, direction, hazard).into())],
        ),
        statement: statement(words, &places),
        columns,
        rows,
        cells,
    }
}

fn distinct(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| a.total_cmp(b).is_eq());
    values
}
