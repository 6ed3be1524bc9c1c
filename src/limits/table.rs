//! Profiles as rows: what is on the shelf, one profile in full, two profiles side by side.

use std::fmt::Write as _;

use serde::Serialize;

use super::profile::{Band, Bound, Confirmation, Judged, Limit, Profile};
pub use super::side_by_side::{Likeness, Pair, compare, pairs};

use super::shelf::{ProfileError, names, profile};
use super::{Direction, Hazard, KnownFrom, Motion};

/// Rows under named columns, for the screen and for CSV.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    /// What the rows are.
    pub title: String,
    /// Names of the columns.
    pub columns: Vec<&'static str>,
    /// The cells, as many a row as there are columns.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// The columns side by side, two blanks apart, without trailing blanks; the title above.
    #[must_use]
    pub fn text(&self) -> String {
        let wide = |text: &str| text.chars().count();
        let widths: Vec<usize> = (0..self.columns.len())
            .map(|place| {
                let cells = self.rows.iter().filter_map(|row| row.get(place));
                cells
                    .map(|cell| wide(cell))
                    .fold(wide(self.columns[place]), usize::max)
            })
            .collect();
        let mut text = format!("{}\n", self.title);
        let heads: Vec<String> = self.columns.iter().map(ToString::to_string).collect();
        for row in std::iter::once(&heads).chain(&self.rows) {
            let mut line = String::new();
            for (cell, width) in row.iter().zip(&widths) {
                let _ = write!(line, "{cell:<width$}  ");
            }
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }

    /// The rows as CSV with the columns as its first line.
    #[must_use]
    pub fn csv(&self) -> String {
        let line = |cells: &mut dyn Iterator<Item = &str>| {
            let quoted: Vec<String> = cells.map(quoted).collect();
            format!("{}\n", quoted.join(","))
        };
        let mut text = line(&mut self.columns.iter().copied());
        for row in &self.rows {
            text.push_str(&line(&mut row.iter().map(String::as_str)));
        }
        text
    }
}

/// A CSV cell as in RFC 4180.
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

/// The built-in profiles: name, title, how many limits, and how many of the deciding ones are confirmed or read.
///
/// # Errors
/// [`ProfileError`] if a built-in profile cannot be read.
pub fn shelf() -> Result<Table, ProfileError> {
    let rows: Result<Vec<Vec<String>>, ProfileError> = names()
        .into_iter()
        .map(|name| {
            let profile = profile(name)?;
            let deciding: Vec<&Limit> = profile
                .limits
                .iter()
                .filter(|limit| limit.decides)
                .collect();
            let known =
                |one: &&&Limit| matches!(one.known_from, KnownFrom::Confirmed | KnownFrom::Read);
            let well_known = deciding.iter().filter(known).count();
            Ok(vec![
                name.to_owned(),
                profile.title,
                deciding.len().to_string(),
                well_known.to_string(),
            ])
        })
        .collect();
    Ok(Table {
        title: "limit profiles on the shelf".to_owned(),
        columns: vec![
            "name",
            "title",
            "limits that decide",
            "of these confirmed or read",
        ],
        rows: rows?,
    })
}

/// One profile in full: its limits, its other numbers, its test points, its disagreements, what it does not judge.
#[must_use]
pub fn show(profile: &Profile) -> Vec<Table> {
    let tables = [
        limits(profile),
        values(profile),
        test_points(profile),
        disagreements(profile),
        not_judged(profile),
    ];
    tables
        .into_iter()
        .filter(|table| !table.rows.is_empty())
        .collect()
}

fn limits(profile: &Profile) -> Table {
    let rows = profile.limits.iter().map(|limit| {
        vec![
            limit.short_name().to_owned(),
            limit.measure.to_string(),
            bounded(limit),
            limit.unit().to_owned(),
            applies(limit),
            judged(limit).to_owned(),
            limit.known_from.to_string(),
            limit.clause.clone().unwrap_or_default(),
            noted(
                limit.note.as_deref(),
                limit.confirmation.as_ref(),
                limit.unit(),
            ),
        ]
    });
    Table {
        title: format!("limits of {}: {}", profile.name, profile.title),
        columns: vec![
            "limit",
            "measure",
            "value",
            "unit",
            "applies to",
            "judged",
            "known from",
            "clause",
            "note",
        ],
        rows: rows.collect(),
    }
}

