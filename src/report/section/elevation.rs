//! The elevations: one for each direction and part of the leaf.

use maud::{Markup, html};

use crate::report::elevation::{detail, overview};
use crate::report::mark::key;
use crate::report::page::Subject;
use crate::report::place::views;
use crate::report::scene;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let views = views(&subject.places);
    html! {
        @if views.is_empty() {
            p { "No test point is wanted or was tested." }
        } @else {
            (key())
        }
        @for (view, points) in &views {
            @let (elevation, unknown) = scene::elevation(subject.assessment, *view, points);
            figure.elevation {
                h3 { (elevation.title) }
                div.views {
                    @if unknown.is_none() { (overview(&elevation)) }
                    (detail(&elevation))
                }
                figcaption {
                    (elevation.statement)
                    @if let Some(unknown) = unknown { " " (unknown) }
                    @if unknown.is_none() { " Drawn as if seen from the front with the leaf closing to the right; the gate may be the mirror image." }
                }
            }
        }
    }
}
