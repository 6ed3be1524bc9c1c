//! The visit in progress as a page for a screen beside the gate: it asks the watching program for news by itself.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::told::{Told, values_over};
use super::{Live, Todo, because, news};
use crate::report::elevation::{detail, overview};
use crate::report::hit;
use crate::report::mark::key;
use crate::report::page::state_words;
use crate::report::place::{Place, gap_and_height, places, view, views};
use crate::report::sentence::{Sentence, capital};
use crate::report::style::{DRAWINGS, PAGE};
use crate::report::{State, pulse, scene};
use crate::visit::Hit;
use crate::words::Words;

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
pub fn page(words: &Words, live: &Live) -> Vec<u8> {
    let gate = [("gate", live.assessment.gate.gate.name.as_str().into())];
    // The script puts the time in its place.
    let lost = words.with("live-lost", &[("time", "%TIME%".into())]);
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (words.with("live-tab", &gate)) }
                link rel="stylesheet" href="/watch.css";
                noscript { meta http-equiv="refresh" content="3"; }
                script src="/watch.js" defer {}
            }
            body {
                header {
                    h1 { (words.with("live-title", &gate)) }
                    p #lost role="alert" data-told=(lost) hidden {}
                    p #told.out-of-sight role="status" aria-live="polite" {}
                    noscript { p.soft { (words.say("live-without-scripts")) } }
                }
                main #now { (PreEscaped(fragment(words, live))) }
                footer { p { (words.say("caution-while-testing")) } }
            }
        }
    };
    page.into_string().into_bytes()
}

/// The part of the page that changes.
#[must_use]
pub fn fragment(words: &Words, live: &Live) -> String {
    let places = places(&live.assessment);
    let news = html! {
        div #news data-told=(spoken(words, live)) {
            (over(words, live, &places))
            (trouble(words, live))
            (next(words, live))
            (last(words, live, &places))
            (elevations(words, live, &places))
            (to_do(words, live))
        }
    };
    news.into_string()
}

/// What a screen reader is told when the page changes.
fn spoken(words: &Words, live: &Live) -> String {
    let last = live
        .last_hit()
        .map(|hit| Told::of(words, live, hit).line(words));
    let fields = [
        ("last", last.unwrap_or_else(|| "none".to_owned()).into()),
        ("next", news::next(words, live).into()),
    ];
    words.with("live-spoken", &fields)
}

fn trouble(words: &Words, live: &Live) -> Markup {
    html! {
        @if !live.faults.is_empty() || !live.unplaced.is_empty() {
            section.trouble aria-labelledby="trouble-title" {
                h2 #trouble-title { (words.say("live-trouble")) }
                ul { @for line in live.faults.iter().chain(&live.unplaced) { li { (line) } } }
            }
        }
    }
}

