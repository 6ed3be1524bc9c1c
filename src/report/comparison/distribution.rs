//! The share of hits at or under each value, before and after.

use maud::{Markup, html};

use super::words::scale;
use crate::compare::{Ecdf, MeasureStudy, Sample, StatisticsError};
use crate::report::canvas::{number, sheet};
use crate::report::elevation::{lettering, line};
use crate::words::{Words, printed};

const WIDE: f64 = 340.0;
const HIGH: f64 = 190.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 330.0;
const TOP: f64 = 22.0;
const BOTTOM: f64 = 150.0;

/// Draws both distributions of a measure over its test points; `None` where a side has no value.
pub(super) fn distribution(
    words: &Words,
    study: &MeasureStudy,
    (before, after): (&str, &str),
) -> Option<Markup> {
    let (factor, unit) = scale(study.measure);
    let values = |side: fn(&crate::compare::PointStudy) -> &Sample| -> Vec<f64> {
        let all = study.points.iter().flat_map(|it| side(it).values());
        all.map(|value| value * factor).collect()
    };
    let (old, new) = (values(|it| &it.before), values(|it| &it.after));
    let all = old.iter().chain(&new);
    let (least, most) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), value| {
        (a.min(*value), b.max(*value))
    });
    let room = ((most - least) * 0.05).max(1e-9);
    let span = (least - room, most + room);
    let x = move |value: f64| LEFT + (value - span.0) / (span.1 - span.0) * (RIGHT - LEFT);
    let (first, second) = (steps(&old, &x).ok()?, steps(&new, &x).ok()?);
    let axis = [
        ("measure", words.fact(&study.measure).into()),
        ("unit", unit.into()),
    ];
    let drawn = html! {
        (lettering("strong", (LEFT, 12.0), "start", &words.with("comparison-axis", &axis)))
        @for share in [0.0, 0.5, 1.0] {
            @let y = height(share);
            (line("hair", (LEFT, y), (RIGHT, y)))
            (lettering("soft", (LEFT - 6.0, y + 4.0), "end", &words.with("comparison-share", &[("percent", (share * 100.0).into())])))
        }
        @for share in [0.05, 0.5, 0.95] {
            @let value = span.0 + share * (span.1 - span.0);
            (line("thin", (x(value), BOTTOM), (x(value), BOTTOM + 4.0)))
            (lettering("soft", (x(value), BOTTOM + 16.0), "middle", &number(value)))
        }
        path.before d=(first) {}
        path.after d=(second) {}
        (line("before", (LEFT, HIGH - 10.0), (LEFT + 24.0, HIGH - 10.0)))
        (lettering("soft", (LEFT + 30.0, HIGH - 6.0), "start", before))
        (line("after", (LEFT + 150.0, HIGH - 10.0), (LEFT + 174.0, HIGH - 10.0)))
        (lettering("soft", (LEFT + 180.0, HIGH - 6.0), "start", after))
    };
    let title = words.with("comparison-distribution", &axis);
    let said = [
        ("before", before.into()),
        ("after", after.into()),
        ("before_hits", old.len().into()),
        ("after_hits", new.len().into()),
        ("least", printed(&number(least))),
        ("most", printed(&number(most))),
        ("unit", unit.into()),
    ];
    let said = words.with("comparison-distribution-statement", &said);
    Some(sheet((WIDE, HIGH), &title, &said, &drawn))
}

fn height(share: f64) -> f64 {
    BOTTOM - share * (BOTTOM - TOP)
}

fn steps(values: &[f64], x: &dyn Fn(f64) -> f64) -> Result<String, StatisticsError> {
    let shares = Ecdf::new(values)?;
    let mut path = format!("M{} {}", number(LEFT), number(BOTTOM));
    for (value, share) in shares.steps() {
        path += &format!("H{}V{}", number(x(*value)), number(height(*share)));
    }
    path += &format!("H{}", number(RIGHT));
    Ok(path)
}
