//! What stands above a column: its name and its unit.

use super::words::{self, Named};
use crate::ingest::Role;
use crate::ingest::tokens::units::{self, Measured};
use crate::trace::Column;

/// The head of one column.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::ingest) struct Head {
    /// The whole text above the column, as the log writes it.
    pub(in crate::ingest) text: String,
    /// The text without its unit.
    pub(in crate::ingest) name: String,
    /// What that names.
    pub(in crate::ingest) named: Named,
    /// The unit as the log writes it.
    pub(in crate::ingest) unit: Option<String>,
    /// What that unit measures; `None` where there is no unit or an unknown one.
    pub(in crate::ingest) measured: Option<Measured>,
    /// Whether a factor stands beside name and unit: `Force [N] x0.1`.
    pub(in crate::ingest) scaled: bool,
}

/// A column by its number and what stands over it.
pub(in crate::ingest) fn column(heads: &[Head], at: usize) -> Column {
    let text = heads.get(at).map(|head| head.text.clone());
    Column {
        number: at + 1,
        name: text.filter(|text| !text.is_empty()),
    }
}

impl Head {
    /// Parts one head text in name and unit.
    pub(in crate::ingest) fn new(text: &str) -> Self {
        let text = text.trim();
        let plain = text.trim_start_matches(['#', '%', '!', '*']).trim();
        let (name, unit) = in_brackets(plain)
            .or_else(|| whole(plain))
            .or_else(|| after_sign(plain))
            .or_else(|| at_the_end(plain))
            .unwrap_or_else(|| (plain.to_owned(), None));
        let measured = unit.as_deref().and_then(units::measured);
        Self {
            scaled: is_scaled(plain),
            text: plain.to_owned(),
            named: words::named(&name),
            name,
            unit,
            measured,
        }
    }

    /// Whether its unit is one of force.
    pub(in crate::ingest) fn has_force_unit(&self) -> bool {
        self.measured.and_then(Measured::force).is_some()
    }

    /// Whether the column under it may hold the units of the numbers in the one before.
    pub(in crate::ingest) fn holds_units(head: Option<&Self>) -> bool {
        head.is_none_or(|head| head.text.is_empty() || words::names_unit(&head.text))
    }

    /// The same head with the unit that a unit row gives; in doubt where it has another one of its own.
    pub(in crate::ingest) fn with_unit(mut self, unit: &str) -> Self {
        let other = units::measured(unit).filter(|_| self.unit.is_some());
        self.scaled |= is_scaled(unit);
        if let (Some(own), Some(other)) = (self.measured, other) {
            if own != other {
                let both = format!("{} or {}", self.unit.unwrap_or_default(), units::bare(unit));
                self.unit = Some(both);
                self.measured = Some(Measured::Doubtful);
            }
            return self;
        }
        if self.unit.is_none() || self.measured.is_none() {
            self.unit = Some(units::bare(unit).to_owned());
            self.measured = units::measured(unit);
        }
        self
    }
}

/// Whether a head says that its numbers are multiplied or divided: `Force x10 [N]`, `Kraft [N] × 1000`, `Force [N] 1e-2`, `F100 [N]`,
/// `Force (N), factor 0.1`. A whole number that is no power of ten is the number of a channel.
fn is_scaled(text: &str) -> bool {
    const WORDS: [&str; 8] = [
        "factor",
        "faktor",
        "facteur",
        "fattore",
        "scaled",
        "skaliert",
        "multiplied",
        "divided",
    ];
    let digit = |rest: &str| rest.trim_start().starts_with(|c: char| c.is_ascii_digit());
    let signed = text.char_indices().any(|(at, sign)| match sign {
        '×' | '*' | '·' => digit(&text[at + sign.len_utf8()..]),
        '/' => text[at + 1..].trim_start().starts_with("10"),
        'x' | 'X' => !text[..at].ends_with(char::is_alphanumeric) && digit(&text[at + 1..]),
        _ => false,
    });
    let powers = ["10^", "10²", "10³", "10⁶", "10⁻"];
    let parts = |c: char| c.is_whitespace() || "[](){}<>_;:=".contains(c);
    let words: Vec<&str> = text.split(parts).filter(|word| !word.is_empty()).collect();
    signed
        || powers.iter().any(|power| text.contains(power))
        || words.iter().enumerate().any(|(at, word)| {
            let word = word.trim_matches([',', '.']);
            let of_another = words.get(at + 1).is_some_and(|next| {
                matches!(
                    units::measured(next),
                    Some(Measured::Else | Measured::Time(_))
                )
            });
            WORDS.contains(&word.to_lowercase().as_str()) || is_factor(word) && !of_another
        })
}

