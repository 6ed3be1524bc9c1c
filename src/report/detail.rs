//! The enlarged zone of an elevation: gaps and heights with their dimensions, a mark and a number at each test point.

use maud::{Markup, html};

use super::State;
use super::canvas::{number, sheet};
use super::elevation::{Elevation, Point, block, dimension, lettering, line};
use super::label::{spread, width};
use super::mark::mark;
use crate::limits::{Direction, Motion};
use crate::words::Words;

const RADIUS: f64 = 9.0;
const SIZE: f64 = 12.0;
const ROW: f64 = 30.0;

/// The zone in front of the edge, enlarged: gaps at one scale, heights at another, both said below it.
#[must_use]
pub fn detail(words: &Words, elevation: &Elevation) -> Markup {
    let plan = Plan::of(words, elevation);
    let drawn = html! {
        (plan.frame())
        (plan.gaps())
        (plan.places())
        @for point in &elevation.points { (plan.point(point)) }
        (lettering("soft", (plan.wide - 6.0, plan.high - 6.0), "end", &plan.scales()))
    };
    let title = words.with(
        "report-detail",
        &[("view", elevation.title.as_str().into())],
    );
    sheet((plan.wide, plan.high), &title, &elevation.statement, &drawn)
}

/// What stands beside a mark.
fn figure(words: &Words, point: &Point) -> String {
    if point.number.is_empty() {
        words.fact(&State::NotTested)
    } else {
        point.number.clone()
    }
}

/// One direction of the detail: the distinct values in mm, where they truly lie and where there is room for them.
struct Axis {
    values: Vec<f64>,
    places: Vec<f64>,
    scale: f64,
}

impl Axis {
    /// Distinct values of the points along one direction, apart by at least `pitch`.
    fn of(values: impl Iterator<Item = f64>, scale: f64, pitch: f64, least: f64) -> Self {
        let mut values: Vec<f64> = values.collect();
        values.sort_by(f64::total_cmp);
        values.dedup_by(|a, b| a.total_cmp(b).is_eq());
        let wished: Vec<f64> = values.iter().map(|mm| mm * scale).collect();
        let places = spread(&wished, pitch, least, f64::INFINITY);
        Self {
            values,
            places,
            scale,
        }
    }

    fn roomy(&self, mm: f64) -> f64 {
        let found = self
            .values
            .iter()
            .position(|value| value.total_cmp(&mm).is_eq());
        found.map_or(mm * self.scale, |index| self.places[index])
    }

    fn length(&self) -> f64 {
        self.places.last().copied().unwrap_or(0.0)
    }
}

/// Distances of the detail: `gaps` from the counter edge, `places` from the ground or from the left side.
struct Plan<'a> {
    words: &'a Words,
    elevation: &'a Elevation,
    gaps: Axis,
    places: Axis,
    /// Where gap 0 lies.
    counter: f64,
    /// Where height or place 0 lies.
    origin: f64,
    wide: f64,
    high: f64,
}

impl<'a> Plan<'a> {
    fn of(words: &'a Words, elevation: &'a Elevation) -> Self {
        let gaps = elevation.points.iter().map(|point| point.gap_mm);
        let places = elevation.points.iter().map(|point| point.height_mm);
        let widest = elevation.widest_gap();
        let longest = elevation
            .points
            .iter()
            .map(|p| 1.1 * width(&figure(words, p), SIZE))
            .fold(36.0, f64::max);
        if elevation.gap_is_upright() {
            let pitch = longest + 2.0 * RADIUS + 16.0;
            let gaps = Axis::of(gaps, 210.0 / widest, ROW, RADIUS + 4.0);
            let places = Axis::of(places, 330.0 / elevation.opening_mm.max(1.0), pitch, 0.0);
            let high = gaps.length() + 100.0;
            let right = places.length().max(330.0) + RADIUS + longest + 16.0;
            Self {
                words,
                elevation,
                gaps,
                places,
                counter: high - 62.0,
                origin: 76.0,
                wide: 76.0 + right,
                high,
            }
        } else {
            let pitch = longest + 2.0 * RADIUS + 14.0;
            let gaps = Axis::of(gaps, (pitch / 200.0).min(300.0 / widest), pitch, 16.0);
            let places = Axis::of(
                places,
                240.0 / elevation.height_mm.max(1.0),
                ROW,
                RADIUS + 4.0,
            );
            let counter = 64.0 + longest + 2.0 * RADIUS + gaps.length();
            let origin = places.length().max(240.0) + 26.0;
            let below = 26.0 + 18.0 * gaps.values.len() as f64;
            Self {
                words,
                elevation,
                gaps,
                places,
                counter,
                origin,
                wide: counter + 46.0,
                high: origin + below + 20.0,
            }
        }
    }

    /// Where a gap and a height would lie at the stated scales.
    fn at(&self, gap: f64, place: f64) -> (f64, f64) {
        if self.elevation.gap_is_upright() {
            (self.origin + place, self.counter - gap)
        } else {
            (self.across(self.counter - gap), self.origin - place)
        }
    }

    /// A sliding leaf that opens runs to the left: its detail is the mirror image.
    fn mirrored(&self) -> bool {
        self.elevation.motion == Motion::Sliding && self.elevation.direction == Direction::Opening
    }

    fn across(&self, x: f64) -> f64 {
        if self.mirrored() { self.wide - x } else { x }
    }

