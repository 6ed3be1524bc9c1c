//! What has happened since the last look, one line each.

use super::Live;
use super::told::Told;
use crate::report::State;
use crate::report::place::{Place, places};
use crate::report::sentence::Sentence;
use crate::visit::Hit;
use crate::words::Words;

/// What is to be told now, one plain line an event; everything where there is no `before`.
#[must_use]
pub fn news(words: &Words, before: Option<&Live>, now: &Live) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(faults(words, before, now));
    lines.extend(fresh(before.map(|it| it.remarks.as_slice()), &now.remarks));
    lines.extend(fresh(
        before.map(|it| it.unplaced.as_slice()),
        &now.unplaced,
    ));
    lines.extend(slow(words, before, now));
    if let Some(before) = before {
        lines.extend(gone(words, before, now));
    }
    let hits = hits(words, before, now);
    let assessed = !hits.is_empty();
    lines.extend(hits);
    lines.extend(points(words, before, now));
    // A log that is only coming changes what comes next; that is told once it is assessed.
    let another = |before: &Live| now.coming.is_empty() && next(words, before) != next(words, now);
    if assessed || before.is_none_or(another) {
        lines.push(next(words, now));
    }
    lines
}

/// The lines that were not there before.
fn fresh(before: Option<&[String]>, now: &[String]) -> Vec<String> {
    let known = |line: &&String| !before.is_some_and(|before| before.contains(line));
    now.iter().filter(known).cloned().collect()
}

fn faults(words: &Words, before: Option<&Live>, now: &Live) -> Vec<String> {
    let old = before.map_or(&[][..], |before| &before.faults);
    let mut lines = fresh(Some(old), &now.faults);
    if !old.is_empty() && now.faults.is_empty() {
        lines.push(words.say("live-faults-gone").into_owned());
    }
    lines
}

/// Logs that are being written for longer than a log should be.
fn slow(words: &Words, before: Option<&Live>, now: &Live) -> Vec<String> {
    let line = |live: &Live| -> Vec<String> {
        let slow = live.coming.iter().filter(|one| one.slow.is_some());
        slow.map(|one| one.text(words)).collect()
    };
    fresh(before.map(line).as_deref(), &line(now))
}

/// Hits that no longer count.
fn gone(words: &Words, before: &Live, now: &Live) -> Vec<String> {
    let lost = before
        .assessment
        .hits
        .iter()
        .filter(|hit| find(now, &hit.file).is_none());
    let line = |hit: &Hit| {
        let file = hit.file.as_str();
        let id = if now.coming.iter().any(|one| one.file == file) {
            "live-changed"
        } else if now.unplaced.iter().any(|line| line.contains(file)) {
            "live-no-longer-counts"
        } else {
            "live-gone"
        };
        words.with(id, &[("file", file.into())])
    };
    lost.map(line).collect()
}

fn find<'a>(live: &'a Live, file: &str) -> Option<&'a Hit> {
    live.assessment.hits.iter().find(|hit| hit.file == file)
}

/// Hits that are new or stand otherwise than before: a copy is told of both logs.
fn hits(words: &Words, before: Option<&Live>, now: &Live) -> Vec<String> {
    let mut lines = Vec::new();
    for hit in &now.assessment.hits {
        let told = Told::of(words, now, hit);
        let same = before.is_some_and(|before| {
            let old = find(before, &hit.file).filter(|old| old.sha256 == hit.sha256);
            old.is_some_and(|old| {
                let was = Told::of(words, before, old);
                was.gist() == told.gist() && was.place == told.place
            })
        });
        if !same {
            lines.push(format!("{}: {}", hit.file, told.line(words)));
        }
    }
    lines
}

/// Test points that are decided now, or are so no longer.
fn points(words: &Words, before: Option<&Live>, now: &Live) -> Vec<String> {
    let old = before
        .map(|before| places(&before.assessment))
        .unwrap_or_default();
    let decided = |place: &Place<'_>| match place.state() {
        state @ (State::Over | State::Within) => Some(state),
        State::Undecided | State::NotTested => None,
    };
    let mut lines = Vec::new();
    for place in places(&now.assessment) {
        let was = old
            .iter()
            .find(|old| old.point == place.point)
            .and_then(decided);
        let is = decided(&place);
        if was == is {
            continue;
        }
        let mut fields = vec![("place", now.place(words, &place.point).into())];
        fields.extend(is.map(|state| ("state", words.fact(&state).into())));
        let Some(finding) = place.deciding().filter(|_| is.is_some()) else {
            lines.push(words.with("live-point-open", &fields));
            continue;
        };
        fields.extend([
            ("measure", words.fact(&finding.limit.measure).into()),
            ("value", place.number(words).into()),
            ("limit", finding.limit.value.into()),
            ("unit", finding.limit.unit().into()),
        ]);
        lines.push(words.with(
            match is {
                Some(State::Over) => "live-point-over",
                _ => "live-point",
            },
            &fields,
        ));
    }
    lines
}

/// What comes next, in a line.
pub(super) fn next(words: &Words, live: &Live) -> String {
    let standing = live.standing(words);
    let (id, what) = match (live.next(), live.open()) {
        (Some(todo), _) => ("live-next", live.todo_text(words, &todo)),
        (None, Some(why)) => ("live-not-complete", words.fact(&why)),
        (None, None) => ("live-complete", verdict(words, live)),
    };
    words.with(id, &[("standing", standing.into()), ("what", what.into())])
}

/// The verdict on what was assessed, in a sentence.
pub(super) fn verdict(words: &Words, live: &Live) -> String {
    let places = places(&live.assessment);
    let mut text = Sentence::of(words, &live.assessment, &places).text();
    for reason in live.assessment.overall().reasons {
        text.push_str(&format!(
            " {}.",
            crate::report::sentence::capital(words.fact(&reason).trim_end_matches('.'))
        ));
    }
    text
}