/// Whether a word of a head is a number that scales: a decimal fraction, a power of ten, or one behind a word of force.
fn is_factor(word: &str) -> bool {
    let start = word.find(|c: char| !c.is_alphabetic()).unwrap_or(0);
    let (name, digits) = word.split_at(start);
    let glued = matches!(
        words::named(name),
        Named::LetterF | Named::Role(Role::Force)
    );
    let power = digits
        .strip_prefix('1')
        .is_some_and(|zeros| !zeros.is_empty() && zeros.bytes().all(|byte| byte == b'0'));
    if start > 0 {
        return glued && power;
    }
    let fraction = !digits.bytes().all(|byte| byte.is_ascii_digit());
    power || fraction && digits.replace(',', ".").parse::<f64>().is_ok()
}

/// `Kraft [N]`, `Kraft (N)`, `[N]`: a bracket at the end that holds a unit, or anything where it is square.
fn in_brackets(text: &str) -> Option<(String, Option<String>)> {
    for (open, close) in [('[', ']'), ('(', ')'), ('{', '}'), ('<', '>')] {
        let Some(start) = text.rfind(open) else {
            continue;
        };
        let Some(length) = text[start..].find(close) else {
            continue;
        };
        let inner = text[start + 1..start + length].trim();
        let known = units::measured(inner).is_some();
        if known || (open == '[' && !inner.is_empty()) {
            let after = text[start + length + 1..].trim();
            let mut name = text[..start].trim().to_owned();
            if !after.is_empty() {
                name.push(' ');
                name.push_str(after);
            }
            return Some((name.trim().to_owned(), Some(inner.to_owned())));
        }
    }
    None
}

/// A head that is nothing but a unit. Single letters may be anything, but for `N`.
fn whole(text: &str) -> Option<(String, Option<String>)> {
    let measured = units::measured(text).filter(|measured| *measured != Measured::Doubtful)?;
    let long = text.chars().nth(1).is_some();
    let named = words::named(text);
    let clock = named == Named::Role(Role::Time) && matches!(measured, Measured::Time(_));
    let other = matches!(named, Named::Role(_) | Named::Index | Named::Derived);
    let unit = matches!(text, "N" | "Н") || (long && (clock || !other));
    unit.then(|| (String::new(), Some(text.to_owned())))
}

/// `Kraft / N`, `t/s`, `Kraft in N`, `Kraft, N`, `Kraft: N`
fn after_sign(text: &str) -> Option<(String, Option<String>)> {
    for sign in [" in ", "/", ",", ":", "|"] {
        if let Some((name, unit)) = text.split_once(sign) {
            let unit = unit.trim();
            if !name.trim().is_empty() && units::measured(unit).is_some() {
                return Some((name.trim().to_owned(), Some(unit.to_owned())));
            }
        }
    }
    None
}

