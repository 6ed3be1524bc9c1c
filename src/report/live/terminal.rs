//! The visit in progress in small, for a terminal: what comes next, the last hit, the elevation as text where it fits.

use std::fmt::Write;

use super::told::{Told, joined};
use super::{Live, Todo, again_under, news};
use crate::report::State;
use crate::report::place::{places, views};
use crate::report::terminal::{WIDE_ENOUGH, elevation, sign, styled, wrapped};

/// The view as lines with ANSI styles for a window of `width` columns. State is told by sign and word, never by colour alone.
#[must_use]
pub fn terminal(live: &Live, width: usize) -> String {
    let width = width.max(20);
    let mut text = String::new();
    let mut add = |line: &str| {
        for line in wrapped(line, width - 2, 2) {
            let _ = writeln!(text, "{line}");
        }
    };
    let gate = &live.assessment.gate;
    let day = gate
        .visit
        .as_ref()
        .map_or_else(String::new, |visit| format!(", {}", visit.date));
    add(&format!("{}{day}. {}", gate.gate.name, live.standing()));
    add("");
    for fault in &live.faults {
        add(&marked(State::Undecided, fault));
    }
    let places = places(&live.assessment);
    for place in places.iter().filter(|place| place.state() == State::Over) {
        let words = format!(
            "over the limit: {}: {}",
            live.place(&place.point),
            place.number()
        );
        add(&marked(State::Over, &words));
    }
    for line in next(live) {
        add(&line);
    }
    if let Some(hit) = live.last_hit() {
        add("");
        let told = Told::of(live, hit);
        add(&format!("Last  {} ({})", told.place, hit.file));
        for line in last(&told) {
            add(&line);
        }
    }
    if width >= WIDE_ENOUGH {
        for (key, points) in views(&places) {
            let _ = write!(
                text,
                "\n{}",
                elevation(&live.assessment, key, &points, width)
            );
        }
    }
    let rest = rest(live);
    if !rest.is_empty() {
        text.push('\n');
    }
    for line in rest {
        for line in wrapped(&line, width - 2, 2) {
            let _ = writeln!(text, "{line}");
        }
    }
    text
}

fn marked(state: State, line: &str) -> String {
    format!("{} {line}", styled(state, &sign(state).to_string()))
}

fn next(live: &Live) -> Vec<String> {
    match live.next() {
        Some(Todo::Make {
            point,
            repeat,
            wanted,
            save_as,
        }) => {
            let mut lines = vec![styled_next(&format!(
                "{}, hit {repeat} of {wanted}",
                live.place(&point)
            ))];
            lines.push(match save_as {
                Some(name) => format!("      save it as {name}"),
                None => "      the gate file has no pattern of names that says this hit".to_owned(),
            });
            lines
        }
        Some(Todo::Again {
            point,
            repeat,
            file,
            why,
        }) => vec![
            styled_next(&format!("{}, hit {repeat} again", live.place(&point))),
            format!("      {}", again_under(&file)),
            marked(State::Undecided, &joined(&why)),
        ],
        None => vec![news::next(live)],
    }
}

fn styled_next(words: &str) -> String {
    let bold = anstyle::Style::new().bold();
    format!("{bold}Next  {words}{bold:#}")
}

fn last(told: &Told) -> Vec<String> {
    let mut lines: Vec<String> = told
        .values
        .iter()
        .map(|value| format!("      {value}"))
        .collect();
    let over = told
        .over
        .iter()
        .map(|value| marked(State::Over, &format!("over the limit by itself: {value}")));
    lines.extend(over);
    let again = told
        .again
        .iter()
        .map(|why| marked(State::Undecided, &format!("to be made again: {why}")));
    lines.extend(again);
    lines.extend(told.remarks.iter().map(|remark| format!("      {remark}")));
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
