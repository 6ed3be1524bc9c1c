//! The elevations: one for each direction and part of the leaf.

use maud::{Markup, html};

use crate::report::elevation::{detail, overview};
use crate::report::mark::key;
use crate::report::page::Subject;
use crate::report::place::views;
use crate::report::scene;

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    let views = views(&subject.places);
    html! {
        @if views.is_empty() {
            p { (words.say("report-no-points")) }
        } @else {
            (key(words))
        }
        @for (view, points) in &views {
            @let (elevation, unknown) = scene::elevation(words, subject.assessment, *view, points);
            figure.elevation {
                h3 { (elevation.title) }
                div.views {
                    @if unknown.is_none() { (overview(words, &elevation)) }
                    (detail(words, &elevation))
                }
                figcaption {
                    (elevation.statement)
                    " " (unknown.unwrap_or_else(|| words.say("report-seen-from")))
                }
            }
        }
    }
}
