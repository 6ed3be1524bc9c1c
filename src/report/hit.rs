//! The hits at one test point: the pulse enlarged beside the whole record, against the stepped limit.

use maud::{Markup, html};
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::{
    Cartesian2d, ChartBuilder, ChartContext, LineSeries, PathElement, Polygon, SVGBackend,
};
use plotters::style::{Color, RGBColor, ShapeStyle, TRANSPARENT};

use super::canvas::{FINE, Paper, Trouble, draw, number, sheet};
use super::curve::thinned;
use super::envelope::within;
use super::hit_words::key;
use super::label::Frame;
use super::style::{FORBIDDEN, HAIR, INK, JUDGED, LEVEL, LIMIT, REPEATS, SOFT};
use super::{DrawingError, State};
use crate::trace::Trace;
use crate::words::Words;

pub use super::envelope::Step;

/// The hits at a test point, ready to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Hits {
    /// Which test point.
    pub title: String,
    /// What the drawing shows, in a sentence: its text alternative.
    pub statement: String,
    /// The repeats, in the order they were made.
    pub repeats: Vec<Repeat>,
    /// Which of them decides, or comes nearest to the limit where a mean decides.
    pub deciding: usize,
    /// The assessed mean, where one is assessed: its force in N and its words.
    pub mean: Option<(f64, String)>,
    /// The boundary; its first step begins at contact.
    pub steps: Vec<Step>,
    /// The static level in N with its words.
    pub level: (f64, String),
    /// Where the enlarged panel ends, in s after contact.
    pub enlarged_s: f64,
}

/// One record, shifted so that contact is at 0 s and the zero at 0 N.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeat {
    /// How the reader knows it.
    pub name: String,
    /// How it stands.
    pub state: State,
    /// Instants in s after contact.
    pub times: Vec<f64>,
    /// Forces in N.
    pub forces: Vec<f64>,
    /// What is marked on the curve.
    pub events: Vec<Event>,
}

impl Repeat {
    /// A record with its contact (s from the first sample) and zero (N) taken off.
    #[must_use]
    pub fn of(name: String, state: State, trace: &Trace, contact_s: f64, zero_n: f64) -> Self {
        Self {
            name,
            state,
            times: trace.times().iter().map(|time| time - contact_s).collect(),
            forces: trace.forces().iter().map(|force| force - zero_n).collect(),
            events: Vec::new(),
        }
    }

    /// The greatest force of the record in N.
    pub(super) fn greatest(&self) -> f64 {
        self.forces.iter().copied().fold(0.0, f64::max)
    }
}

/// A place on the curve that has a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Its instant, in s after contact.
    pub at_s: f64,
    /// Its force, in N.
    pub force_n: f64,
    /// Its words.
    pub words: String,
    /// Drawn with the mark of this state instead of a dot.
    pub state: Option<State>,
}

pub(super) const WIDE: f64 = 720.0;
/// Width of the enlarged panel.
const ENLARGED: f64 = 420.0;
pub(super) const HIGH: f64 = 334.0;
pub(super) const SIZE: f64 = 11.0;

type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

/// Draws the hits of a test point.
///
/// # Errors
/// [`DrawingError`] if plotters cannot draw it.
pub fn hits(words: &Words, hits: &Hits) -> Result<Markup, DrawingError> {
    let panels = Panel::both(hits);
    let top = ceiling(hits);
    let (plot, maps) = draw("the hits", (WIDE as u32, HIGH as u32), |paper| {
        let (first, second) = paper.split_horizontally((panels[0].wide as i32) * FINE);
        Ok([
            panels[0].plot(&first, hits, top)?,
            panels[1].plot(&second, hits, top)?,
        ])
    })?;
    let drawn = html! {
        (plot)
        @for (panel, map) in panels.iter().zip(&maps) { (panel.lettering(words, hits, map, &panels)) }
        (key(hits, WIDE))
    };
    Ok(sheet((WIDE, HIGH), &hits.title, &hits.statement, &drawn))
}

/// Draws the enlarged panel alone, for a narrow screen.
///
/// # Errors
/// [`DrawingError`] if plotters cannot draw it.
pub fn enlarged(words: &Words, hits: &Hits) -> Result<Markup, DrawingError> {
    let panels = Panel::both(hits);
    let panel = &panels[0];
    let size = (panel.wide as u32, HIGH as u32);
    let (plot, map) = draw("the hits", size, |paper| {
        panel.plot(paper, hits, ceiling(hits))
    })?;
    let drawn =
        html! { (plot) (panel.lettering(words, hits, &map, &panels)) (key(hits, panel.wide)) };
    Ok(sheet(
        (panel.wide, HIGH),
        &hits.title,
        &hits.statement,
        &drawn,
    ))
}

/// First and last instant of all repeats.
fn ends(hits: &Hits) -> (f64, f64) {
    let instants = hits
        .repeats
        .iter()
        .flat_map(|r| [r.times.first(), r.times.last()])
        .flatten();
    let (least, most) = instants.fold((0.0_f64, 0.1_f64), |(a, b), t| (a.min(*t), b.max(*t)));
    (least.max(-0.15 * most), most * 1.02)
}

/// Lower and upper end of the force axis: every curve fits, and the limit with it unless it would dwarf them.
pub(super) fn ceiling(hits: &Hits) -> (f64, f64) {
    let curves = hits
        .repeats
        .iter()
        .map(Repeat::greatest)
        .fold(1.0, f64::max);
    let least = hits
        .repeats
        .iter()
        .flat_map(|r| r.forces.iter())
        .copied()
        .fold(0.0, f64::min);
    let limit = hits
        .steps
        .iter()
        .map(|step| step.force_n)
        .fold(0.0, f64::max);
    let top = if limit < 3.0 * curves {
        limit.max(curves)
    } else {
        curves
    };
    (least.min(-0.02 * top), top * 1.22)
}

