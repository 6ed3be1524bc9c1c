//! Clock stamps: a time of day, with or without a date, or a time elapsed written with colons.

use jiff::civil::Date;

const SECOND: i64 = 1_000_000_000;

/// Nanoseconds in a day, the modulus of a clock without a date.
pub(super) const DAY_S: f64 = 86_400.0;

/// An instant as a stamp gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stamp {
    /// Nanoseconds from midnight, or from 1970 if the stamp has a date.
    pub(super) nanos: i64,
    /// Whether it has a date.
    pub(super) dated: Dated,
    /// Digits after the seconds.
    pub(super) decimals: usize,
}

/// Whether a stamp has a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dated {
    Yes,
    No,
}

/// Reads a stamp: `10:15:02.480`, `10:15:02,480`, `15:02.48`, `10:15:02:480`, `2024-03-01T10:15:02Z`, `01.03.2024 10:15:02`,
/// `3/1/2024 10:15:02.5 PM` …
pub(super) fn stamp(cell: &[u8]) -> Option<Stamp> {
    if cell.len() > 40 || memchr::memchr(b':', cell).is_none() {
        return None;
    }
    let text = std::str::from_utf8(cell).ok()?.trim();
    let colon = text.find(':')?;
    let start = text[..colon]
        .rfind(['T', ' ', '_', 't'])
        .map_or(0, |at| at + 1);
    let (date, time) = text.split_at(start);
    let (nanos, decimals) = time_of_day(time)?;
    let date = date.trim_end_matches(['T', 't', ' ', '_', ',']).trim();
    if date.is_empty() {
        return Some(Stamp {
            nanos,
            dated: Dated::No,
            decimals,
        });
    }
    let day = i64::from(day(date)?);
    let nanos = day.checked_mul(86_400 * SECOND)?.checked_add(nanos)?;
    Some(Stamp {
        nanos,
        dated: Dated::Yes,
        decimals,
    })
}

/// Nanoseconds of `h:mm:ss.fff`, `mm:ss.fff` or `h:mm:ss:fff`, with AM or PM and an offset from UTC, and the digits after the seconds.
fn time_of_day(text: &str) -> Option<(i64, usize)> {
    let (text, noon) = half_of_day(text.trim());
    let text = without_offset(text);
    let (clock, fraction) = match text.find(['.', ',']) {
        Some(mark) => (&text[..mark], &text[mark + 1..]),
        None => (text, ""),
    };
    let mut fields = clock.split(':').map(field);
    let (a, b) = (fields.next()??, fields.next()??);
    let (c, d) = (fields.next(), fields.next());
    if fields.next().is_some() {
        return None;
    }
    let (hour, minute, second, fraction) = match (c, d) {
        (Some(second), Some(_)) if fraction.is_empty() => {
            let millis = clock.rsplit(':').next()?;
            (millis.len() == 3).then_some(())?;
            (a, b, second?, millis)
        }
        (Some(second), None) => (a, b, second?, fraction),
        (None, None) if !fraction.is_empty() => (0, a, b, fraction),
        _ => return None,
    };
    if minute > 59 || second > 60 || hour > 9999 {
        return None;
    }
    let hour = match noon {
        Some(_) if hour > 12 || hour == 0 => return None,
        Some(offset) => hour % 12 + offset,
        None => hour,
    };
    let nanos = (hour * 3600 + minute * 60 + second) * SECOND + nanos_of(fraction)?;
    Some((nanos, fraction.len()))
}

/// A field of digits.
fn field(text: &str) -> Option<i64> {
    let digits = !text.is_empty() && text.len() <= 4 && text.bytes().all(|b| b.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

/// Nanoseconds of the digits after the seconds.
fn nanos_of(fraction: &str) -> Option<i64> {
    if fraction.is_empty() {
        return Some(0);
    }
    if !fraction.bytes().all(|byte| byte.is_ascii_digit()) || fraction.len() > 20 {
        return None;
    }
    let digits = &fraction[..fraction.len().min(9)];
    let places = u32::try_from(9 - digits.len()).ok()?;
    Some(digits.parse::<i64>().ok()? * 10_i64.pow(places))
}

/// Takes off AM or PM; with it the hours to add to the hour after twelve was taken off.
fn half_of_day(text: &str) -> (&str, Option<i64>) {
    for (word, offset) in [("am", 0), ("pm", 12), ("a.m.", 0), ("p.m.", 12)] {
        let Some(cut) = text.len().checked_sub(word.len()) else {
            continue;
        };
        if text.is_char_boundary(cut) && text[cut..].eq_ignore_ascii_case(word) {
            return (text[..cut].trim_end(), Some(offset));
        }
    }
    (text, None)
}

/// Takes off `Z` or `+01:00`.
fn without_offset(text: &str) -> &str {
    if let Some(text) = text.strip_suffix(['Z', 'z']) {
        return text;
    }
    match text.rfind(['+', '-']) {
        Some(at) if at >= 5 => &text[..at],
        _ => text,
    }
}

/// Days from 1970-01-01.
fn day(text: &str) -> Option<i32> {
    let parts: Vec<&str> = text.split(['-', '.', '/']).collect();
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    let number = |part: &str| field(part).and_then(|n| i16::try_from(n).ok());
    let (x, y, z) = (number(a)?, number(b)?, number(c)?);
    let slashed = text.contains('/');
    let (year, month, day) = if a.len() == 4 {
        (x, y, z)
    } else if slashed && x <= 12 {
        (z, x, y)
    } else {
        (z, y, x)
    };
    let (month, day) = if month > 12 {
        (day, month)
    } else {
        (month, day)
    };
    let year = if year < 100 { year + 2000 } else { year };
    let date = Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()?;
    let epoch = Date::new(1970, 1, 1).ok()?;
    Some(epoch.until(date).ok()?.get_days())
}