/// The places that are over the limit, above everything else.
fn over(words: &Words, live: &Live, places: &[Place<'_>]) -> Markup {
    let over: Vec<&Place<'_>> = places
        .iter()
        .filter(|place| place.state() == State::Over)
        .collect();
    html! {
        @if !over.is_empty() {
            section.trouble.is-over aria-labelledby="over-title" {
                h2 #over-title { (state_words(words, State::Over, Some(1.0))) }
                ul { @for place in over { li { (capital(&live.place(words, &place.point))) ": " (values_over(words, place)) } } }
                p { (words.say("report-until-corrected")) }
            }
        }
    }
}

fn next(words: &Words, live: &Live) -> Markup {
    let heading = match (live.next(), live.complete()) {
        (Some(_), _) => "live-heading-next",
        (None, true) => "live-heading-complete",
        (None, false) => "live-heading-not-complete",
    };
    html! {
        section.next aria-labelledby="next-title" {
            h2 #next-title { (words.say(heading)) }
            @match live.next() {
                Some(todo) => {
                    (place(words, live, &todo))
                    @match &todo {
                        Todo::Make { save_as, .. } => {
                            p.big { (words.with("live-hit-of", &todo.fields())) }
                            @match save_as {
                                Some(name) => p.save { (words.say("live-save-under")) " " code { (name) } },
                                None => p.save { (words.say("live-no-pattern")) },
                            }
                        }
                        Todo::Again { why, .. } => {
                            p.big { (words.with("live-hit-again", &todo.fields())) }
                            p.reason { (state_words(words, State::Undecided, None)) ": " (because(words, why)) "." }
                            p.save { (words.with("live-save-again", &todo.fields())) }
                        }
                    }
                }
                None => (end(words, live)),
            }
            @for one in &live.coming { p.save { (one.text(words)) } }
            p { (live.standing(words)) }
        }
    }
}

/// What stands where no hit is left to make.
fn end(words: &Words, live: &Live) -> Markup {
    let places = places(&live.assessment);
    let sentence = Sentence::of(words, &live.assessment, &places);
    html! {
        @if let Some(why) = live.open() {
            p.verdict { (capital(&words.fact(&why))) "." }
        } @else {
            p.verdict { (sentence.subject) " " strong { (sentence.outcome) } ". " (sentence.counts) }
            @for reason in live.assessment.overall().reasons { p { (capital(&words.fact(&reason))) "." } }
        }
    }
}

/// A place in type to be read at arm's length: gap and height each on a line.
fn place(words: &Words, live: &Live, todo: &Todo) -> Markup {
    let point = todo.point();
    let lines = gap_and_height(words, point, live.assessment.gate.gate.motion);
    html! {
        p.big { @for line in lines.split(", ") { span.line { (capital(line)) } " " } }
        p { (view(words, point.direction, point.hazard)) }
    }
}

fn last(words: &Words, live: &Live, places: &[Place<'_>]) -> Markup {
    let Some(hit) = live.last_hit() else {
        return html! {};
    };
    let told = Told::of(words, live, hit);
    html! {
        section.last aria-labelledby="last-title" {
            h2 #last-title { (words.say("live-heading-last")) }
            p { strong { (capital(&told.place)) } " " span.soft { "(" (hit.file) ")" } }
            @for value in &told.over { p.reason { (state_words(words, State::Over, Some(1.0))) " " (words.with("live-by-itself", &[("value", value.as_str().into())])) } }
            @if !told.again.is_empty() && !live.is_next(hit) {
                p.reason { (state_words(words, State::Undecided, None)) " " (words.say("live-to-repeat")) }
                ul { @for why in &told.again { li { (why.text(words)) } } }
            }
            @if !told.values.is_empty() { ul.plain { @for value in &told.values { li { (capital(value)) } } } }
            @for remark in &told.remarks { p { (capital(remark)) "." } }
            (plot(words, live, places, hit))
        }
    }
}

fn plot(words: &Words, live: &Live, places: &[Place<'_>], hit: &Hit) -> Markup {
    let place = places.iter().find(|place| place.point == hit.point);
    let hits = place.and_then(|place| pulse::of_log(words, &live.assessment, place, &hit.file));
    html! {
        @if let Some(hits) = hits {
            @match hit::enlarged(words, &hits) {
                Ok(drawn) => figure {
                    (drawn)
                    figcaption { (words.say("live-plot-caption")) }
                },
                Err(error) => p { (error) },
            }
        }
    }
}

fn elevations(words: &Words, live: &Live, places: &[Place<'_>]) -> Markup {
    html! {
        section aria-labelledby="where-title" {
            h2 #where-title { (words.say("live-heading-points")) }
            (key(words))
            @for (view, points) in views(places) {
                @let (elevation, unknown) = scene::elevation(words, &live.assessment, view, &points);
                figure.elevation {
                    h3 { (elevation.title) }
                    div.views {
                        (detail(words, &elevation))
                        @if unknown.is_none() { (overview(words, &elevation)) }
                    }
                    figcaption { (elevation.statement) @if let Some(unknown) = unknown { " " (unknown) } }
                }
            }
        }
    }
}

fn to_do(words: &Words, live: &Live) -> Markup {
    let (todo, next) = (live.todo(), live.next());
    html! {
        section aria-labelledby="todo-title" {
            h2 #todo-title { (words.say("live-heading-todo")) }
            @if todo.is_empty() { p { (words.say("live-nothing-to-do")) } }
            ol.todo { @for here in todo.chunk_by(|a, b| a.point() == b.point()) { li {
                strong { (capital(&live.place(words, here[0].point()))) } ": " (hits_of(words, here, next.as_ref()))
            } } }
            @if !live.remarks.is_empty() {
                h3 { (words.say("live-heading-remarks")) }
                ul { @for remark in &live.remarks { li { (remark) } } }
            }
        }
    }
}

/// The hits to make at one place; why the next one is made again stands with it.
fn hits_of(words: &Words, todo: &[Todo], next: Option<&Todo>) -> String {
    let one = |one: &Todo| {
        let mut fields = one.fields();
        let id = match one {
            Todo::Make { .. } => "live-list-make",
            Todo::Again { .. } if Some(one) == next => "live-list-again",
            Todo::Again { why, .. } => {
                fields.push(("why", because(words, why).into()));
                "live-list-again-because"
            }
        };
        words.with(id, &fields)
    };
    words.list(&todo.iter().map(one).collect::<Vec<_>>())
}
