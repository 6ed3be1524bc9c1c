//! The opening seen from the front, to scale, with every test point where it was measured.
//!
//! Gaps of 50 to 500 mm are small beside an opening of several metres. As on a workshop drawing there are two views: the whole to
//! scale, and the zone in front of the edge enlarged, where each point has its number.

use maud::{Markup, html};

use super::State;
use super::canvas::{number, sheet};
use super::label::width;
use super::mark::mark;
use crate::limits::{Direction, Motion};
use crate::words::Words;

/// An opening and its test points, ready to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Elevation {
    /// What is seen: direction and part.
    pub title: String,
    /// What the drawing shows, in a sentence: its text alternative.
    pub statement: String,
    /// How the leaf moves.
    pub motion: Motion,
    /// Which way it was moving.
    pub direction: Direction,
    /// Clear width between the posts, in mm.
    pub opening_mm: f64,
    /// Height of the leaf (of the opening, for a leaf that moves vertically; of the boom above ground), in mm.
    pub height_mm: f64,
    /// Clearance between the leaf and the ground, in mm.
    pub clearance_mm: f64,
    /// The test points.
    pub points: Vec<Point>,
}

/// A test point as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Gap at contact, in mm.
    pub gap_mm: f64,
    /// Height above the ground, or place across the opening, in mm.
    pub height_mm: f64,
    /// How it stands.
    pub state: State,
    /// The deciding value as a part of its limit.
    pub share: Option<f64>,
    /// The deciding value with its unit, as the verdict prints it; empty for a missing point.
    pub number: String,
}

impl Elevation {
    /// True where the gap is measured upwards and the places lie across the opening.
    #[must_use]
    pub fn gap_is_upright(&self) -> bool {
        matches!(self.motion, Motion::Vertical | Motion::Boom)
    }

    /// The greatest gap of the points, at least 100 mm.
    pub(super) fn widest_gap(&self) -> f64 {
        self.points
            .iter()
            .fold(100.0, |most, point| most.max(point.gap_mm))
    }
}

/// The whole opening to scale.
#[must_use]
pub fn overview(words: &Words, elevation: &Elevation) -> Markup {
    let view = View::of(elevation);
    let drawn = html! {
        (view.ground())
        (view.posts())
        (view.leaf())
        (view.dimensions(words))
        (view.zone())
        @for point in &elevation.points {
            (mark(point.state, point.share, view.place(point), 4.0))
        }
    };
    let title = words.with(
        "report-overview",
        &[("view", elevation.title.as_str().into())],
    );
    sheet((WIDE, view.high), &title, &elevation.statement, &drawn)
}

/// The zone in front of the edge, enlarged.
pub use super::detail::detail;

const WIDE: f64 = 460.0;
const POST_MM: f64 = 120.0;

/// From millimetres of the gate to the drawing.
struct View<'a> {
    elevation: &'a Elevation,
    scale: f64,
    left: f64,
    ground: f64,
    high: f64,
}

impl<'a> View<'a> {
    fn of(elevation: &'a Elevation) -> Self {
        let parked = if Self::parks_beside(elevation) {
            elevation.opening_mm + 700.0
        } else {
            0.0
        };
        let across = elevation.opening_mm + parked + 2.0 * POST_MM;
        let scale = (350.0 / across).min(230.0 / elevation.height_mm.max(1.0));
        let rise = (elevation.height_mm * scale).max(40.0);
        let spare = (350.0 - across * scale) / 2.0;
        Self {
            elevation,
            scale,
            left: 62.0 + spare + (parked + POST_MM) * scale,
            ground: rise + 46.0,
            high: rise + 98.0,
        }
    }

    /// A sliding leaf that opens is drawn where it parks.
    fn parks_beside(elevation: &Elevation) -> bool {
        elevation.motion == Motion::Sliding && elevation.direction == Direction::Opening
    }

    fn x(&self, mm: f64) -> f64 {
        self.left + mm * self.scale
    }

    fn y(&self, mm: f64) -> f64 {
        self.ground - mm * self.scale
    }

    /// Where the counter edge stands: the face that the gap is measured from.
    fn counter(&self) -> f64 {
        if Self::parks_beside(self.elevation) {
            -self.elevation.opening_mm - 600.0
        } else {
            self.elevation.opening_mm
        }
    }

