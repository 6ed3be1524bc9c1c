//! One cell → a number, or why it is none. The grammar is strict: what is not wholly a number is no number.

use super::decimal;
use super::delimiter::Mark;
use super::units;

/// What a cell holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) enum Value {
    /// A finite number.
    Number(Number),
    /// Nothing, or a word for nothing.
    Missing,
    /// Not a number or an infinity, in one of their spellings.
    NotFinite,
    /// Anything else.
    Text,
}

/// A number as it was written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) struct Number {
    /// Its value.
    pub(in crate::ingest) value: f64,
    /// Digits after the decimal mark.
    pub(in crate::ingest) decimals: usize,
    /// How its whole part was grouped.
    pub(in crate::ingest) grouping: Grouping,
}

/// Thousands marks in a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Grouping {
    /// None.
    None,
    /// Marks that can only group: two of them, a decimal mark after them, or a sign that is never a decimal mark.
    Sure,
    /// One point or comma with three digits after it and nothing else: it groups only if the other sign is the decimal mark.
    Lone,
}

/// The longest text that is taken for a number.
const LONGEST: usize = 64;

/// Reads one cell under a decimal mark.
pub(in crate::ingest) fn value(cell: &[u8], mark: Mark) -> Value {
    let cell = trim(cell);
    if cell.is_empty() {
        return Value::Missing;
    }
    if let Some(found) = plain(cell, mark) {
        return Value::Number(found);
    }
    if let Some(number) = number(cell, mark) {
        return if number.value.is_finite() {
            Value::Number(number)
        } else {
            Value::NotFinite
        };
    }
    word(cell)
}

/// The commonest cell of all, digits with a decimal mark among them and nothing else.
fn plain(cell: &[u8], mark: Mark) -> Option<Number> {
    let found = decimal::decimal(cell, 0, mark.byte())?;
    (found.end == cell.len()).then_some(Number {
        value: found.value,
        decimals: found.decimals,
        grouping: Grouping::None,
    })
}

/// Whether a cell is plainly a number under a decimal mark, and none under the other: three decimals may be a group of digits.
pub(in crate::ingest) fn needs_mark(cell: &[u8], mark: Mark) -> bool {
    const GROUP: usize = 3;
    plain(cell, mark).is_some_and(|number| !matches!(number.decimals, 0 | GROUP))
}

/// Reads a cell that ends in a unit: the number and the unit's text.
pub(in crate::ingest) fn with_unit(cell: &[u8], mark: Mark) -> Option<(Number, &str)> {
    let cell = trim(cell);
    let end = cell.iter().rposition(u8::is_ascii_digit)? + 1;
    if end == cell.len()
        || cell.len() > LONGEST
        || !matches!(cell[0], b'0'..=b'9' | b'.' | b',' | b'-' | b'+' | 0x80..)
    {
        return None;
    }
    let unit = std::str::from_utf8(trim(&cell[end..])).ok()?;
    units::measured(unit)?;
    match value(&cell[..end], mark) {
        Value::Number(number) => Some((number, unit)),
        _ => None,
    }
}

/// True for text that begins like a number, with a digit, a sign or a point.
pub(in crate::ingest) fn begins_one(text: &[u8]) -> bool {
    trim(text)
        .first()
        .is_some_and(|byte| byte.is_ascii_digit() || matches!(byte, b'-' | b'+' | b'.'))
}

/// A cell without the blanks around it, those outside ASCII too.
pub(in crate::ingest) fn trim(mut cell: &[u8]) -> &[u8] {
    const WIDE: [&[u8]; 5] = [
        "\u{a0}".as_bytes(),
        "\u{202f}".as_bytes(),
        "\u{2009}".as_bytes(),
        "\u{2007}".as_bytes(),
        "\u{feff}".as_bytes(),
    ];
    if cell.is_ascii() {
        return cell.trim_ascii();
    }
    loop {
        let before = cell.len();
        cell = cell.trim_ascii();
        for blank in WIDE {
            cell = cell.strip_prefix(blank).unwrap_or(cell);
            cell = cell.strip_suffix(blank).unwrap_or(cell);
        }
        if cell.len() == before {
            return cell;
        }
    }
}

/// A cell that is no number: nothing, not finite or text.
fn word(cell: &[u8]) -> Value {
    const MISSING: [&str; 24] = [
        "na", "n/a", "null", "none", "nil", "-", "--", "---", "#n/a", "#nv", "#value!", "#wert!",
        "#ref!", "#bezug!", "#num!", "#zahl!", "#name?", "#null!", "#error!", "missing", "?", "*",
        ".", "…",
    ];
    const NOT_FINITE: [&str; 14] = [
        "nan", "inf", "infinity", "∞", "1.#qnan", "1.#inf", "1.#ind", "1.#snan", "#inf", "#nan",
        "1,#qnan", "1,#inf", "nan(ind)", "#div/0!",
    ];
    const WORD: usize = 12;
    // A word with a digit has a number sign too.
    let digits = cell.iter().any(u8::is_ascii_digit) && !cell.contains(&b'#');
    if cell.len() > WORD || digits {
        return Value::Text;
    }
    let Ok(text) = std::str::from_utf8(cell) else {
        return Value::Text;
    };
    let is = |words: &[&str], text: &str| words.iter().any(|word| word.eq_ignore_ascii_case(text));
    if is(&MISSING, text) {
        return Value::Missing;
    }
    if is(
        &NOT_FINITE,
        text.strip_prefix(['-', '+', '−']).unwrap_or(text),
    ) {
        return Value::NotFinite;
    }
    Value::Text
}

