//! Differences under one another on one axis, each with its interval, beside zero and the margin.

use maud::{Markup, html};

use super::words::{numbers, scale};
use crate::compare::{Claim, Effect, Margin, NoAnswer};
use crate::measure::Measure;
use crate::report::canvas::{number, sheet};
use crate::report::elevation::{block, lettering, line};
use crate::words::Words;

/// A row: its name and its effect, or why there is none.
pub(super) struct Row<'a> {
    pub(super) name: String,
    pub(super) effect: Result<&'a Effect, &'a NoAnswer>,
    pub(super) strong: Strength,
}

/// Whether a row sums up the others.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Strength {
    Plain,
    Strong,
}

const LEFT: f64 = 250.0;
const RIGHT: f64 = 545.0;
const WIDE: f64 = 720.0;
const STEP: f64 = 21.0;
const TOP: f64 = 26.0;

pub(super) fn forest(
    words: &Words,
    title: &str,
    measure: Measure,
    margin: Option<Margin>,
    rows: &[Row<'_>],
) -> Markup {
    let (factor, unit) = scale(measure);
    let reach = reach(rows, margin) * factor;
    let x = |value: f64| LEFT + (value / reach + 1.0) / 2.0 * (RIGHT - LEFT);
    let bottom = TOP + STEP * rows.len() as f64 + 6.0;
    let ticks = ticks(reach, 2.5);
    let drawn = html! {
        @if let Some(margin) = margin {
            @let at = x(margin.get() * factor);
            (block("beyond", (at, TOP - 6.0), (RIGHT - at, bottom - TOP + 6.0)))
            (line("ghost", (at, TOP - 6.0), (at, bottom)))
            (line("ghost", (x(-margin.get() * factor), TOP - 6.0), (x(-margin.get() * factor), bottom)))
            (lettering("soft", (at + 3.0, TOP - 10.0), "start", &words.say("comparison-worse-by-the-margin")))
        }
        (line("line", (x(0.0), TOP - 6.0), (x(0.0), bottom)))
        (line("thin", (LEFT, bottom), (RIGHT, bottom)))
        @for tick in ticks {
            (line("thin", (x(tick), bottom), (x(tick), bottom + 4.0)))
            (lettering("soft", (x(tick), bottom + 16.0), "middle", &number(tick)))
        }
        (lettering("soft", ((LEFT + RIGHT) / 2.0, bottom + 31.0), "middle", &words.with("comparison-axis-difference", &[("unit", unit.into())])))
        @for (place, row) in rows.iter().enumerate() {
            @let y = TOP + STEP * (place as f64 + 0.5);
            (row_drawn(words, row, measure, y, &|value| x(value * factor)))
        }
    };
    let said: Vec<String> = rows
        .iter()
        .map(|row| match row.effect {
            Ok(effect) => format!("{}: {} {unit}", row.name, numbers(words, effect, measure)),
            Err(_) => format!("{}: {}", row.name, words.say("comparison-not-compared")),
        })
        .collect();
    sheet((WIDE, bottom + 38.0), title, &said.join("; "), &drawn)
}

fn row_drawn(
    words: &Words,
    row: &Row<'_>,
    measure: Measure,
    y: f64,
    x: &dyn Fn(f64) -> f64,
) -> Markup {
    let class = if row.strong == Strength::Strong {
        "strong"
    } else {
        ""
    };
    html! {
        (lettering(class, (LEFT - 12.0, y + 4.0), "end", &row.name))
        @match row.effect {
            Ok(effect) => {
                @let interval = effect.interval;
                @let worse = if effect.claim() == Some(Claim::WorseBeyond) { " worse" } else { "" };
                (line(&format!("whisker{worse}"), (x(interval.lower), y), (x(interval.upper), y)))
                (line(&format!("whisker{worse}"), (x(interval.lower), y - 3.0), (x(interval.lower), y + 3.0)))
                (line(&format!("whisker{worse}"), (x(interval.upper), y - 3.0), (x(interval.upper), y + 3.0)))
                @if row.strong == Strength::Strong {
                    @let at = x(effect.estimate.value());
                    path class={ "dot" (worse) } d=(format!("M{} {}l6 6l-6 6l-6 -6z", number(at), number(y - 6.0))) {}
                } @else {
                    circle class={ "dot" (worse) } cx=(number(x(effect.estimate.value()))) cy=(number(y)) r="3.6" {}
                }
                (lettering(class, (RIGHT + 12.0, y + 4.0), "start", &numbers(words, effect, measure)))
            }
            Err(_) => { (lettering("soft", (RIGHT + 12.0, y + 4.0), "start", &words.say("comparison-not-compared"))) }
        }
    }
}

/// Half the width of the axis, in the unit of the measure: everything fits.
fn reach(rows: &[Row<'_>], margin: Option<Margin>) -> f64 {
    let ends = rows
        .iter()
        .filter_map(|row| row.effect.ok())
        .flat_map(|effect| [effect.interval.lower.abs(), effect.interval.upper.abs()]);
    let widest = ends.filter(|end| end.is_finite()).fold(0.0, f64::max);
    let most = margin.map_or(widest, |margin| widest.max(margin.get() * 1.15));
    if most > 0.0 { most * 1.06 } else { 1.0 }
}

/// Round numbers as far as `reach` on either side of zero, at most `wanted` on each.
pub(super) fn ticks(reach: f64, wanted: f64) -> Vec<f64> {
    let rough = reach / wanted;
    let power = 10_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|it| it * power)
        .find(|step| *step >= rough)
        .unwrap_or(rough);
    let most = (reach / step).floor() as i32;
    (-most..=most)
        .map(|count| f64::from(count) * step)
        .collect()
}
