//! Paper for plotters: it draws at eight times the size, because it places everything on whole numbers.

use std::io;

use maud::{Markup, PreEscaped, html};
use plotters::coord::Shift;
use plotters::prelude::{DrawingArea, DrawingAreaErrorKind, IntoDrawingArea, SVGBackend};

use super::DrawingError;

/// How many units of plotters make one unit of the drawing.
pub(super) const FINE: i32 = 8;

/// The paper that plotters draws on.
pub(super) type Paper<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// What goes wrong on it.
pub(super) type Trouble = DrawingAreaErrorKind<io::Error>;

/// What plotters drew, and what the drawing returned.
pub(super) fn draw<T>(
    what: &'static str,
    (wide, high): (u32, u32),
    make: impl FnOnce(&Paper<'_>) -> Result<T, Trouble>,
) -> Result<(Markup, T), DrawingError> {
    let fine = FINE.unsigned_abs();
    let mut text = String::new();
    let fail = |source: Trouble| DrawingError {
        what,
        source: Box::new(source),
    };
    let made = {
        let paper =
            SVGBackend::with_string(&mut text, (wide * fine, high * fine)).into_drawing_area();
        let made = make(&paper).map_err(fail)?;
        paper.present().map_err(fail)?;
        made
    };
    let inner = text
        .split_once('>')
        .and_then(|(_, rest)| rest.rsplit_once("</svg>"))
        .map_or("", |(inner, _)| inner);
    let scale = format!("scale({})", 1.0 / f64::from(FINE));
    let drawn = html! { g.plot transform=(scale) { (PreEscaped(inner.replace(" \"/>", "\"/>"))) } };
    Ok((drawn, made))
}

/// A drawing as one `svg` element with its text alternative.
pub(super) fn sheet(
    (wide, high): (f64, f64),
    title: &str,
    statement: &str,
    drawn: &Markup,
) -> Markup {
    let view = format!("0 0 {} {}", number(wide), number(high));
    html! {
        svg xmlns="http://www.w3.org/2000/svg" viewBox=(view) width=(number(wide)) height=(number(high))
            role="img" aria-label={ (title) ": " (statement) } {
            title { (title) }
            desc { (statement) }
            (drawn)
        }
    }
}

/// A coordinate with one decimal at most.
pub(super) fn number(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    // No "-0" in a drawing.
    format!("{}", tenths + 0.0)
}
