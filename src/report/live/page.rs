//! The visit in progress as a page for a screen beside the gate: it asks the watching program for news by itself.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::told::{Told, joined, values_over};
use super::{Live, Todo, again_under, news};
use crate::report::elevation::{detail, overview};
use crate::report::hit;
use crate::report::mark::key;
use crate::report::page::state_words;
use crate::report::place::{Place, gap_and_height, places, view, views};
use crate::report::sentence::{Sentence, capital};
use crate::report::style::{DRAWINGS, PAGE};
use crate::report::{State, pulse, scene};
use crate::visit::Hit;
use crate::words::{Language, Words};

/// The script of the page.
pub const PROGRAM: &str = include_str!("live.js");

/// The style sheet of the page: the report's, and what a screen at arm's length needs.
#[must_use]
pub fn style() -> String {
    format!("{PAGE}{DRAWINGS}{}", include_str!("live.css"))
}

/// The whole page. It loads its style from `/watch.css`, its script from `/watch.js` and its news from `/now`, and nothing else.
///
/// Without scripts it loads itself again every three seconds.
#[must_use]
pub fn page(live: &Live) -> Vec<u8> {
    let name = &live.assessment.gate.gate.name;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (name) " · being tested" }
                link rel="stylesheet" href="/watch.css";
                noscript { meta http-equiv="refresh" content="3"; }
                script src="/watch.js" defer {}
            }
            body {
                header {
                    h1 { "Force test of " (name) ", in progress" }
                    p #lost role="alert" hidden {}
                    p #told.out-of-sight role="status" aria-live="polite" {}
                    noscript { p.soft { "Without scripts this page loads itself again every three seconds. If it stops doing so, do not trust it." } }
                }
                main #now { (PreEscaped(fragment(live))) }
                footer { p { (Words::of(Language::English).say("caution-while-testing")) } }
            }
        }
    };
    page.into_string().into_bytes()
}

/// The part of the page that changes.
#[must_use]
pub fn fragment(live: &Live) -> String {
    let places = places(&live.assessment);
    let news = html! {
        div #news data-told=(spoken(live)) {
            (over(live, &places))
            (trouble(live))
            (next(live))
            (last(live, &places))
            (elevations(live, &places))
            (to_do(live))
        }
    };
    news.into_string()
}

/// What a screen reader is told when the page changes.
fn spoken(live: &Live) -> String {
    let last = live.last_hit().map(|hit| Told::of(live, hit).line());
    let last = last.map(|line| format!("Last hit: {line}. "));
    format!("{}{}", last.unwrap_or_default(), news::next(live))
}

fn trouble(live: &Live) -> Markup {
    html! {
        @if !live.faults.is_empty() || !live.unplaced.is_empty() {
            section.trouble aria-labelledby="trouble-title" {
                h2 #trouble-title { "To be put right" }
                ul { @for line in live.faults.iter().chain(&live.unplaced) { li { (line) } } }
            }
        }
    }
}

