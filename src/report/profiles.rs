//! Profiles as tables for the screen: the built-in ones, one in full, two side by side.

mod side_by_side;

use std::borrow::Cow;
use std::fmt::Write as _;

use crate::fact::Fact;
use crate::limits::{
    self, Band, Bound, Confirmation, Direction, Hazard, Limit, Motion, Profile, ProfileError,
    SourceKind,
};
use crate::words::Words;

pub use side_by_side::{Likeness, Pair, compare, pairs};

/// Rows under named columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What the rows are.
    pub title: String,
    /// Names of the columns.
    pub columns: Vec<String>,
    /// The cells, as many a row as there are columns.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    fn new<const N: usize>(
        title: String,
        columns: [&str; N],
        rows: impl IntoIterator<Item = [String; N]>,
        words: &Words,
    ) -> Self {
        let columns = columns.iter().map(|id| words.say(id).into_owned());
        Self {
            title,
            columns: columns.collect(),
            rows: rows.into_iter().map(Into::into).collect(),
        }
    }

    /// The columns side by side, two blanks apart, without trailing blanks; the title above.
    #[must_use]
    pub fn text(&self) -> String {
        let wide = |text: &str| text.chars().count();
        let widths: Vec<usize> = (0..self.columns.len())
            .map(|place| {
                let cells = self.rows.iter().filter_map(|row| row.get(place));
                cells
                    .map(|cell| wide(cell))
                    .fold(wide(&self.columns[place]), usize::max)
            })
            .collect();
        let mut text = format!("{}\n", self.title);
        for row in std::iter::once(&self.columns).chain(&self.rows) {
            let mut line = String::new();
            for (cell, width) in row.iter().zip(&widths) {
                let _ = write!(line, "{cell:<width$}  ");
            }
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}

/// The built-in profiles: name, title, how many limits, and how many of the deciding ones are confirmed or read.
///
/// # Errors
/// [`ProfileError`] if a built-in profile cannot be read.
pub fn built_in(words: &Words) -> Result<Table, ProfileError> {
    let row = |name: &'static str| {
        let profile = limits::profile(name)?;
        let deciding = || profile.limits.iter().filter(|limit| limit.decides);
        let known = |one: &&Limit| matches!(one.source, SourceKind::Confirmed | SourceKind::Read);
        Ok([
            name.to_owned(),
            profile.title.clone(),
            deciding().count().to_string(),
            deciding().filter(known).count().to_string(),
        ])
    };
    let rows: Result<Vec<_>, ProfileError> = limits::names().into_iter().map(row).collect();
    let columns = [
        "profiles-name",
        "profiles-title",
        "profiles-deciding",
        "profiles-well-known",
    ];
    let title = words.say("profiles-built-in").into_owned();
    Ok(Table::new(title, columns, rows?, words))
}

/// One profile in full: its limits, its other numbers, its test points, its disagreements, what it does not assess.
#[must_use]
pub fn show(profile: &Profile, words: &Words) -> Vec<Table> {
    let tables = [
        limits(profile, words),
        values(profile, words),
        test_points(profile, words),
        disagreements(profile, words),
        not_assessed(profile, words),
    ];
    tables
        .into_iter()
        .filter(|table| !table.rows.is_empty())
        .collect()
}

fn title(id: &str, profile: &Profile, words: &Words) -> String {
    let fields = [
        ("profile", profile.name.as_str().into()),
        ("title", profile.title.as_str().into()),
    ];
    words.with(id, &fields)
}

fn limits(profile: &Profile, words: &Words) -> Table {
    let assessed = |limit: &Limit| match limit.decides {
        true => words.fact(&limit.assessed),
        false => words.say("profiles-shown-only").into_owned(),
    };
    let rows = profile.limits.iter().map(|limit| {
        [
            limit.short_name().to_owned(),
            limit.measure.to_string(),
            bounded(limit),
            limit.unit().to_owned(),
            applies(limit, words),
            assessed(limit),
            words.fact(&limit.source),
            limit.clause.clone().unwrap_or_default(),
            noted(&limit.note, &limit.confirmation, limit.unit(), words),
        ]
    });
    let columns = [
        "profiles-limit",
        "profiles-measure",
        "profiles-value",
        "profiles-unit",
        "profiles-applies",
        "profiles-assessed",
        "profiles-source",
        "profiles-clause",
        "profiles-note",
    ];
    Table::new(
        title("profiles-limits", profile, words),
        columns,
        rows,
        words,
    )
}

