//! The visit in progress in small, for a terminal: what comes next, the last hit, the elevation as text where it fits.

use std::fmt::Write;

use super::told::{Told, joined, values_over};
use super::{Live, Todo, again_under, news};
use crate::report::State;
use crate::report::place::{Place, places, views};
use crate::report::terminal::{WIDE_ENOUGH, elevation, sign, styled, wrapped};

/// The view as lines with ANSI styles for a window of `width` columns. State is told by sign and word, never by colour alone.
#[must_use]
pub fn terminal(live: &Live, width: usize) -> String {
    let width = width.max(20);
    let places = places(&live.assessment);
    let gate = &live.assessment.gate;
    let day = gate
        .visit
        .as_ref()
        .map_or_else(String::new, |visit| format!(", {}", visit.date));
    let mut blocks = vec![
        vec![format!("{}{day}. {}", gate.gate.name, live.standing())],
        first(live, &places),
        next(live),
        last(live),
    ];
    if width >= WIDE_ENOUGH {
        let drawn = views(&places)
            .into_iter()
            .map(|(key, points)| elevation(&live.assessment, key, &points, width));
        blocks.extend(drawn.map(|drawn| {
            drawn
                .lines()
                .map(|line| format!("{AS_IT_STANDS}{line}"))
                .collect()
        }));
    }
    blocks.push(rest(live));
    let mut text = String::new();
    for block in blocks.iter().filter(|block| !block.is_empty()) {
        if !text.is_empty() {
            text.push('\n');
        }
        for line in block.iter().flat_map(|line| fitted(line, width)) {
            let _ = writeln!(text, "{line}");
        }
    }
    text
}

/// Before a line that is not to be wrapped.
const AS_IT_STANDS: char = '\u{2}';
/// Before a line that is to be indented.
const INDENTED: char = '\u{3}';

/// A line in as many as the width asks for.
fn fitted(line: &str, width: usize) -> Vec<String> {
    if let Some(line) = line.strip_prefix(AS_IT_STANDS) {
        return vec![line.to_owned()];
    }
    match line.strip_prefix(INDENTED) {
        Some(line) => wrapped(line, width - 6, 0)
            .into_iter()
            .map(|line| format!("      {line}"))
            .collect(),
        None => wrapped(line, width - 2, 2),
    }
}

/// What must be seen before anything else: what is over the limit, and what keeps the rest from being seen.
fn first(live: &Live, places: &[Place<'_>]) -> Vec<String> {
    let over = places.iter().filter(|place| place.state() == State::Over);
    let over = over.map(|place| {
        let words = format!(
            "over the limit: {}: {}",
            live.place(&place.point),
            values_over(place)
        );
        marked(State::Over, &words)
    });
    over.chain(
        live.faults
            .iter()
            .map(|fault| marked(State::Undecided, fault)),
    )
    .collect()
}

fn marked(state: State, line: &str) -> String {
    format!("{} {line}", styled(state, &sign(state).to_string()))
}

fn next(live: &Live) -> Vec<String> {
    let head = |words: String| format!("\u{1b}[1mNext: {words}\u{1b}[0m");
    match live.next() {
        Some(Todo::Make {
            point,
            repeat,
            wanted,
            save_as,
        }) => vec![
            head(format!("{}, hit {repeat} of {wanted}", live.place(&point))),
            match save_as {
                Some(name) => format!("{INDENTED}save it as {name}"),
                None => {
                    format!("{INDENTED}the gate file has no pattern of names that says this hit")
                }
            },
        ],
        Some(Todo::Again {
            point,
            repeat,
            file,
            why,
        }) => vec![
            head(format!("{}, hit {repeat} again", live.place(&point))),
            format!("{INDENTED}{}", again_under(&file)),
            marked(State::Undecided, &joined(&why)),
        ],
        None => vec![news::next(live)],
    }
}

fn last(live: &Live) -> Vec<String> {
    let Some(hit) = live.last_hit() else {
        return Vec::new();
    };
    let told = Told::of(live, hit);
    let mut lines = vec![format!("Last: {} ({})", told.place, hit.file)];
    let over = told.over.iter();
    lines.extend(
        over.map(|value| marked(State::Over, &format!("over the limit by itself: {value}"))),
    );
    if !live.is_next(hit) {
        let again = told.again.iter();
        lines
            .extend(again.map(|why| marked(State::Undecided, &format!("to be made again: {why}"))));
    }
    let plain = told.values.iter().chain(&told.remarks);
    lines.extend(plain.map(|line| format!("{INDENTED}{line}")));
    lines
}

/// What else must be known: files without a place, logs that are still being written, the other hits to be made again.
fn rest(live: &Live) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(
        live.unplaced
            .iter()
            .map(|line| marked(State::Undecided, line)),
    );
    for coming in &live.coming {
        let words = coming.words.as_deref().unwrap_or("being written");
        lines.push(format!("… {}: {words}", coming.file));
    }
    lines.extend(live.remarks.iter().cloned());
    let next = live.next();
    for todo in live.todo() {
        let Todo::Again { why, file, .. } = &todo else {
            continue;
        };
        let shown = Some(&todo) == next.as_ref() || live.last.as_ref() == Some(file);
        if !shown {
            lines.push(marked(
                State::Undecided,
                &format!("{}: {}", live.todo_words(&todo), joined(why)),
            ));
        }
    }
    lines
}
