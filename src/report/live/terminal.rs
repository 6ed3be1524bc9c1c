//! The visit in progress in small, for a terminal: what comes next, the last hit, the elevation as text where it fits.

use std::fmt::Write;

use super::told::{Told, values_over};
use super::{Live, Todo, because, news};
use crate::report::State;
use crate::report::place::{Place, places, views};
use crate::report::terminal::{WIDE_ENOUGH, elevation, sign, styled, wrapped};
use crate::words::Words;

/// The view as lines with ANSI styles for a window of `width` columns. State is told by sign and word, never by colour alone.
#[must_use]
pub fn terminal(words: &Words, live: &Live, width: usize) -> String {
    let width = width.max(20);
    let places = places(&live.assessment);
    let gate = &live.assessment.gate;
    let day = gate
        .visit
        .as_ref()
        .map_or_else(|| "none".to_owned(), |visit| visit.date.to_string());
    let head = [
        ("gate", gate.gate.name.as_str().into()),
        ("day", day.into()),
        ("standing", live.standing(words).into()),
    ];
    let mut blocks = vec![
        vec![words.with("live-head", &head)],
        first(words, live, &places),
        next(words, live),
        last(words, live),
    ];
    if width >= WIDE_ENOUGH {
        let drawn = views(&places)
            .into_iter()
            .map(|(key, points)| elevation(words, &live.assessment, key, &points, width));
        blocks.extend(drawn.map(|drawn| {
            drawn
                .lines()
                .map(|line| format!("{AS_IT_STANDS}{line}"))
                .collect()
        }));
    }
    blocks.push(rest(words, live));
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
fn first(words: &Words, live: &Live, places: &[Place<'_>]) -> Vec<String> {
    let over = places.iter().filter(|place| place.state() == State::Over);
    let over = over.map(|place| {
        let fields = [
            ("place", live.place(words, &place.point).into()),
            ("values", values_over(words, place).into()),
        ];
        marked(State::Over, &words.with("live-over", &fields))
    });
    let faults = live.faults.iter();
    over.chain(faults.map(|fault| marked(State::Undecided, fault)))
        .collect()
}

fn marked(state: State, line: &str) -> String {
    format!("{} {line}", styled(state, &sign(state).to_string()))
}

fn next(words: &Words, live: &Live) -> Vec<String> {
    let Some(todo) = live.next() else {
        return vec![news::next(words, live)];
    };
    let mut fields = todo.fields();
    fields.push(("place", live.place(words, todo.point()).into()));
    let bold = |text: String| format!("\u{1b}[1m{text}\u{1b}[0m");
    match &todo {
        Todo::Make { save_as, .. } => vec![
            bold(words.with("live-next-make", &fields)),
            match save_as {
                Some(_) => format!("{INDENTED}{}", words.with("live-save-as", &fields)),
                None => format!("{INDENTED}{}", words.say("live-no-pattern")),
            },
        ],
        Todo::Again { why, .. } => vec![
            bold(words.with("live-next-again", &fields)),
            format!("{INDENTED}{}", words.with("live-save-again", &fields)),
            marked(State::Undecided, &because(words, why)),
        ],
    }
}

fn last(words: &Words, live: &Live) -> Vec<String> {
    let Some(hit) = live.last_hit() else {
        return Vec::new();
    };
    let told = Told::of(words, live, hit);
    let fields = [
        ("place", told.place.as_str().into()),
        ("file", hit.file.as_str().into()),
    ];
    let mut lines = vec![words.with("live-last", &fields)];
    let lead = |id, part: &str| words.with(id, &[("parts", part.into())]);
    let over = told.over.iter();
    lines.extend(over.map(|value| marked(State::Over, &lead("live-told-over", value))));
    if !live.is_next(hit) {
        let again = told.again.iter().map(|why| why.text(words));
        let again = again.map(|why| lead("live-told-again", &why));
        lines.extend(again.map(|why| marked(State::Undecided, &why)));
    }
    let plain = told.values.iter().chain(&told.remarks);
    lines.extend(plain.map(|line| format!("{INDENTED}{line}")));
    lines
}

/// What else must be known: files without a place, logs that are still being written, the other hits to be made again.
fn rest(words: &Words, live: &Live) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(
        live.unplaced
            .iter()
            .map(|line| marked(State::Undecided, line)),
    );
    lines.extend(
        live.coming
            .iter()
            .map(|one| format!("… {}", one.text(words))),
    );
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
                &format!("{}: {}", live.todo_text(words, &todo), because(words, why)),
            ));
        }
    }
    lines
}