fn values(profile: &Profile) -> Table {
    let rows = profile.values.iter().map(|value| {
        vec![
            value.name.clone(),
            value.value.to_string(),
            value.unit.to_owned(),
            value.known_from.to_string(),
            value.clause.clone().unwrap_or_default(),
            noted(
                value.note.as_deref(),
                value.confirmation.as_ref(),
                value.unit,
            ),
        ]
    });
    Table {
        title: format!("other values of {}", profile.name),
        columns: vec!["value", "number", "unit", "known from", "clause", "note"],
        rows: rows.collect(),
    }
}

fn test_points(profile: &Profile) -> Table {
    let mut rows = Vec::new();
    for scheme in &profile.schemes {
        for rule in &scheme.rules {
            let visits: Vec<String> = scheme.visits.iter().map(ToString::to_string).collect();
            let gaps: Vec<String> = rule.gaps.iter().map(ToString::to_string).collect();
            let places: Vec<String> = rule.places.iter().map(ToString::to_string).collect();
            rows.push(vec![
                scheme.name.clone(),
                visits.join(", "),
                listed(&rule.motions, &Motion::ALL),
                format!("{}, {}", rule.direction, rule.hazard),
                gaps.join("; "),
                places.join("; "),
                rule.repeats.to_string(),
                rule.known_from.to_string(),
                rule.note.clone().unwrap_or_default(),
            ]);
        }
    }
    Table {
        title: format!("test points of {}", profile.name),
        columns: vec![
            "scheme",
            "visits",
            "leaves",
            "hit",
            "gaps",
            "places",
            "hits each",
            "known from",
            "note",
        ],
        rows,
    }
}

fn disagreements(profile: &Profile) -> Table {
    let rows = profile.disagreements.iter();
    Table {
        title: format!("where sources of {} disagree", profile.name),
        columns: vec!["about", "readings", "here"],
        rows: rows
            .map(|one| vec![one.about.clone(), one.readings.join("; "), one.here.clone()])
            .collect(),
    }
}

fn not_judged(profile: &Profile) -> Table {
    let rows = profile.not_judged.iter();
    Table {
        title: format!("what {} asks that a force log does not show", profile.name),
        columns: vec!["asks", "known from", "clause"],
        rows: rows
            .map(|one| {
                let clause = one.clause.clone().unwrap_or_default();
                vec![one.asks.clone(), one.known_from.to_string(), clause]
            })
            .collect(),
    }
}

pub(super) fn bounded(limit: &Limit) -> String {
    match limit.bound {
        Bound::AtMost => format!("≤ {}", limit.value),
        Bound::Below => format!("< {}", limit.value),
    }
}

pub(super) const fn judged_word(limit: &Limit) -> &'static str {
    match limit.judged {
        Judged::Mean => "mean of the hits",
        Judged::Worst => "greatest of the hits",
    }
}

const fn judged(limit: &Limit) -> &'static str {
    if limit.decides {
        judged_word(limit)
    } else {
        "shown only"
    }
}

pub(super) fn applies(limit: &Limit) -> String {
    let mut parts = Vec::new();
    let lists = [
        listed(&limit.motions, &Motion::ALL),
        listed(&limit.hazards, &Hazard::ALL),
        listed(&limit.directions, &Direction::ALL),
        gap_words(limit.gap),
    ];
    parts.extend(lists.into_iter().filter(|part| !part.is_empty()));
    if parts.is_empty() {
        "every hit".to_owned()
    } else {
        parts.join("; ")
    }
}

/// The members of a list, or nothing where it holds all there are.
fn listed<T: PartialEq + ToString>(some: &[T], all: &[T]) -> String {
    if all.iter().all(|one| some.contains(one)) {
        return String::new();
    }
    let words: Vec<String> = some.iter().map(ToString::to_string).collect();
    words.join(", ")
}

fn gap_words(gap: Band) -> String {
    let from = gap.from_mm.map(|from| format!("from {from}"));
    let above = gap.above_mm.map(|above| format!("above {above}"));
    let to = gap.to_mm.map(|to| format!("to {to}"));
    let parts: Vec<String> = [from, above, to].into_iter().flatten().collect();
    if parts.is_empty() {
        String::new()
    } else {
        format!("gap {} mm", parts.join(" "))
    }
}

fn noted(note: Option<&str>, confirmation: Option<&Confirmation>, unit: &str) -> String {
    let confirmed = confirmation.map(|it| {
        let before = it.corrected_from.map_or(String::new(), |before| {
            format!(", corrected from {before} {unit}")
        });
        format!("confirmed on {} from {}{before}", it.on, it.from)
    });
    let parts: Vec<String> = [note.map(str::to_owned), confirmed]
        .into_iter()
        .flatten()
        .collect();
    parts.join("; ")
}
