//! Two profiles, value by value.

use serde::Serialize;

use super::KnownFrom;
use super::profile::{Limit, Profile, ProfileValue};
use super::table::{Table, applies, bounded, judged_word};

/// How a value compares in two profiles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Likeness {
    /// The same in both.
    Same,
    /// Different.
    Differs,
    /// Only in the first.
    OnlyFirst,
    /// Only in the second.
    OnlySecond,
}

impl Likeness {
    const fn words(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::Differs => "differs",
            Self::OnlyFirst => "only in the first",
            Self::OnlySecond => "only in the second",
        }
    }
}

/// One value of two profiles side by side.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// Its name without the profile.
    pub name: String,
    /// In the first profile: value with unit and where it applies, and how it is known.
    pub first: Option<(String, KnownFrom)>,
    /// In the second profile.
    pub second: Option<(String, KnownFrom)>,
    /// How they compare. How a value is known does not count.
    pub likeness: Likeness,
}

/// Two profiles, value by value: first the limits, then the other numbers, each in the order of the first profile.
#[must_use]
pub fn pairs(first: &Profile, second: &Profile) -> Vec<Pair> {
    let of_limits = |profile: &Profile| -> Vec<(String, String, KnownFrom)> {
        let words = |limit: &Limit| {
            let shown = if limit.decides { "" } else { ", shown only" };
            let unit = limit.unit();
            format!(
                "{} {unit}, {} ({}{shown})",
                bounded(limit),
                applies(limit),
                judged_word(limit)
            )
        };
        let limits = profile.limits.iter();
        limits
            .map(|limit| {
                (
                    limit.short_name().to_owned(),
                    words(limit),
                    limit.known_from,
                )
            })
            .collect()
    };
    let of_values = |profile: &Profile| -> Vec<(String, String, KnownFrom)> {
        let words = |value: &ProfileValue| {
            format!("{} {}", value.value, value.unit)
                .trim_end()
                .to_owned()
        };
        let values = profile.values.iter();
        values
            .map(|value| (value.name.clone(), words(value), value.known_from))
            .collect()
    };
    let mut all = side_by_side(&of_limits(first), &of_limits(second));
    all.extend(side_by_side(&of_values(first), &of_values(second)));
    all
}

type Named = (String, String, KnownFrom);

fn side_by_side(first: &[Named], second: &[Named]) -> Vec<Pair> {
    let find = |side: &[Named], name: &str| {
        let found = side.iter().find(|(other, ..)| other == name);
        found.map(|(_, words, known)| (words.clone(), *known))
    };
    let only_second = second
        .iter()
        .filter(|(name, ..)| find(first, name).is_none());
    first
        .iter()
        .chain(only_second)
        .map(|(name, ..)| {
            let (one, other) = (find(first, name), find(second, name));
            let likeness = match (&one, &other) {
                (Some(one), Some(other)) if one.0 == other.0 => Likeness::Same,
                (Some(_), Some(_)) => Likeness::Differs,
                (_, None) => Likeness::OnlyFirst,
                (None, _) => Likeness::OnlySecond,
            };
            Pair {
                name: name.clone(),
                first: one,
                second: other,
                likeness,
            }
        })
        .collect()
}

/// Two profiles side by side as a table.
#[must_use]
pub fn compare(first: &Profile, second: &Profile) -> Table {
    let cell = |side: &Option<(String, KnownFrom)>| match side {
        Some((words, known)) => (words.clone(), known.to_string()),
        None => (String::new(), String::new()),
    };
    let rows = pairs(first, second).into_iter().map(|pair| {
        let ((one, one_known), (other, other_known)) = (cell(&pair.first), cell(&pair.second));
        let likeness = pair.likeness.words().to_owned();
        vec![pair.name, one, one_known, other, other_known, likeness]
    });
    Table {
        title: format!("{} and {}", first.name, second.name),
        columns: vec![
            "name",
            "first",
            "first known from",
            "second",
            "second known from",
            "comparison",
        ],
        rows: rows.collect(),
    }
}