/// One of the two panels.
pub(super) struct Panel {
    pub(super) window: (f64, f64),
    pub(super) columns: usize,
    pub(super) per_unit: f64,
    pub(super) left: f64,
    pub(super) wide: f64,
}

/// Where seconds and newtons lie in the drawing.
pub(super) struct Map {
    pub(super) frame: Frame,
    pub(super) x: (f64, f64),
    pub(super) y: (f64, f64),
}

impl Map {
    pub(super) fn at(&self, (seconds, newtons): (f64, f64)) -> (f64, f64) {
        let across = (seconds - self.x.0) / (self.x.1 - self.x.0);
        let up = (newtons - self.y.0) / (self.y.1 - self.y.0);
        (
            self.frame.left + across * (self.frame.right - self.frame.left),
            self.frame.bottom - up * (self.frame.bottom - self.frame.top),
        )
    }
}

impl Panel {
    /// The hit enlarged, and the whole record beside it.
    fn both(hits: &Hits) -> [Self; 2] {
        let enlarged = Self {
            window: (-0.06 * hits.enlarged_s, hits.enlarged_s),
            columns: 800,
            per_unit: 1000.0,
            left: 0.0,
            wide: ENLARGED,
        };
        let whole = Self {
            window: ends(hits),
            columns: 520,
            per_unit: 1.0,
            left: ENLARGED,
            wide: WIDE - ENLARGED,
        };
        [enlarged, whole]
    }

    fn plot(&self, paper: &Paper<'_>, hits: &Hits, y: (f64, f64)) -> Result<Map, Trouble> {
        let (start, end) = self.window;
        let shown = start * self.per_unit..end * self.per_unit;
        let mut chart = ChartBuilder::on(paper)
            .margin_top(24 * FINE)
            .margin_right(10 * FINE)
            .margin_bottom(40 * FINE)
            .x_label_area_size(20 * FINE)
            .y_label_area_size(40 * FINE)
            .build_cartesian_2d(shown, y.0..y.1)?;
        self.boundary(&mut chart, hits, y.1)?;
        self.curves(&mut chart, hits)?;
        let (across, up) = chart.plotting_area().get_pixel_range();
        let offset = f64::from(FINE);
        let frame = Frame {
            left: f64::from(across.start) / offset,
            right: f64::from(across.end) / offset,
            top: f64::from(up.start) / offset,
            bottom: f64::from(up.end) / offset,
        };
        Ok(Map {
            frame,
            x: self.window,
            y,
        })
    }

    /// The corners of the boundary, cut off at the top of the axis.
    fn edge(&self, hits: &Hits, top: f64) -> Vec<(f64, f64)> {
        within(&hits.steps, self.window.0, self.window.1)
            .into_iter()
            .flat_map(|(from, until, step)| {
                [from, until].map(|at| (at * self.per_unit, step.force_n.min(top)))
            })
            .collect()
    }

    /// The forbidden side, the grid over it and the boundary over both.
    fn boundary(&self, chart: &mut Chart<'_, '_>, hits: &Hits, top: f64) -> Result<(), Trouble> {
        let edge = self.edge(hits, top);
        if let (Some(first), Some(last)) = (edge.first(), edge.last()) {
            let side = edge.iter().copied().chain([(last.0, top), (first.0, top)]);
            chart.draw_series([Polygon::new(side.collect::<Vec<_>>(), FORBIDDEN.filled())])?;
        }
        mesh(chart)?;
        if edge.iter().any(|corner| corner.1 < top) {
            chart.draw_series([PathElement::new(edge, pen(LIMIT, 1.3))])?;
        }
        Ok(())
    }

    fn curves(&self, chart: &mut Chart<'_, '_>, hits: &Hits) -> Result<(), Trouble> {
        let (start, end) = self.window;
        let span = |force: f64| [(start * self.per_unit, force), (end * self.per_unit, force)];
        chart.draw_series([PathElement::new(span(hits.level.0), pen(LEVEL, 0.9))])?;
        if let Some((force, _)) = &hits.mean {
            chart.draw_series([PathElement::new(span(*force), pen(JUDGED, 1.0))])?;
        }
        let others = (0..hits.repeats.len()).filter(|index| *index != hits.deciding);
        for index in others.chain([hits.deciding]) {
            let Some(repeat) = hits.repeats.get(index) else {
                continue;
            };
            let points = thinned(&repeat.times, &repeat.forces, start..end, self.columns);
            let style = if index == hits.deciding {
                pen(INK, 1.5)
            } else {
                pen(REPEATS[index % REPEATS.len()], 0.9)
            };
            let shown = points.into_iter().map(|(t, f)| (t * self.per_unit, f));
            chart.draw_series(LineSeries::new(shown, style))?;
        }
        Ok(())
    }
}

/// A line of a pen, its width in units of the drawing.
pub(super) fn pen(colour: RGBColor, width: f64) -> ShapeStyle {
    colour.stroke_width((width * f64::from(FINE)).round() as u32)
}

fn mesh(chart: &mut Chart<'_, '_>) -> Result<(), Trouble> {
    let size = 11.0 * 1.24 * f64::from(FINE);
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(pen(HAIR, 0.7))
        .axis_style(pen(SOFT, 0.7))
        .label_style(("sans-serif", size, &SOFT))
        .x_labels(6)
        .y_labels(6)
        .x_label_formatter(&|value| number(*value))
        .y_label_formatter(&|value| number(*value))
        .draw()
}
