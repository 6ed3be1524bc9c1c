//! The words by which heads name their columns, in the languages in which loggers write.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::ingest::Role;
use lists::{
    COMPUTED, CURRENT, DATE, DERIVED, DERIVED_BEFORE, ENDS, FORCE, GAUGE, INDEX, NUMBER, POSITION,
    QUALITY, RUN, SPEED, TIME, TORQUE, WITHIN,
};

mod lists;

/// What a head's words make of a column, apart from its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::ingest) enum Named {
    /// A word for that role.
    Role(Role),
    /// The bare letter `F`: a force, or something else.
    LetterF,
    /// A force that was set, kept or computed, not measured sample by sample: a limit, a set value, a greatest value.
    Derived,
    /// A torque or a moment.
    Torque,
    /// A count of samples or rows.
    Index,
    /// A calendar date.
    Date,
    /// Nothing that relent knows.
    #[default]
    Unknown,
}

/// A kind of words.
#[derive(Clone, Copy)]
enum Kind {
    Torque,
    Force,
    Derived,
    Quality,
    Position,
    Speed,
    Current,
    Time,
    Index,
    Date,
}

/// The kinds that a word is of, one bit each.
#[derive(Clone, Copy, Default)]
struct Kinds(u16);

impl Kinds {
    /// Those of one word in lower case.
    fn of(word: &str) -> Self {
        static KINDS: LazyLock<BTreeMap<&str, Kinds>> = LazyLock::new(|| {
            let mut kinds: BTreeMap<&str, Kinds> = BTreeMap::new();
            for (kind, words) in [
                (Kind::Torque, TORQUE),
                (Kind::Force, FORCE),
                (Kind::Derived, DERIVED),
                (Kind::Quality, QUALITY),
                (Kind::Position, POSITION),
                (Kind::Speed, SPEED),
                (Kind::Current, CURRENT),
                (Kind::Time, TIME),
                (Kind::Index, INDEX),
                (Kind::Date, DATE),
            ] {
                for word in words {
                    kinds.entry(word).or_default().0 |= 1 << kind as u16;
                }
            }
            kinds
        });
        KINDS.get(word).copied().unwrap_or_default()
    }

    const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    const fn has(self, kind: Kind) -> bool {
        self.0 & (1 << kind as u16) != 0
    }
}

/// What the words of a head say. `name` has no unit any more.
pub(in crate::ingest) fn named(name: &str) -> Named {
    let trimmed = name.trim();
    let lower = trimmed.to_lowercase();
    let tokens = tokens(trimmed);
    let whole = Kinds::of(&lower);
    let (mut any, mut single) = (whole, whole);
    for token in &tokens {
        let kinds = Kinds::of(token);
        any = any.and(kinds);
        // A letter is a word only where it stands alone.
        if tokens.len() == 1 || token.chars().nth(1).is_some() {
            single = single.and(kinds);
        }
    }
    if any.has(Kind::Torque) {
        return Named::Torque;
    }
    let begins = |token: &String| DERIVED_BEFORE.iter().any(|word| token.starts_with(word));
    let holds = |token: &String| WITHIN.iter().any(|word| token.contains(word));
    if any.has(Kind::Force) || tokens.iter().any(holds) {
        let computed = |token: &String| COMPUTED.contains(&token.as_str());
        return if any.has(Kind::Derived) || tokens.iter().any(|it| begins(it) || computed(it)) {
            Named::Derived
        } else {
            Named::Role(Role::Force)
        };
    }
    if lower == "f" {
        return Named::LetterF;
    }
    for (kind, role) in [
        (Kind::Quality, Role::Quality),
        (Kind::Position, Role::Position),
        (Kind::Speed, Role::Speed),
        (Kind::Current, Role::Current),
        (Kind::Time, Role::Time),
    ] {
        if single.has(kind) {
            return Named::Role(role);
        }
    }
    if any.has(Kind::Derived) {
        return Named::Derived;
    }
    if single.has(Kind::Index) {
        return Named::Index;
    }
    if any.has(Kind::Date) {
        return Named::Date;
    }
    Named::Unknown
}

/// Whether the last word of a name is known, so that what is written right after it is another word.
pub(in crate::ingest) fn ends_in_word(name: &str) -> bool {
    tokens(name)
        .last()
        .filter(|_| name.ends_with(char::is_alphabetic))
        .is_some_and(|last| {
            let known = |words: &[&str]| words.contains(&last.as_str());
            known(FORCE)
                || known(TIME)
                || known(POSITION)
                || known(ENDS)
                || WITHIN.iter().any(|word| last.ends_with(word))
        })
}

/// Whether a head names a gauge, and so may be the force though it does not say so.
pub(in crate::ingest) fn names_gauge(name: &str) -> bool {
    tokens(name)
        .iter()
        .any(|token| GAUGE.contains(&token.as_str()))
}

/// Whether a head names the units of another column.
pub(in crate::ingest) fn names_unit(text: &str) -> bool {
    const UNIT: [&str; 11] = [
        "unit",
        "units",
        "einheit",
        "unité",
        "unidad",
        "unidade",
        "unità",
        "eenheid",
        "enhet",
        "jednostka",
        "jednotka",
    ];
    tokens(text)
        .iter()
        .any(|token| UNIT.contains(&token.as_str()))
}

/// Whether a text names a run, or the column of their numbers: `Run 2`, `=== Hit 1 of 3 ===`, `Messung Nr. 4`.
pub(in crate::ingest) fn names_run(text: &str) -> bool {
    let tokens = tokens(text);
    let known = |words: &[&str], token: &String| words.contains(&token.as_str());
    tokens.first().is_some_and(|first| known(RUN, first))
        && tokens[1..].iter().all(|token| known(NUMBER, token))
}

/// The words of a head in lower case, parted at signs, digits and at a capital after a small letter.
pub(in crate::ingest) fn tokens(name: &str) -> Vec<String> {
    let mut tokens = Vec::new();
    let mut token = String::new();
    let mut small_before = false;
    for letter in name.chars() {
        let capital_after_small = small_before && letter.is_uppercase();
        if (!letter.is_alphabetic() || capital_after_small) && !token.is_empty() {
            tokens.push(std::mem::take(&mut token));
        }
        if letter.is_alphabetic() {
            token.extend(letter.to_lowercase());
        }
        small_before = letter.is_lowercase();
    }
    if !token.is_empty() {
        tokens.push(token);
    }
    tokens
}