    fn place(&self, point: &Point) -> (f64, f64) {
        let elevation = self.elevation;
        if elevation.gap_is_upright() {
            return (self.x(point.height_mm), self.y(point.gap_mm));
        }
        let gap = match (elevation.motion, elevation.direction) {
            (Motion::Sliding, Direction::Opening) => point.gap_mm,
            // A swinging leaf opens out of the picture: its gap is not seen from the front.
            (_, Direction::Opening) => 0.0,
            (_, Direction::Closing) => -point.gap_mm,
        };
        (self.x(self.counter() + gap), self.y(point.height_mm))
    }

    fn ground(&self) -> Markup {
        let (from, to, y) = (46.0, WIDE - 18.0, self.ground);
        let strokes = (0..((to - from) / 11.0) as i32).map(|k| from + 8.0 + f64::from(k) * 11.0);
        html! {
            (line("thick", (from, y), (to, y)))
            @for x in strokes { (line("thin", (x, y), (x - 6.0, y + 6.0))) }
        }
    }

    fn posts(&self) -> Markup {
        let wide = POST_MM * self.scale;
        let high = self.elevation.height_mm * self.scale + 8.0;
        let top = self.ground - high;
        html! {
            (block("solid", (self.x(0.0) - wide, top), (wide, high)))
            (block("solid", (self.x(self.elevation.opening_mm), top), (wide, high)))
            @if Self::parks_beside(self.elevation) {
                (block("solid", (self.x(self.counter()) - wide, top), (wide, high)))
            }
        }
    }

    fn leaf(&self) -> Markup {
        let (opening, height) = (self.elevation.opening_mm, self.elevation.height_mm);
        let widest = self.elevation.widest_gap().min(opening * 0.8);
        let low = self.elevation.clearance_mm.min(height * 0.5);
        match self.elevation.motion {
            Motion::Vertical => {
                let gap = self.elevation.widest_gap().min(height * 0.8);
                self.panel((0.0, opening), (gap, height))
            }
            Motion::Boom => {
                let half = 50.0_f64.max(2.0 / self.scale);
                html! {
                    (self.panel((-POST_MM, opening), (height - half, height + half)))
                    (line("ghost", (self.x(0.0), self.y(height)), (self.x(opening * 0.35), 14.0)))
                }
            }
            Motion::Sliding if Self::parks_beside(self.elevation) => {
                let edge = self.counter() + widest;
                self.panel((edge, edge + opening), (low, height))
            }
            Motion::Sliding => self.panel((-POST_MM, opening - widest), (low, height)),
            Motion::Swing | Motion::Folding => {
                let edge = match self.elevation.direction {
                    Direction::Closing => opening - widest,
                    Direction::Opening => opening,
                };
                html! {
                    (self.panel((0.0, edge), (low, height)))
                    (line("ghost", (self.x(edge), self.y(low)), (self.x(0.0), self.y((low + height) / 2.0))))
                    (line("ghost", (self.x(edge), self.y(height)), (self.x(0.0), self.y((low + height) / 2.0))))
                    @if self.elevation.motion == Motion::Folding {
                        (line("line", (self.x(edge / 2.0), self.y(low)), (self.x(edge / 2.0), self.y(height))))
                    }
                }
            }
        }
    }

    /// A leaf from left to right and from its lower to its upper edge, in mm, with the arrow of its motion.
    fn panel(&self, (from, to): (f64, f64), (low, top): (f64, f64)) -> Markup {
        let (left, right) = (self.x(from), self.x(to));
        let (upper, lower) = (self.y(top), self.y(low));
        let middle = ((left + right) / 2.0, (upper + lower) / 2.0);
        let (tail, tip) = match (self.elevation.motion, self.elevation.direction) {
            (Motion::Boom, _) => ((self.x(to) * 0.75, 16.0), (self.x(to) * 0.75, upper - 12.0)),
            (Motion::Vertical, Direction::Closing) => {
                ((middle.0, middle.1 - 16.0), (middle.0, middle.1 + 16.0))
            }
            (Motion::Vertical, Direction::Opening) => {
                ((middle.0, middle.1 + 16.0), (middle.0, middle.1 - 16.0))
            }
            (_, Direction::Closing) => ((middle.0 - 24.0, middle.1), (middle.0 + 24.0, middle.1)),
            (_, Direction::Opening) => ((middle.0 + 24.0, middle.1), (middle.0 - 24.0, middle.1)),
        };
        html! {
            (block("leaf", (left, upper), (right - left, lower - upper)))
            (arrow(tail, tip))
        }
    }

