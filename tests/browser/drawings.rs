use maud::html;
use relent::limits::{Direction, Motion};
use relent::report::State;
use relent::report::bar::bar;
use relent::report::elevation::{detail, overview};
use relent::report::hit::hits;
use relent::report::mark::key;
use relent::report::multiples::multiples;
use relent::report::style::DRAWINGS;

use crate::hits_of_a_gate as gate;

#[test]
fn drawings() {
    let mut poor = gate::hits("Poor record", [431.2, 433.0, 380.0], 6.0, State::Undecided);
    poor.mean = None;
    let page = html! {
        (maud::DOCTYPE) meta charset="utf-8"; style { (maud::PreEscaped(DRAWINGS)) "body{max-width:60rem;margin:1rem auto;font:15px sans-serif} svg{max-width:100%;height:auto}@media(prefers-color-scheme:dark){body{background:#16181a;color:#eee}}" }
        (hits(&gate::hits("Closing, gap 50 mm, height 1000 mm", [431.2, 418.0, 405.5], 0.3, State::Over)).unwrap())
        (hits(&poor).unwrap())
        (multiples(&gate::grid()).unwrap())
        (key())
        (bar(State::Within, 0.86, Some(0.05), "86 %")) (bar(State::Over, 1.08, Some(0.05), "")) (bar(State::Undecided, 0.98, Some(0.05), "")) (bar(State::Over, 1.9, Some(0.05), ""))
    };
    write("drawings", page);
    let page = html! {
        (maud::DOCTYPE) meta charset="utf-8"; style { (maud::PreEscaped(DRAWINGS)) "body{font:15px sans-serif;display:grid;grid-template-columns:1fr 1fr} svg{max-width:100%;height:auto}@media(prefers-color-scheme:dark){body{background:#16181a;color:#eee}}" }
        @for motion in [Motion::Sliding, Motion::Swing, Motion::Folding, Motion::Vertical, Motion::Boom] {
            @for direction in [Direction::Closing, Direction::Opening] {
                @let elevation = gate::elevation(motion, direction);
                div { (overview(&elevation)) (detail(&elevation)) }
            }
        }
    };
    write("elevations", page);
}

fn write(name: &str, page: maud::Markup) {
    std::fs::write(
        format!("{}/{name}.html", env!("CARGO_TARGET_TMPDIR")),
        page.into_string(),
    )
    .unwrap();
}