/// The places that are over the limit, above everything else.
fn over(live: &Live, places: &[Place<'_>]) -> Markup {
    let over: Vec<&Place<'_>> = places
        .iter()
        .filter(|place| place.state() == State::Over)
        .collect();
    html! {
        @if !over.is_empty() {
            section.trouble.is-over aria-labelledby="over-title" {
                h2 #over-title { (state_words(Words::of(Language::English), State::Over, Some(1.0))) }
                ul { @for place in over { li { (capital(&live.place(&place.point))) ": " (values_over(place)) } } }
                p { (Words::of(Language::English).say("report-until-corrected")) }
            }
        }
    }
}

fn next(live: &Live) -> Markup {
    html! {
        section.next aria-labelledby="next-title" {
            h2 #next-title { @if live.next().is_some() { "Next" } @else if live.complete() { "Nothing is missing any more" } @else { "Not complete" } }
            @match live.next() {
                Some(todo) => {
                    (place(live, &todo))
                    @match &todo {
                        Todo::Make { repeat, wanted, save_as, .. } => {
                            p.big { "Hit " (repeat) " of " (wanted) }
                            @match save_as {
                                Some(name) => p.save { "Save it as " code { (name) } },
                                None => p.save { "The gate file has no pattern of names that says this hit." },
                            }
                        }
                        Todo::Again { repeat, file, why, .. } => {
                            p.big { "Hit " (repeat) " again" }
                            p.reason { (state_words(Words::of(Language::English), State::Undecided, None)) ": " (joined(why)) "." }
                            p.save { (capital(&again_under(file))) "." }
                        }
                    }
                }
                None => (end(live)),
            }
            @for one in &live.coming { p.save { (one.file) ": " (one.words.as_deref().unwrap_or("being written")) } }
            p { (live.standing()) }
        }
    }
}

/// What stands where no hit is left to make.
fn end(live: &Live) -> Markup {
    let places = places(&live.assessment);
    let sentence = Sentence::of(Words::of(Language::English), &live.assessment, &places);
    html! {
        @if let Some(why) = live.open() {
            p.verdict { "Nothing can be called complete: " (why) "." }
        } @else {
            p.verdict { (sentence.subject) " " strong { (sentence.outcome) } ". " (sentence.counts) }
            @for reason in live.assessment.overall().reasons { p { (capital(&Words::of(Language::English).fact(&reason))) "." } }
        }
    }
}

/// A place in type to be read at arm's length: gap and height each on a line.
fn place(live: &Live, todo: &Todo) -> Markup {
    let point = todo.point();
    let words = gap_and_height(
        Words::of(Language::English),
        point,
        live.assessment.gate.gate.motion,
    );
    html! {
        p.big { @for line in words.split(", ") { span.line { (capital(line)) } " " } }
        p { (view(Words::of(Language::English), point.direction, point.hazard)) }
    }
}

fn last(live: &Live, places: &[Place<'_>]) -> Markup {
    let Some(hit) = live.last_hit() else {
        return html! {};
    };
    let told = Told::of(live, hit);
    html! {
        section.last aria-labelledby="last-title" {
            h2 #last-title { "Last hit" }
            p { strong { (capital(&told.place)) } " " span.soft { "(" (hit.file) ")" } }
            @for value in &told.over { p.reason { (state_words(Words::of(Language::English), State::Over, Some(1.0))) " by itself: " (value) "." } }
            @if !told.again.is_empty() && !live.is_next(hit) {
                p.reason { (state_words(Words::of(Language::English), State::Undecided, None)) ", to be made again:" }
                ul { @for why in &told.again { li { (why) } } }
            }
            @if !told.values.is_empty() { ul.plain { @for value in &told.values { li { (capital(value)) } } } }
            @for remark in &told.remarks { p { (capital(remark)) "." } }
            (plot(live, places, hit))
        }
    }
}

fn plot(live: &Live, places: &[Place<'_>], hit: &Hit) -> Markup {
    let place = places.iter().find(|place| place.point == hit.point);
    let hits = place.and_then(|place| {
        pulse::of_log(
            Words::of(Language::English),
            &live.assessment,
            place,
            &hit.file,
        )
    });
    html! {
        @if let Some(hits) = hits {
            @match hit::enlarged(Words::of(Language::English), &hits) {
                Ok(drawn) => figure {
                    (drawn)
                    figcaption { "The last hit is the strongest line, the others at this place the thin ones. The grey side of the line is over the peak limit." }
                },
                Err(error) => p { (error) },
            }
        }
    }
}

fn elevations(live: &Live, places: &[Place<'_>]) -> Markup {
    html! {
        section aria-labelledby="where-title" {
            h2 #where-title { "Where the gate stands" }
            (key(Words::of(Language::English)))
            @for (view, points) in views(places) {
                @let (elevation, unknown) = scene::elevation(Words::of(Language::English), &live.assessment, view, &points);
                figure.elevation {
                    h3 { (elevation.title) }
                    div.views {
                        (detail(Words::of(Language::English), &elevation))
                        @if unknown.is_none() { (overview(Words::of(Language::English), &elevation)) }
                    }
                    figcaption { (elevation.statement) @if let Some(unknown) = unknown { " " (unknown) } }
                }
            }
        }
    }
}

fn to_do(live: &Live) -> Markup {
    let (todo, next) = (live.todo(), live.next());
    html! {
        section aria-labelledby="todo-title" {
            h2 #todo-title { "Still to do" }
            @if todo.is_empty() { p { "No hit is left to make." } }
            ol.todo { @for here in todo.chunk_by(|a, b| a.point() == b.point()) { li {
                strong { (capital(&live.place(here[0].point()))) } ": " (hits_of(here, next.as_ref()))
            } } }
            @if !live.remarks.is_empty() {
                h3 { "To be known" }
                ul { @for remark in &live.remarks { li { (remark) } } }
            }
        }
    }
}

/// The hits to make at one place, in words; why the next one is made again stands with it.
fn hits_of(todo: &[Todo], next: Option<&Todo>) -> String {
    let words = |one: &Todo| match one {
        Todo::Again { repeat, .. } if Some(one) == next => format!("hit {repeat} again"),
        Todo::Make { repeat, .. } => format!("hit {repeat}"),
        Todo::Again { repeat, why, .. } => format!("hit {repeat} again ({})", joined(why)),
    };
    todo.iter().map(words).collect::<Vec<_>>().join(", ")
}