    fn dimensions(&self, words: &Words) -> Markup {
        let (from, to) = (self.x(0.0), self.x(self.elevation.opening_mm));
        let (low, top) = (self.ground, self.y(self.elevation.height_mm));
        let (below, beside) = (self.ground + 30.0, 32.0);
        html! {
            (line("thin", (from, low + 8.0), (from, below + 4.0)))
            (line("thin", (to, low + 8.0), (to, below + 4.0)))
            (dimension((from, below), (to, below), &number(self.elevation.opening_mm)))
            (line("thin", (beside - 4.0, top), (from - POST_MM * self.scale - 4.0, top)))
            (line("thin", (beside - 4.0, low), (beside + 14.0, low)))
            (dimension((beside, low), (beside, top), &number(self.elevation.height_mm)))
            (lettering("soft", (WIDE - 18.0, self.high - 6.0), "end", &words.say("report-dimensions")))
        }
    }

    /// The frame of the enlarged zone.
    fn zone(&self) -> Markup {
        let widest = self.elevation.widest_gap();
        let (left, right, top) = if self.elevation.gap_is_upright() {
            let beside = POST_MM * self.scale + 6.0;
            (
                self.x(0.0) - beside,
                self.x(self.elevation.opening_mm) + beside,
                self.y(widest) - 8.0,
            )
        } else {
            let places = self
                .elevation
                .points
                .iter()
                .map(|point| self.place(point).0);
            let counter = self.x(self.counter());
            let (least, most) = places.fold((counter, counter), |(a, b), x| (a.min(x), b.max(x)));
            (
                least - 9.0,
                most + 9.0,
                self.y(self.elevation.height_mm) - 14.0,
            )
        };
        html! {
            (block("chain", (left, top), (right - left, self.ground + 12.0 - top)))
            (lettering("strong", (right + 4.0, top + 10.0), "start", "A"))
        }
    }
}

/// A straight line of a class.
pub(super) fn line(class: &str, from: (f64, f64), to: (f64, f64)) -> Markup {
    html! { line class=(class) x1=(number(from.0)) y1=(number(from.1)) x2=(number(to.0)) y2=(number(to.1)) {} }
}

/// A rectangle of a class: upper left corner, width and height.
pub(super) fn block(class: &str, (x, y): (f64, f64), (wide, high): (f64, f64)) -> Markup {
    html! { rect class=(class) x=(number(x)) y=(number(y)) width=(number(wide)) height=(number(high)) {} }
}

/// A text of a class; `anchor` is SVG's: start, middle or end.
pub(super) fn lettering(class: &str, (x, y): (f64, f64), anchor: &str, text: &str) -> Markup {
    html! { text class=(class) x=(number(x)) y=(number(y)) text-anchor=(anchor) { (text) } }
}

/// An arrow with a slender head.
pub(super) fn arrow(from: (f64, f64), to: (f64, f64)) -> Markup {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / length, dy / length);
    let wing = |side: f64| {
        (
            to.0 - 7.0 * ux - side * 3.0 * uy,
            to.1 - 7.0 * uy + side * 3.0 * ux,
        )
    };
    html! {
        (line("line", from, to))
        (line("line", to, wing(1.0)))
        (line("line", to, wing(-1.0)))
    }
}

/// A dimension line with slashes at its ends and its figure in the middle, beside it where it is short.
pub(super) fn dimension(from: (f64, f64), to: (f64, f64), figure: &str) -> Markup {
    let slash = |(x, y): (f64, f64)| line("line", (x - 3.0, y + 3.0), (x + 3.0, y - 3.0));
    let (x, y) = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
    let upright = (from.0 - to.0).abs() < (from.1 - to.1).abs();
    let turn = format!("rotate(-90 {} {})", number(x - 4.0), number(y));
    html! {
        (line("thin", from, to))
        (slash(from))
        (slash(to))
        @if upright {
            text.halo x=(number(x - 4.0)) y=(number(y)) text-anchor="middle" transform=(turn) { (figure) }
        } @else if (to.0 - from.0).abs() > width(figure, 11.0) + 8.0 {
            (lettering("halo", (x, y - 3.0), "middle", figure))
        } @else {
            (lettering("halo", (from.0.min(to.0) - 6.0, y + 4.0), "end", figure))
        }
    }
}
