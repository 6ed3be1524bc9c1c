//! The mark of a test point: state by shape, share of the limit by how far the shape is filled.
//!
//! Within is a circle, over a triangle that points up, undecided a diamond, not tested an empty dashed square.

use maud::{Markup, html};

use super::State;
use super::canvas::number;
use crate::words::Words;

/// A mark of a radius around a point. `share` is the value as a part of the limit; the shape is filled from below, to its top at 1.
#[must_use]
pub fn mark(state: State, share: Option<f64>, (x, y): (f64, f64), radius: f64) -> Markup {
    let corners = corners(state, radius);
    let outline = path(&corners, (x, y));
    let filled = share.map(|share| below(&corners, radius * (1.0 - 2.0 * share.clamp(0.0, 1.0))));
    html! {
        g class={ "mark " (state.class()) } {
            path.outline d=(outline) {}
            @if let Some(filled) = filled.filter(|filled| filled.len() > 2) {
                path.fill d=(path(&filled, (x, y))) {}
            }
        }
    }
}

/// Corners of a shape around the origin, y downwards, reaching from −radius to radius.
fn corners(state: State, radius: f64) -> Vec<(f64, f64)> {
    match state {
        State::Within => (0..32)
            .map(|k| f64::from(k) * std::f64::consts::TAU / 32.0)
            .map(|angle| (radius * angle.cos(), radius * angle.sin()))
            .collect(),
        State::Over => vec![
            (0.0, -radius),
            (radius * 1.1, radius),
            (-radius * 1.1, radius),
        ],
        State::Undecided => vec![(0.0, -radius), (radius, 0.0), (0.0, radius), (-radius, 0.0)],
        State::NotTested => {
            let side = radius * 0.85;
            vec![(-side, -side), (side, -side), (side, side), (-side, side)]
        }
    }
}

/// The part of a convex shape that lies below a height.
fn below(corners: &[(f64, f64)], height: f64) -> Vec<(f64, f64)> {
    let mut kept = Vec::with_capacity(corners.len() + 2);
    for (index, corner) in corners.iter().enumerate() {
        let next = corners[(index + 1) % corners.len()];
        if corner.1 >= height {
            kept.push(*corner);
        }
        if (corner.1 < height) != (next.1 < height) {
            let share = (height - corner.1) / (next.1 - corner.1);
            kept.push((corner.0 + share * (next.0 - corner.0), height));
        }
    }
    kept
}

fn path(corners: &[(f64, f64)], (x, y): (f64, f64)) -> String {
    let mut text = String::from("M");
    for (dx, dy) in corners {
        text.push_str(&format!("{} {} ", number(x + dx), number(y + dy)));
    }
    text.push('Z');
    text
}

/// The four marks with their words, for the line under an elevation.
#[must_use]
pub fn key(words: &Words) -> Markup {
    let one = |state, share| {
        html! { span {
            svg viewBox="0 0 14 14" width="14" height="14" aria-hidden="true" { (mark(state, share, (7.0, 7.0), 5.5)) }
            " " (words.fact(&state))
        } }
    };
    html! {
        p.key {
            (one(State::Within, Some(0.6)))
            (one(State::Over, Some(1.0)))
            (one(State::Undecided, Some(0.9)))
            (one(State::NotTested, None))
            span { (words.say("report-key-filled")) }
        }
    }
}