fn values(profile: &Profile, words: &Words) -> Table {
    let rows = profile.values.iter().map(|value| {
        [
            value.name.clone(),
            value.value.to_string(),
            value.unit.to_owned(),
            words.fact(&value.source),
            value.clause.clone().unwrap_or_default(),
            noted(&value.note, &value.confirmation, value.unit, words),
        ]
    });
    let columns = [
        "profiles-value",
        "profiles-number",
        "profiles-unit",
        "profiles-source",
        "profiles-clause",
        "profiles-note",
    ];
    Table::new(
        title("profiles-values", profile, words),
        columns,
        rows,
        words,
    )
}

fn test_points(profile: &Profile, words: &Words) -> Table {
    let rules = profile.schemes.iter().flat_map(|scheme| {
        let rules = scheme.rules.iter();
        rules.map(move |rule| (scheme, rule))
    });
    let rows = rules.map(|(scheme, rule)| {
        [
            scheme.name.clone(),
            words.facts(&scheme.visits).join(", "),
            listed(&rule.motions, &Motion::ALL, words),
            [words.fact(&rule.direction), words.fact(&rule.hazard)].join(", "),
            words.facts(&rule.gaps).join("; "),
            words.facts(&rule.places).join("; "),
            rule.repeats.to_string(),
            words.fact(&rule.source),
            rule.note.clone().unwrap_or_default(),
        ]
    });
    let columns = [
        "profiles-scheme",
        "profiles-visits",
        "profiles-leaves",
        "profiles-hit",
        "profiles-gaps",
        "profiles-places",
        "profiles-hits-each",
        "profiles-source",
        "profiles-note",
    ];
    Table::new(
        title("profiles-test-points", profile, words),
        columns,
        rows,
        words,
    )
}

fn disagreements(profile: &Profile, words: &Words) -> Table {
    let rows = profile.disagreements.iter();
    let rows = rows.map(|one| [one.about.clone(), one.readings.join("; "), one.here.clone()]);
    let columns = ["profiles-about", "profiles-readings", "profiles-here"];
    Table::new(
        title("profiles-disagreements", profile, words),
        columns,
        rows,
        words,
    )
}

fn not_assessed(profile: &Profile, words: &Words) -> Table {
    let rows = profile.not_assessed.iter().map(|one| {
        let clause = one.clause.clone().unwrap_or_default();
        [one.asks.clone(), words.fact(&one.source), clause]
    });
    let columns = ["profiles-asks", "profiles-source", "profiles-clause"];
    Table::new(
        title("profiles-not-assessed", profile, words),
        columns,
        rows,
        words,
    )
}

fn bounded(limit: &Limit) -> String {
    match limit.bound {
        Bound::AtMost => format!("≤ {}", limit.value),
        Bound::Below => format!("< {}", limit.value),
    }
}

fn applies(limit: &Limit, words: &Words) -> String {
    let parts: Vec<String> = [
        listed(&limit.motions, &Motion::ALL, words),
        listed(&limit.hazards, &Hazard::ALL, words),
        listed(&limit.directions, &Direction::ALL, words),
        gaps(limit.gap, words),
    ]
    .into_iter()
    .filter(|part| !part.is_empty())
    .collect();
    if parts.is_empty() {
        words.say("profiles-every-hit").into_owned()
    } else {
        parts.join("; ")
    }
}

/// The members of a list, or nothing where it holds all there are.
fn listed<T: PartialEq + Fact>(some: &[T], all: &[T], words: &Words) -> String {
    if all.iter().all(|one| some.contains(one)) {
        return String::new();
    }
    words.facts(some).join(", ")
}

fn gaps(gap: Band, words: &Words) -> String {
    let (id, from_mm) = match (gap.from_mm, gap.above_mm, gap.to_mm) {
        (None, None, None) => return String::new(),
        (Some(from), _, Some(_)) => ("profiles-gap-from-to", from),
        (Some(from), _, None) => ("profiles-gap-from", from),
        (None, Some(above), Some(_)) => ("profiles-gap-above-to", above),
        (None, Some(above), None) => ("profiles-gap-above", above),
        (None, None, Some(_)) => ("profiles-gap-to", 0.0),
    };
    let to_mm = gap.to_mm.unwrap_or(f64::INFINITY);
    words.with(id, &[("from_mm", from_mm.into()), ("to_mm", to_mm.into())])
}

fn noted(
    note: &Option<String>,
    confirmation: &Option<Confirmation>,
    unit: &str,
    words: &Words,
) -> String {
    let confirmed = confirmation.as_ref().map(|it| {
        let before = it.corrected_from;
        let fields = [
            ("on", it.on.to_string().into()),
            ("from", it.from.as_str().into()),
            ("before", before.map_or("none".into(), Into::into)),
            ("unit", unit.into()),
        ];
        Cow::Owned(words.with("profiles-confirmed", &fields))
    });
    let note = note.as_deref().map(Cow::Borrowed);
    let parts: Vec<Cow<'_, str>> = note.into_iter().chain(confirmed).collect();
    parts.join("; ")
}
