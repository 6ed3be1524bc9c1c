//! All points of an elevation as small pictures in its grid: gaps across, heights down, on equal axes.

use std::ops::Range;

use maud::{Markup, html};
use plotters::prelude::{ChartBuilder, LineSeries, PathElement, Polygon};
use plotters::style::Color;

use super::canvas::{FINE, Paper, Trouble, draw, number, sheet};
use super::curve::thinned;
use super::elevation::lettering;
use super::envelope::within;
use super::hit::{Hits, ceiling, pen};
use super::mark::mark;
use super::style::{FORBIDDEN, HAIR, INK, LIMIT, REPEATS};
use super::{DrawingError, State};
use crate::words::Words;

/// The grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Direction and part.
    pub title: String,
    /// What the drawing shows, in a sentence.
    pub statement: String,
    /// Headings of the columns, from left to right.
    pub columns: Vec<String>,
    /// Headings of the rows, from top to bottom.
    pub rows: Vec<String>,
    /// The pictures.
    pub cells: Vec<Cell>,
}

/// One picture of the grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Its column, from 0.
    pub column: usize,
    /// Its row, from 0.
    pub row: usize,
    /// How the point stands.
    pub state: State,
    /// The deciding value as a part of its limit.
    pub share: Option<f64>,
    /// The deciding value, as the verdict prints it.
    pub number: String,
    /// Its hits; `None` for a point that was not tested.
    pub hits: Option<Hits>,
}

const WIDE: f64 = 720.0;
const ROW: f64 = 92.0;
const LEFT: f64 = 76.0;
const TOP: f64 = 24.0;

/// Draws the grid.
///
/// # Errors
/// [`DrawingError`] if plotters cannot draw it.
pub fn multiples(words: &Words, grid: &Grid) -> Result<Markup, DrawingError> {
    let column = ((WIDE - LEFT) / grid.columns.len().max(1) as f64)
        .min(240.0)
        .floor();
    let high = TOP + ROW * grid.rows.len() as f64 + 20.0;
    let shown = grid.cells.iter().filter_map(|cell| cell.hits.as_ref());
    let y = shown
        .clone()
        .map(ceiling)
        .fold((0.0, 1.0), |(a, b): (f64, f64), (low, top)| {
            (a.min(low), b.max(top))
        });
    let end = shown.map(|hits| hits.enlarged_s).fold(0.1, f64::max);
    let place = |cell: &Cell| {
        (
            LEFT + column * cell.column as f64,
            TOP + ROW * cell.row as f64,
        )
    };
    let size = (column - 10.0, ROW - 10.0);
    let (plot, ()) = draw("small pictures", (WIDE as u32, high as u32), |paper| {
        for cell in &grid.cells {
            picture(paper, cell, place(cell), size, (-0.06 * end..end, y))?;
        }
        Ok(())
    })?;
    let drawn = html! {
        (plot)
        @for (index, heading) in grid.columns.iter().enumerate() {
            (lettering("soft", (LEFT + column * index as f64 + size.0 / 2.0, 14.0), "middle", heading))
        }
        @for (index, heading) in grid.rows.iter().enumerate() {
            (lettering("soft", (LEFT - 8.0, TOP + ROW * index as f64 + size.1 / 2.0), "end", heading))
        }
        @for cell in &grid.cells { (caption(words, cell, place(cell), size)) }
        (lettering("soft", (WIDE - 6.0, high - 6.0), "end", &words.with("report-picture", &[("end_ms", number(end * 1000.0).into()), ("top_n", number(y.1.round()).into())])))
    };
    Ok(sheet((WIDE, high), &grid.title, &grid.statement, &drawn))
}

fn picture(
    paper: &Paper<'_>,
    cell: &Cell,
    (x, y): (f64, f64),
    (wide, high): (f64, f64),
    (window, force): (Range<f64>, (f64, f64)),
) -> Result<(), Trouble> {
    let fine = |value: f64| (value * f64::from(FINE)) as i32;
    let part = paper
        .clone()
        .shrink((fine(x), fine(y)), (fine(wide), fine(high)));
    let mut chart = ChartBuilder::on(&part).build_cartesian_2d(window.clone(), force.0..force.1)?;
    if let Some(hits) = &cell.hits {
        for (from, until, step) in within(&hits.steps, window.start, window.end) {
            let limit = step.force_n.min(force.1);
            let side = vec![
                (from, limit),
                (until, limit),
                (until, force.1),
                (from, force.1),
            ];
            chart.draw_series([Polygon::new(side, FORBIDDEN.filled())])?;
            chart.draw_series([PathElement::new(
                [(from, limit), (until, limit)],
                pen(LIMIT, 0.8),
            )])?;
        }
        for (index, repeat) in hits.repeats.iter().enumerate() {
            let points = thinned(&repeat.times, &repeat.forces, window.clone(), 240);
            let style = if index == hits.deciding {
                pen(INK, 1.2)
            } else {
                pen(REPEATS[index % 4], 0.7)
            };
            chart.draw_series(LineSeries::new(points, style))?;
        }
    }
    let corners = [
        (window.start, force.0),
        (window.start, force.1),
        (window.end, force.1),
        (window.end, force.0),
        (window.start, force.0),
    ];
    chart.draw_series([PathElement::new(corners, pen(HAIR, 0.7))])?;
    Ok(())
}

/// State and number in the corner where a hit has long passed.
fn caption(words: &Words, cell: &Cell, (x, y): (f64, f64), (wide, _): (f64, f64)) -> Markup {
    let text = if cell.number.is_empty() {
        &words.fact(&State::NotTested)
    } else {
        &cell.number
    };
    html! {
        (mark(cell.state, cell.share, (x + wide - 12.0, y + 13.0), 5.5))
        (lettering("strong forbidden", (x + wide - 22.0, y + 17.0), "end", text))
    }
}
