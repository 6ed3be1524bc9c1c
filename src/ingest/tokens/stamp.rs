//! Clock stamps: a time of day, with or without a date, or a time elapsed written with colons.

use jiff::civil::Date;

const SECOND: i64 = 1_000_000_000;

/// Nanoseconds in a day, the modulus of a clock without a date.
pub(in crate::ingest) const DAY_S: f64 = 86_400.0;

/// An instant as a stamp gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) struct Stamp {
    /// Nanoseconds from midnight, or from 1970 if the stamp has a date.
    pub(in crate::ingest) nanos: i64,
    /// The same with the other reading of its date, where it has two: `3/4/2024`, `24-03-01`.
    pub(in crate::ingest) other: i64,
    /// Whether it has a date.
    pub(in crate::ingest) dated: Dated,
    /// Digits after the seconds.
    pub(in crate::ingest) decimals: usize,
}

/// Whether a stamp has a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::ingest) enum Dated {
    Yes,
    No,
}

/// Reads a stamp: `10:15:02.480`, `10:15:02,480`, `15:02.48`, `10:15:02:480`, `2024-03-01T10:15:02Z`, `01.03.2024 10:15:02`,
/// `3/1/2024 10:15:02.5 PM` …
pub(in crate::ingest) fn stamp(cell: &[u8]) -> Option<Stamp> {
    if cell.len() > 40 || memchr::memchr(b':', cell).is_none() {
        return None;
    }
    let text = std::str::from_utf8(cell).ok()?.trim();
    let colon = text.find(':')?;
    let start = text[..colon]
        .rfind(['T', ' ', '_', 't'])
        .map_or(0, |at| at + 1);
    let (date, time) = text.split_at(start);
    let (of_day, decimals) = time_of_day(time)?;
    let date = date.trim_end_matches(['T', 't', ' ', '_', ',']).trim();
    if date.is_empty() {
        return Some(Stamp {
            nanos: of_day,
            other: of_day,
            dated: Dated::No,
            decimals,
        });
    }
    let (day, other) = day(date)?;
    let since = |day: i32| {
        let midnight = i64::from(day).checked_mul(86_400 * SECOND)?;
        midnight.checked_add(of_day)
    };
    Some(Stamp {
        nanos: since(day)?,
        other: since(other)?,
        dated: Dated::Yes,
        decimals,
    })
}

/// Nanoseconds of `h:mm:ss.fff`, `mm:ss.fff` or `h:mm:ss:fff`, with AM or PM and an offset from UTC, and the digits after the seconds.
fn time_of_day(text: &str) -> Option<(i64, usize)> {
    let (text, noon) = half_of_day(text.trim());
    let (text, offset) = without_offset(text);
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
    let nanos = (hour * 3600 + minute * 60 + second - offset) * SECOND + nanos_of(fraction)?;
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

/// Takes off `Z`, `CEST`, `+01:00` or `UTC+1`; with it the seconds that the clock is ahead of UTC.
fn without_offset(text: &str) -> (&str, i64) {
    const ZONES: [(&str, i64); 12] = [
        ("Z", 0),
        ("z", 0),
        ("UTC", 0),
        ("GMT", 0),
        ("WET", 0),
        ("WEST", 1),
        ("CET", 1),
        ("MEZ", 1),
        ("CEST", 2),
        ("MESZ", 2),
        ("EET", 2),
        ("EEST", 3),
    ];
    for (zone, hours) in ZONES {
        if let Some(text) = text.strip_suffix(zone) {
            return (text.trim_end(), hours * 3600);
        }
    }
    match text.rfind(['+', '-']).filter(|at| *at >= 5) {
        Some(at) => {
            let clock = text[..at].trim_end_matches(['U', 'T', 'C', 'G', 'M']);
            (clock.trim_end(), ahead(&text[at..]))
        }
        None => (text, 0),
    }
}

/// Seconds of `+01:00`, `-0530` or `+1`.
fn ahead(text: &str) -> i64 {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    let (hours, minutes) = digits.split_at(digits.len() - digits.len().saturating_sub(2).min(2));
    let number = |text: &str| text.parse::<i64>().unwrap_or(0);
    let seconds = number(hours) * 3600 + number(minutes) * 60;
    if text.starts_with('-') {
        -seconds
    } else {
        seconds
    }
}

/// The dates that a text may begin with: `2026-03-17`, `17.03.2026 10:15`, `3/4/2026` (two), `17 March 2026`.
pub(in crate::ingest) fn dates(text: &str) -> Vec<Date> {
    let text = text.trim().trim_matches('"');
    let first = text.split([' ', 'T', ';', '\t']).next().unwrap_or_default();
    let three: Vec<&str> = text.split([' ', ';', '\t']).take(3).collect();
    let found = day(first.trim_end_matches(',')).or_else(|| day(&three.join(" ")));
    let epoch = Date::constant(1970, 1, 1);
    let date = |days: i32| epoch.checked_add(jiff::Span::new().days(days)).ok();
    let (one, other) = found.map_or((None, None), |(one, other)| (date(one), date(other)));
    let mut dates: Vec<Date> = one.into_iter().chain(other).collect();
    dates.dedup();
    dates
}

/// Days from 1970-01-01, and the same in the other reading where what stands first is in doubt.
fn day(text: &str) -> Option<(i32, i32)> {
    if text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit()) {
        let days = days(&text[..4], &text[4..6], &text[6..])?;
        return Some((days, days));
    }
    let parts: Vec<&str> = text
        .split(['-', '.', '/', ' ', ','])
        .filter(|part| !part.is_empty())
        .collect();
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    if a.len() == 4 {
        let days = days(a, b, c)?;
        return Some((days, days));
    }
    let named = |word: &str| word.starts_with(char::is_alphabetic);
    if named(a) {
        let days = days(c, a, b)?;
        return Some((days, days));
    }
    let (day_first, month_first, year_first) = (days(c, b, a), days(c, a, b), days(a, b, c));
    let [first, second] = if text.contains('/') {
        [month_first, day_first]
    } else {
        [day_first, year_first.filter(|_| c.len() == 2)]
    };
    let found = first.or(second).or(month_first)?;
    Some((found, second.unwrap_or(found)))
}

/// Days from 1970-01-01 to a date in its fields.
fn days(year: &str, month: &str, day: &str) -> Option<i32> {
    let number = |part: &str| field(part).and_then(|n| i16::try_from(n).ok());
    let year = number(year)?;
    let year = if year < 100 { year + 2000 } else { year };
    let month = number(month).or_else(|| month_of(month))?;
    let day = i8::try_from(number(day)?).ok()?;
    let date = Date::new(year, i8::try_from(month).ok()?, day).ok()?;
    let epoch = Date::new(1970, 1, 1).ok()?;
    Some(epoch.until(date).ok()?.get_days())
}

/// The number of a month by the first three letters of its name, English or German.
fn month_of(name: &str) -> Option<i16> {
    const MONTHS: [&str; 12] = [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
    ];
    let lower = name.to_lowercase();
    let first: String = lower.chars().take(3).collect();
    let first = match first.as_str() {
        "mär" => "mar",
        "mai" => "may",
        "okt" => "oct",
        "dez" => "dec",
        other => other,
    };
    let place = MONTHS.iter().position(|month| *month == first)?;
    i16::try_from(place + 1).ok()
}