/// `force_N`, `force N`, `forceN`, `time_ms`: a unit at the end that measures what the words before it name.
fn at_the_end(text: &str) -> Option<(String, Option<String>)> {
    if let Some(found) = speed_at_the_end(text) {
        return Some(found);
    }
    for (start, _) in text.char_indices().skip(1) {
        let (name, unit) = text.split_at(start);
        let parted = name.ends_with(['_', ' ', '.', '-']);
        let capital = name.ends_with(char::is_lowercase) && unit.starts_with(char::is_uppercase);
        if unit.starts_with(['_', ' ', '.', '-']) {
            continue;
        }
        let long = unit.chars().nth(1).is_some();
        let word = !parted && words::ends_in_word(name);
        if !(parted || capital || word && long) {
            continue;
        }
        let Some(measured) = units::measured(unit) else {
            continue;
        };
        if unit == "N" && !parted && !word && name.ends_with(['k', 'm', 'a', 'd', 'c']) {
            // `sensorkN`: the letters before it may belong to the unit.
            let last = name.rfind(|c: char| !c.is_lowercase()).unwrap_or(0);
            return Some((name.to_owned(), Some(text[last..].to_owned())));
        }
        let name = name.trim_end_matches(['_', ' ', '.', '-']);
        if fits(words::named(name), measured, unit) {
            return Some((name.to_owned(), Some(unit.to_owned())));
        }
    }
    unit_within(text)
}

/// `v_mm_s`: the only unit of two words.
fn speed_at_the_end(text: &str) -> Option<(String, Option<String>)> {
    for (end, unit) in [("_mm_s", "mm/s"), ("_cm_s", "cm/s"), ("_m_s", "m/s")] {
        if let Some(name) = text.strip_suffix(end) {
            return Some((name.to_owned(), Some(unit.to_owned())));
        }
    }
    None
}

/// `force_N_left`: a unit between underscores.
fn unit_within(text: &str) -> Option<(String, Option<String>)> {
    let parts: Vec<&str> = text.split('_').collect();
    let mut found = parts.iter().enumerate().skip(1).filter(|(_, part)| {
        units::measured(part).is_some_and(|measured| fits(words::named(parts[0]), measured, part))
    });
    let (place, unit) = found.next()?;
    if found.next().is_some() {
        return None;
    }
    let mut name = parts.clone();
    name.remove(place);
    Some((name.join("_"), Some((*unit).to_owned())))
}

/// Whether a unit without brackets can be the unit of what a name names.
pub(in crate::ingest) fn fits(named: Named, measured: Measured, unit: &str) -> bool {
    let role = match named {
        Named::Role(role) => role,
        Named::LetterF | Named::Derived => Role::Force,
        Named::Unknown => return unit.chars().count() > 1,
        Named::Torque | Named::Index | Named::Date => return measured == Measured::Else,
    };
    match measured {
        Measured::Force(_) | Measured::Weight(_) | Measured::Doubtful => role == Role::Force,
        Measured::Time(_) => role == Role::Time,
        Measured::Length(_) => role == Role::Position,
        Measured::Speed(..) => role == Role::Speed,
        Measured::Current(_) => role == Role::Current,
        Measured::Else => true,
    }
}

impl Head {
    /// Takes the unit that a line of the preamble gives for this column, unless the head has its own.
    pub(in crate::ingest) fn take_unit(&mut self, unit: &str) {
        if self.unit.is_none() && !unit.trim().is_empty() {
            *self = std::mem::take(self).with_unit(unit);
        }
    }
}

impl Head {
    /// Whether a unit can be the one of this head, as far as its name says what it is.
    pub(in crate::ingest) fn may_have(&self, unit: &str) -> bool {
        let known = !matches!(self.named, Named::Unknown);
        units::measured(unit).is_none_or(|measured| !known || fits(self.named, measured, unit))
    }
}

/// Whether heads name a clock and a force.
pub(in crate::ingest) fn names_clock_and_force(heads: &[Head]) -> bool {
    let named = |head: &Head, role| head.named == Named::Role(role);
    let clock =
        |head: &Head| named(head, Role::Time) || matches!(head.measured, Some(Measured::Time(_)));
    let force = |head: &Head| {
        named(head, Role::Force) || head.has_force_unit() && head.named != Named::Derived
    };
    heads.iter().any(clock) && heads.iter().any(force)
}
