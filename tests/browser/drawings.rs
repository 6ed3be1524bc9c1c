//! The drawings, away from the page.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use relent::limits::{Direction, Motion};
use relent::report::State;
use relent::report::elevation::{detail, overview};
use relent::report::hit::hits;
use relent::report::multiples::multiples;
use relent::report::style::DRAWINGS;

use crate::chromium::{OVERLAPS, look};
use crate::hits_of_a_gate as gate;
use crate::report_gate::english;

fn page(drawn: &Markup) -> String {
    html! { (DOCTYPE) meta charset="utf-8"; style { (PreEscaped(DRAWINGS)) } (drawn) }.into_string()
}

#[test]
fn no_label_of_any_elevation_lies_on_another_or_leaves_its_drawing() {
    let drawn = html! {
        @for motion in [Motion::Sliding, Motion::Swing, Motion::Folding, Motion::Vertical, Motion::Boom] {
            @for direction in [Direction::Closing, Direction::Opening] {
                @let elevation = gate::elevation(motion, direction);
                (overview(english(), &elevation)) (detail(english(), &elevation))
            }
        }
    };
    let seen = look(&page(&drawn), 1200, OVERLAPS);
    assert_eq!(seen.lines, Vec::<String>::new());
    assert_eq!(seen.console, Vec::<String>::new());
}

#[test]
fn no_label_of_the_hits_lies_on_another_or_leaves_its_drawing() {
    let mut held = gate::hits(
        "Never released",
        [431.2, 433.0, 380.0],
        6.0,
        State::Undecided,
    );
    held.mean = None;
    let drawn = html! {
        (hits(english(), &gate::hits("Closing, gap 50 mm", [431.2, 418.0, 405.5], 0.3, State::Over)).unwrap())
        (hits(english(), &gate::hits("Far below", [120.0, 118.0, 105.5], 0.03, State::Within)).unwrap())
        (hits(english(), &held).unwrap())
        (multiples(english(), &gate::grid()).unwrap())
    };
    let seen = look(&page(&drawn), 1200, OVERLAPS);
    assert_eq!(seen.lines, Vec::<String>::new());
    assert_eq!(seen.console, Vec::<String>::new());
}

#[test]
fn the_script_that_finds_overlaps_finds_one() {
    let drawn = html! { svg width="200" height="50" { title { "both" } text x="10" y="20" { "first" } text x="20" y="22" { "second" } } };
    let seen = look(&page(&drawn), 400, OVERLAPS);
    assert_eq!(seen.lines, ["overlap both: first / second"]);
}
