//! The plot of a pull by hand: the force along the travel.

use std::fmt::Write;

use maud::{Markup, html};

use super::canvas::{number, sheet};
use super::elevation::{block, lettering, line};
use super::pull::PullSheet;
use crate::readiness::Along;
use crate::words::{Words, printed};

impl PullSheet<'_> {
    /// The force along the travel, with rating, steady force, break-away and the places where it binds.
    #[must_use]
    pub fn plot(&self, words: &Words) -> Markup {
        let frame = Frame::of(self);
        let pull = self.pull;
        let statement = format!("{} {}.", self.outcome(words), self.bind_heading(words));
        let across = |force: f64, class: &str| {
            line(
                class,
                (frame.x(frame.from), frame.y(force)),
                (frame.x(frame.to), frame.y(force)),
            )
        };
        let axis = match pull.along {
            Along::Position => words.say("pull-sheet-axis-travel"),
            Along::Time => words.say("pull-sheet-axis-time"),
        };
        let label = |id, force: f64| words.with(id, &[("force_n", printed(&short(force)))]);
        let at = (frame.x(pull.break_away_at), frame.y(pull.break_away.get()));
        let drawn = html! {
            @for one in &pull.binds {
                @let (left, right) = (frame.x(one.along.start) - 1.0, frame.x(one.along.end) + 1.0);
                (block("track", (left, TOP), (right - left, HIGH - BOTTOM - TOP)))
            }
            @for force in frame.ticks_up() {
                (across(force, "hair"))
                (lettering("soft", (LEFT - 6.0, frame.y(force) + 4.0), "end", &short(force)))
            }
            @for along in frame.ticks_across() {
                (lettering("soft", (frame.x(along), HIGH - BOTTOM + 16.0), "middle", &short(along)))
            }
            (across(0.0, "line"))
            (across(pull.steady.get(), "ghost"))
            (lettering("halo", (WIDE - RIGHT - 4.0, frame.y(pull.steady.get()) + 24.0), "end", &label("pull-sheet-label-steady", pull.steady.get())))
            @if let Some(rated) = &self.rating {
                (across(rated.force.get(), "thick"))
                (lettering("halo", (WIDE - RIGHT - 4.0, frame.y(rated.force.get()) - 4.0), "end", &label("pull-sheet-label-rating", rated.force.get())))
            }
            path.line d=(frame.path(&pull.curve)) {}
            circle.dot cx=(number(at.0)) cy=(number(at.1)) r="3.5" {}
            (lettering("halo", (at.0 + 7.0, at.1 + 4.0), "start", &label("pull-sheet-label-break-away", pull.break_away.get())))
            (lettering("soft", (LEFT, 14.0), "start", &words.say("pull-sheet-axis-force")))
            (lettering("soft", (WIDE - RIGHT, HIGH - 6.0), "end", &axis))
        };
        sheet(
            (WIDE, HIGH),
            &words.say("pull-sheet-plot"),
            &statement,
            &drawn,
        )
    }
}

const WIDE: f64 = 760.0;
const HIGH: f64 = 300.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 40.0;

/// From travel and force to the drawing.
struct Frame {
    from: f64,
    to: f64,
    low: f64,
    high: f64,
}

impl Frame {
    fn of(sheet: &PullSheet<'_>) -> Self {
        let curve = &sheet.pull.curve;
        let fold = |pick: fn(&(f64, f64)) -> f64| {
            curve.iter().map(pick).fold(
                (f64::INFINITY, f64::NEG_INFINITY),
                |(least, most), value| (least.min(value), most.max(value)),
            )
        };
        let ((from, to), (low, high)) = (fold(|it| it.0), fold(|it| it.1));
        let rated = sheet.rating.as_ref().map_or(0.0, |rated| rated.force.get());
        Self {
            from,
            to: to.max(from + f64::MIN_POSITIVE),
            low: low.min(0.0),
            high: high.max(rated) * 1.08,
        }
    }

    fn x(&self, along: f64) -> f64 {
        LEFT + (along - self.from) / (self.to - self.from) * (WIDE - LEFT - RIGHT)
    }

    fn y(&self, force: f64) -> f64 {
        let share = (force - self.low) / (self.high - self.low);
        HIGH - BOTTOM - share * (HIGH - BOTTOM - TOP)
    }

    fn ticks_up(&self) -> Vec<f64> {
        ticks(self.low, self.high)
    }

    fn ticks_across(&self) -> Vec<f64> {
        ticks(self.from, self.to)
    }

    /// The curve with at most the lowest and the highest point of every column of half a unit.
    fn path(&self, curve: &[(f64, f64)]) -> String {
        let column = |point: &(f64, f64)| (self.x(point.0) * 2.0).floor();
        let mut path = String::new();
        for run in curve.chunk_by(|a, b| column(a).total_cmp(&column(b)).is_eq()) {
            let by_force = |a: &&(f64, f64), b: &&(f64, f64)| a.1.total_cmp(&b.1);
            let (low, high) = (run.iter().min_by(by_force), run.iter().max_by(by_force));
            let mut points: Vec<&(f64, f64)> = [run.first(), low, high, run.last()]
                .into_iter()
                .flatten()
                .collect();
            points.dedup();
            for point in points {
                let start = if path.is_empty() { 'M' } else { 'L' };
                let (x, y) = (number(self.x(point.0)), number(self.y(point.1)));
                let _ = write!(path, "{start}{x} {y}");
            }
        }
        path
    }
}

/// Round values between two ends, some five of them.
fn ticks(from: f64, to: f64) -> Vec<f64> {
    let rough = (to - from) / 5.0;
    let unit = 10.0_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * unit)
        .find(|step| *step >= rough)
        .unwrap_or(rough);
    let first = (from / step).ceil();
    (0..12)
        .map(|k| (first + f64::from(k)) * step)
        .take_while(|value| *value <= to)
        .collect()
}

/// A number with two decimals at most.
pub(super) fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}
