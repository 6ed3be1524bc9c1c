//! Two profiles, value by value.

use serde::Serialize;

use super::{Table, applies, bounded};
use crate::fact::Fact;
use crate::limits::{Limit, Profile, ProfileValue, SourceKind};
use crate::words::Words;

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

impl Fact for Likeness {
    const FAMILY: &'static str = "likeness";
}

/// One value of two profiles side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// Its name without the profile.
    pub name: String,
    /// In the first profile: value with unit and where it applies, and how it is known.
    pub first: Option<(String, SourceKind)>,
    /// In the second profile.
    pub second: Option<(String, SourceKind)>,
    /// How they compare. How a value is known does not count.
    pub likeness: Likeness,
}

/// Two profiles, value by value: first the limits, then the other numbers, each in the order of the first profile.
#[must_use]
pub fn pairs(first: &Profile, second: &Profile, words: &Words) -> Vec<Pair> {
    let limit = |limit: &Limit| {
        let fields = [
            ("value", bounded(limit).into()),
            ("unit", limit.unit().into()),
            ("applies", applies(limit, words).into()),
            ("assessed", words.fact(&limit.assessed).into()),
            ("decides", limit.decides.to_string().into()),
        ];
        let text = words.with("profiles-limit-in-full", &fields);
        (limit.short_name().to_owned(), text, limit.source)
    };
    let value = |value: &ProfileValue| {
        let text = format!("{} {}", value.value, value.unit);
        (value.name.clone(), text.trim_end().to_owned(), value.source)
    };
    let limits = |profile: &Profile| profile.limits.iter().map(limit).collect::<Vec<_>>();
    let values = |profile: &Profile| profile.values.iter().map(value).collect::<Vec<_>>();
    let mut all = side_by_side(&limits(first), &limits(second));
    all.extend(side_by_side(&values(first), &values(second)));
    all
}

type Named = (String, String, SourceKind);

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
pub fn compare(first: &Profile, second: &Profile, words: &Words) -> Table {
    let cell = |side: Option<(String, SourceKind)>| match side {
        Some((text, known)) => (text, words.fact(&known)),
        None => (String::new(), String::new()),
    };
    let rows = pairs(first, second, words).into_iter().map(|pair| {
        let likeness = words.fact(&pair.likeness);
        let ((one, one_known), (other, other_known)) = (cell(pair.first), cell(pair.second));
        [pair.name, one, one_known, other, other_known, likeness]
    });
    let fields = [
        ("first", first.name.as_str().into()),
        ("second", second.name.as_str().into()),
    ];
    let columns = [
        "profiles-name",
        "profiles-first",
        "profiles-first-source",
        "profiles-second",
        "profiles-second-source",
        "profiles-comparison",
    ];
    Table::new(words.with("profiles-two", &fields), columns, rows, words)
}
