//! What has happened since the last look, one line each.

use super::Live;
use super::told::Told;
use crate::report::State;
use crate::report::place::{Place, places};
use crate::report::sentence::Sentence;
use crate::visit::Hit;
use crate::words::{Language, Words};

/// What is to be told now, one plain line an event; everything where there is no `before`.
#[must_use]
pub fn news(before: Option<&Live>, now: &Live) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(faults(before, now));
    lines.extend(fresh(before.map(|it| it.remarks.as_slice()), &now.remarks));
    lines.extend(fresh(
        before.map(|it| it.unplaced.as_slice()),
        &now.unplaced,
    ));
    lines.extend(slow(before, now));
    if let Some(before) = before {
        lines.extend(gone(before, now));
    }
    let hits = hits(before, now);
    let judged = !hits.is_empty();
    lines.extend(hits);
    lines.extend(points(before, now));
    // A log that is only coming changes what comes next; that is told once it is judged.
    let another = |before: &Live| now.coming.is_empty() && next(before) != next(now);
    if judged || before.is_none_or(another) {
        lines.push(next(now));
    }
    lines
}

/// The lines that were not there before.
fn fresh(before: Option<&[String]>, now: &[String]) -> Vec<String> {
    let known = |line: &&String| !before.is_some_and(|before| before.contains(line));
    now.iter().filter(known).cloned().collect()
}

fn faults(before: Option<&Live>, now: &Live) -> Vec<String> {
    let old = before.map_or(&[][..], |before| &before.faults);
    let mut lines = fresh(Some(old), &now.faults);
    if !old.is_empty() && now.faults.is_empty() {
        lines.push("everything can be seen again".to_owned());
    }
    lines
}

/// Logs that are being written for longer than a log should be.
fn slow(before: Option<&Live>, now: &Live) -> Vec<String> {
    let line = |live: &Live| -> Vec<String> {
        let told = live
            .coming
            .iter()
            .filter_map(|one| Some((&one.file, one.words.as_ref()?)));
        told.map(|(file, words)| format!("{file}: {words}"))
            .collect()
    };
    fresh(before.map(line).as_deref(), &line(now))
}

/// Hits that no longer count.
fn gone(before: &Live, now: &Live) -> Vec<String> {
    let lost = before
        .assessment
        .hits
        .iter()
        .filter(|hit| find(now, &hit.file).is_none());
    let line = |hit: &Hit| {
        let file = &hit.file;
        if now.coming.iter().any(|one| one.file == *file) {
            format!("{file}: changed; it is judged again once it is written")
        } else if now.unplaced.iter().any(|line| line.contains(file.as_str())) {
            format!("{file}: no longer counts")
        } else {
            format!("{file}: is gone from the folder; its hit no longer counts")
        }
    };
    lost.map(line).collect()
}

fn find<'a>(live: &'a Live, file: &str) -> Option<&'a Hit> {
    live.assessment.hits.iter().find(|hit| hit.file == file)
}

/// Hits that are new or stand otherwise than before: a copy is told of both logs.
fn hits(before: Option<&Live>, now: &Live) -> Vec<String> {
    let mut lines = Vec::new();
    for hit in &now.assessment.hits {
        let told = Told::of(now, hit);
        let same = before.is_some_and(|before| {
            let old = find(before, &hit.file).filter(|old| old.sha256 == hit.sha256);
            old.is_some_and(|old| {
                let was = Told::of(before, old);
                was.gist() == told.gist() && was.place == told.place
            })
        });
        if !same {
            lines.push(format!("{}: {}", hit.file, told.line()));
        }
    }
    lines
}

/// Test points that are decided now, or are so no longer.
fn points(before: Option<&Live>, now: &Live) -> Vec<String> {
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
        let words = match is {
            Some(State::Over) => "▲ over the limit".to_owned(),
            Some(state) => Words::of(Language::English).fact(&state),
            None => "no longer decided".to_owned(),
        };
        let deciding = place.deciding().filter(|_| is.is_some());
        let value = deciding.map(|finding| {
            let limit = &finding.limit;
            format!(
                ": {} {} (limit {} {})",
                Words::of(Language::English).fact(&limit.measure),
                place.number(Words::of(Language::English)),
                limit.value,
                limit.unit()
            )
        });
        lines.push(format!(
            "{}: {words}{}",
            now.place(&place.point),
            value.unwrap_or_default()
        ));
    }
    lines
}

/// What comes next, in a line.
pub(super) fn next(live: &Live) -> String {
    let standing = live.standing();
    match live.next() {
        Some(todo) => format!("{standing} Next: {}", live.todo_words(&todo)),
        None => match live.open() {
            Some(why) => format!("{standing} Nothing can be called complete: {why}"),
            None => format!("Nothing is missing any more. {}", verdict(live)),
        },
    }
}

/// The verdict on what was judged, in a sentence.
pub(super) fn verdict(live: &Live) -> String {
    let places = places(&live.assessment);
    let mut text = Sentence::of(Words::of(Language::English), &live.assessment, &places).text();
    for reason in live.assessment.overall().reasons {
        text.push_str(&format!(
            " {}.",
            crate::report::sentence::capital(
                Words::of(Language::English)
                    .fact(&reason)
                    .trim_end_matches('.')
            )
        ));
    }
    text
}