    /// The side of a mark or of the drawing that is free: the text anchor there and which way it lies.
    fn free_side(&self) -> (&'static str, f64) {
        if self.mirrored() || self.elevation.gap_is_upright() {
            ("start", 1.0)
        } else {
            ("end", -1.0)
        }
    }

    fn true_place(&self, point: &Point) -> (f64, f64) {
        self.at(
            point.gap_mm * self.gaps.scale,
            point.height_mm * self.places.scale,
        )
    }

    fn roomy_place(&self, point: &Point) -> (f64, f64) {
        self.at(
            self.gaps.roomy(point.gap_mm),
            self.places.roomy(point.height_mm),
        )
    }

    /// Ground and counter edge.
    fn frame(&self) -> Markup {
        let (left, right) = (40.0, self.wide - 6.0);
        if self.elevation.gap_is_upright() {
            return html! {
                (block("solid", (left, self.counter), (right - left, 10.0)))
                (lettering("strong", (left, 16.0), "start", &self.words.say("report-detail-name")))
            };
        }
        let counter = match self.elevation.direction {
            Direction::Closing => self.words.say("report-opposing-edge"),
            Direction::Opening => self.words.say("report-obstacle"),
        };
        let (near, far) = (self.across(self.counter), self.across(self.counter + 34.0));
        let middle = ((near + far) / 2.0 + 4.0, self.origin / 2.0 + 10.0);
        let turn = format!("rotate(-90 {} {})", number(middle.0), number(middle.1));
        html! {
            (block("solid", (near.min(far), 14.0), (34.0, self.origin - 14.0)))
            text.forbidden x=(number(middle.0)) y=(number(middle.1)) text-anchor="middle" transform=(turn) { (counter) }
            (line("thick", (self.across(left), self.origin), (self.across(right), self.origin)))
            (lettering("strong", (self.across(left), 16.0), if self.mirrored() { "end" } else { "start" }, &self.words.say("report-detail-name")))
        }
    }

    /// The edge of the leaf at each gap, and the gaps as dimensions one below the other.
    fn gaps(&self) -> Markup {
        let far = self
            .places
            .length()
            .max(if self.elevation.gap_is_upright() {
                330.0
            } else {
                240.0
            });
        let counter = self.across(self.counter);
        let step = |index: usize| 26.0 + 18.0 * index as f64;
        html! {
            @for (index, mm) in self.gaps.values.iter().enumerate() {
                @let gap = mm * self.gaps.scale;
                @if self.elevation.gap_is_upright() {
                    @let (x, y) = self.at(gap, 0.0);
                    (line("ghost", (x - 8.0, y), (x + far, y)))
                    (lettering("halo", (x - 14.0, self.at(self.gaps.roomy(*mm), 0.0).1 + 4.0), "end", &number(*mm)))
                } @else {
                    @let (x, top) = self.at(gap, far);
                    (line("ghost", (x, top - 8.0), (x, self.origin)))
                    (line("thin", (x, self.origin + 4.0), (x, self.origin + step(index) + 4.0)))
                    (dimension((x, self.origin + step(index)), (counter, self.origin + step(index)), &number(*mm)))
                }
            }
            @if !self.elevation.gap_is_upright() {
                (line("thin", (counter, self.origin + 4.0), (counter, self.origin + step(self.gaps.values.len().saturating_sub(1)) + 4.0)))
            }
        }
    }

    /// Heights above the ground, or places from the left side.
    fn places(&self) -> Markup {
        html! {
            @for mm in &self.places.values {
                @let real = mm * self.places.scale;
                @let roomy = self.places.roomy(*mm);
                @if self.elevation.gap_is_upright() {
                    (line("hair", (self.origin + real, 24.0), (self.origin + real, self.counter)))
                    (line("thin", (self.origin + real, self.counter + 10.0), (self.origin + roomy, self.counter + 18.0)))
                    (lettering("halo", (self.origin + roomy, self.counter + 30.0), "middle", &number(*mm)))
                } @else {
                    @let y = (self.origin - real, self.origin - roomy);
                    (line("hair", (self.across(52.0), y.0), (self.across(self.counter), y.0)))
                    (line("thin", (self.across(42.0), y.1), (self.across(52.0), y.0)))
                    (lettering("halo", (self.across(38.0), y.1 + 4.0), self.free_side().0, &number(*mm)))
                }
            }
        }
    }

    /// The mark where the point was measured, with its number; where there is no room, drawn aside with a line to its place.
    fn point(&self, point: &Point) -> Markup {
        let (real, roomy) = (self.true_place(point), self.roomy_place(point));
        let moved = (real.0 - roomy.0).hypot(real.1 - roomy.1) > RADIUS;
        let (anchor, side) = self.free_side();
        let class = if point.number.is_empty() {
            "soft halo number"
        } else {
            "strong halo number"
        };
        html! {
            @if moved {
                (line("thin", real, roomy))
                circle.dot cx=(number(real.0)) cy=(number(real.1)) r="2.5" {}
            }
            (mark(point.state, point.share, roomy, RADIUS))
            (lettering(class, (roomy.0 + side * (RADIUS + 4.0), roomy.1 + 4.0), anchor, &figure(self.words, point)))
        }
    }

    fn scales(&self) -> String {
        let ratio = [("ratio", number(self.gaps.scale / self.places.scale).into())];
        if self.elevation.gap_is_upright() {
            self.words.with("report-scales-across", &ratio)
        } else {
            self.words.with("report-scales", &ratio)
        }
    }
}
