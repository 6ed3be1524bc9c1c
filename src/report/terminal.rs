//! The assessment in small, for a terminal: the sentence, the elevation as text where it fits, and what is not within.

use std::fmt::Write;

use super::State;
use super::place::{Place, gap_and_height, places, state, together, view, views};
use super::scene::grid;
use super::sentence::Sentence;
use crate::fact::Fact;
use crate::limits::{Motion, TestPoint};
use crate::verdict::{Finding, OpenItem};
use crate::visit::{Assessment, Told};
use crate::words::Words;

/// Narrower windows get no elevation.
pub(super) const WIDE_ENOUGH: usize = 60;
/// The width of a line where there is no window.
const USUAL: usize = 80;

/// The summary as lines with ANSI styles; a writer that wants none strips them. State is told by sign and word, never by
/// colour alone. `width` is that of the window, `None` where there is none.
#[must_use]
pub fn terminal(words: &Words, assessment: &Assessment, width: Option<usize>) -> String {
    let width = width.unwrap_or(USUAL).max(20);
    let places = places(assessment);
    let sentence = Sentence::of(words, assessment, &places);
    let mut text = String::new();
    for line in wrapped(&sentence.text(), width, 0) {
        let _ = writeln!(text, "{line}");
    }
    if width >= WIDE_ENOUGH {
        for (key, points) in views(&places) {
            let _ = write!(
                text,
                "\n{}",
                elevation(words, assessment, key, &points, width)
            );
        }
    }
    text.push_str(&not_within(words, assessment, width));
    for line in open(words, assessment) {
        for line in wrapped(&line, width, 2) {
            let _ = writeln!(text, "{line}");
        }
    }
    let mut told = assessment.told();
    // The sentence says it.
    told.retain(|one| !matches!(one, Told::OwnLimits { .. }));
    for (index, told) in told.into_iter().enumerate() {
        if index == 0 {
            text.push('\n');
        }
        for line in wrapped(&words.fact(&told), width, 2) {
            let _ = writeln!(text, "{line}");
        }
    }
    text.push('\n');
    for line in wrapped(&words.say("caution-standing"), width, 0) {
        let _ = writeln!(text, "{line}");
    }
    text
}

/// The sign of a state: a shape of its own, as in the report's drawings.
pub(super) const fn sign(state: State) -> char {
    match state {
        State::Within => '●',
        State::Over => '▲',
        State::Undecided => '◆',
        State::NotTested => '□',
    }
}

/// The styles of texts for a terminal: over, undecided, and the end of either.
pub const STYLES: [&str; 3] = ["\u{1b}[1;31m", "\u{1b}[1;34m", "\u{1b}[0m"];

pub(super) fn styled(state: State, text: &str) -> String {
    let [over, undecided, end] = STYLES;
    match state {
        State::Within | State::NotTested => text.to_owned(),
        State::Over => format!("{over}{text}{end}"),
        State::Undecided => format!("{undecided}{text}{end}"),
    }
}