/// A sign at the start of a cell: whether it negates, and its length.
fn sign(cell: &[u8]) -> (bool, usize) {
    const WIDE: [&[u8]; 3] = [
        "\u{2212}".as_bytes(),
        "\u{2013}".as_bytes(),
        "\u{2012}".as_bytes(),
    ];
    match cell.first() {
        Some(b'-') => (true, 1),
        Some(b'+') => (false, 1),
        Some(0x80..) => WIDE
            .iter()
            .find(|minus| cell.starts_with(minus))
            .map_or((false, 0), |minus| (true, minus.len())),
        _ => (false, 0),
    }
}

/// A thousands mark at the start of `rest`: its length.
fn group_mark(rest: &[u8], mark: Mark) -> Option<usize> {
    const WIDE: [&[u8]; 5] = [
        "\u{a0}".as_bytes(),
        "\u{202f}".as_bytes(),
        "\u{2009}".as_bytes(),
        "\u{2007}".as_bytes(),
        "\u{2019}".as_bytes(),
    ];
    match *rest.first()? {
        byte if byte == mark.other().byte() => Some(1),
        b'\'' | b' ' | b'_' => Some(1),
        0x80.. => WIDE
            .iter()
            .find(|sign| rest.starts_with(sign))
            .map(|sign| sign.len()),
        _ => None,
    }
}

fn number(cell: &[u8], mark: Mark) -> Option<Number> {
    if cell.len() > LONGEST {
        return None;
    }
    let (negative, skipped) = sign(cell);
    let mut digits = Digits::new(negative);
    let mut rest = &cell[skipped..];
    let grouping = whole(&mut rest, mark, &mut digits)?;
    let mut decimals = 0;
    if rest.first() == Some(&mark.byte()) {
        rest = &rest[1..];
        digits.push(b'.');
        decimals = run(rest);
        digits.extend(&rest[..decimals]);
        rest = &rest[decimals..];
        if digits.count == 0 {
            return None;
        }
    } else if digits.count == 0 {
        return None;
    }
    let sure = grouping == Grouping::Lone && cell.len() > skipped && decimals > 0;
    let whole = rest.len();
    rest = exponent(rest, &mut digits)?;
    // Nobody groups the digits of a number with an exponent: `4,125E+02` has a decimal comma.
    if !rest.is_empty() || (whole > 0 && grouping != Grouping::None) {
        return None;
    }
    Some(Number {
        value: fast_float2::parse(digits.text()).ok()?,
        decimals,
        grouping: if sure { Grouping::Sure } else { grouping },
    })
}

/// The whole part with its thousands marks; leaves the rest.
fn whole(rest: &mut &[u8], mark: Mark, digits: &mut Digits) -> Option<Grouping> {
    let first = run(rest);
    digits.extend(&rest[..first]);
    let leading_zero = rest.first() == Some(&b'0');
    *rest = &rest[first..];
    let mut groups = 0;
    let mut sign: &[u8] = &[];
    while let Some(length) = group_mark(rest, mark) {
        let found = &rest[..length];
        if first == 0 || first > 3 || leading_zero || run(&rest[length..]) != 3 {
            return None;
        }
        if groups > 0 && found != sign {
            return None;
        }
        sign = found;
        digits.extend(&rest[length..length + 3]);
        *rest = &rest[length + 3..];
        groups += 1;
    }
    Some(match groups {
        0 => Grouping::None,
        1 if sign == [mark.other().byte()] => Grouping::Lone,
        _ => Grouping::Sure,
    })
}

/// An exponent, if there is one; `None` if it is torn.
fn exponent<'a>(rest: &'a [u8], digits: &mut Digits) -> Option<&'a [u8]> {
    if !matches!(rest.first(), Some(b'e' | b'E' | b'd' | b'D')) {
        return Some(rest);
    }
    let mut rest = &rest[1..];
    digits.push(b'e');
    if let Some(sign @ (b'+' | b'-')) = rest.first() {
        digits.push(*sign);
        rest = &rest[1..];
    }
    let length = run(rest);
    if length == 0 {
        return None;
    }
    digits.extend(&rest[..length]);
    Some(&rest[length..])
}

/// Number of ASCII digits at the start.
fn run(text: &[u8]) -> usize {
    text.iter().take_while(|byte| byte.is_ascii_digit()).count()
}

/// The number in the one spelling that the parser takes.
struct Digits {
    text: [u8; LONGEST + 2],
    length: usize,
    count: usize,
}

impl Digits {
    fn new(negative: bool) -> Self {
        let mut digits = Self {
            text: [0; LONGEST + 2],
            length: 0,
            count: 0,
        };
        if negative {
            digits.push(b'-');
        }
        digits
    }

    fn push(&mut self, byte: u8) {
        self.text[self.length] = byte;
        self.length += 1;
        self.count += usize::from(byte.is_ascii_digit());
    }

    fn extend(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.push(*byte);
        }
    }

    fn text(&self) -> &[u8] {
        &self.text[..self.length]
    }
}