/// The points of a view in the grid of its elevation; empty if it is wider than the window.
pub(super) fn elevation(
    words: &Words,
    assessment: &Assessment,
    key: (crate::limits::Direction, crate::limits::Hazard),
    points: &[&Place<'_>],
    width: usize,
) -> String {
    let undrawn: Vec<_> = points.iter().map(|place| (*place, None)).collect();
    let grid = grid(words, assessment.gate.gate.motion, key, &undrawn);
    let cell = |row: usize, column: usize| {
        let found = grid
            .cells
            .iter()
            .find(|cell| cell.row == row && cell.column == column);
        found.map(|cell| {
            let number = if cell.number.is_empty() {
                "–"
            } else {
                &cell.number
            };
            (cell.state, format!("{} {number}", sign(cell.state)))
        })
    };
    let widths: Vec<usize> = (0..grid.columns.len())
        .map(|column| {
            let cells = (0..grid.rows.len())
                .filter_map(|row| cell(row, column))
                .map(|(_, text)| text.chars().count());
            cells
                .chain([grid.columns[column].chars().count()])
                .max()
                .unwrap_or(0)
        })
        .collect();
    let side = grid
        .rows
        .iter()
        .map(|row| row.chars().count())
        .max()
        .unwrap_or(0);
    if side + widths.iter().map(|width| width + 3).sum::<usize>() > width {
        return String::new();
    }
    let mut text = format!("{}\n{:side$}", view(words, key.0, key.1), "");
    for (heading, width) in grid.columns.iter().zip(&widths) {
        let _ = write!(text, "   {heading:<width$}");
    }
    for (row, heading) in grid.rows.iter().enumerate() {
        let _ = write!(text, "\n{heading:>side$}");
        for (column, width) in widths.iter().enumerate() {
            let (state, shown) = cell(row, column).unwrap_or((State::Within, String::new()));
            let pad = " ".repeat(width - shown.chars().count());
            let _ = write!(text, "   {}{pad}", styled(state, &shown));
        }
    }
    text.push('\n');
    let key = State::TOLD.map(|state| format!("{} {}", sign(state), words.fact(&state)));
    for line in wrapped(&key.join(" · "), width, 0) {
        let _ = writeln!(text, "{line}");
    }
    text
}

/// A place as the gauge is set up: direction, part where it is not the closing edge, gap and height.
pub(super) fn place_text(words: &Words, point: &TestPoint, motion: Motion) -> String {
    let fields = [
        ("direction", words.fact(&point.direction).into()),
        ("hazard", words.fact(&point.hazard).into()),
        ("hazard_code", point.hazard.code().into()),
        ("where", gap_and_height(words, point, motion).into()),
    ];
    words.with("terminal-place", &fields)
}

/// Every finding that decides and is not within, and every missing hit.
fn not_within(words: &Words, assessment: &Assessment, width: usize) -> String {
    let motion = assessment.gate.gate.motion;
    let mut text = String::new();
    let mut add = |state: State, line: &str| {
        let lines = wrapped(line, width - 2, 2);
        let _ = writeln!(
            text,
            "{} {}",
            styled(state, &sign(state).to_string()),
            lines.join("\n").trim_start()
        );
    };
    for wanted in [State::Over, State::Undecided] {
        let findings = assessment.findings.iter();
        let standing: Vec<&Finding> = findings
            .filter(|finding| finding.counts() && state(finding) == wanted)
            .collect();
        for group in together(&standing) {
            let place = match &group.findings[0].test_point {
                Some(point) => place_text(words, point, motion),
                None => words.say("terminal-no-test-point").into_owned(),
            };
            let id = match wanted {
                State::Undecided => "terminal-undecided",
                _ if group.reasons.is_empty() => "terminal-state",
                _ => "terminal-state-and-reasons",
            };
            let fields = [
                ("place", place.into()),
                ("values", group.values(words).into()),
                ("state", words.fact(&wanted).into()),
                ("reasons", group.because(words).into()),
            ];
            add(wanted, &words.with(id, &fields));
        }
    }
    for one in &assessment.missing {
        let fields = [
            ("place", place_text(words, &one.point, motion).into()),
            ("found", one.found.into()),
            ("wanted", one.wanted.into()),
        ];
        add(State::NotTested, &words.with("terminal-missing", &fields));
    }
    if text.is_empty() {
        text
    } else {
        format!("\n{text}")
    }
}

/// Why the whole is open, but for the findings and points that were told one by one.
fn open(words: &Words, assessment: &Assessment) -> Vec<String> {
    let mut reasons = assessment.overall().reasons;
    reasons.retain(|one| {
        !matches!(
            one,
            OpenItem::FindingsUndecided { .. } | OpenItem::PointsIncomplete { .. }
        )
    });
    let sign = styled(State::Undecided, &sign(State::Undecided).to_string());
    let told = words.facts(&reasons);
    told.into_iter()
        .map(|one| format!("{sign} {one}"))
        .collect()
}

/// A text in lines of at most a width; all but the first are indented. A longer word gets a line of its own.
pub(super) fn wrapped(text: &str, width: usize, indent: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let wide = line.chars().count() + 1 + word.chars().count();
        if !line.trim().is_empty() && wide > width {
            lines.push(line);
            line = " ".repeat(indent);
        } else if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}
