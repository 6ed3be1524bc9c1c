//! The units that heads and unit rows are written in, and what each of them measures.

use std::borrow::Cow;

use crate::quantity::{ForceUnit, LengthUnit, TimeUnit};

/// What a unit of a log measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) enum Measured {
    /// A force.
    Force(ForceUnit),
    /// A unit of mass, which a force gauge shows for the force that the mass weighs.
    Weight(ForceUnit),
    /// Written in a way that stands for two forces, or for a force and something else: `MN`, `g`.
    Doubtful,
    /// A time.
    Time(TimeUnit),
    /// A length.
    Length(LengthUnit),
    /// A speed: a length in a time.
    Speed(LengthUnit, TimeUnit),
    /// An electric current, with the amperes in one of it.
    Current(f64),
    /// A unit of something that relent does not read.
    Else,
}

impl Measured {
    /// The unit of a force, or of the mass that a force gauge shows for it.
    pub(in crate::ingest) const fn force(self) -> Option<ForceUnit> {
        match self {
            Self::Force(unit) | Self::Weight(unit) => Some(unit),
            _ => None,
        }
    }
}

/// What `text` measures, if it is a unit at all. Brackets are taken off first; the case matters only where it decides.
pub(in crate::ingest) fn measured(text: &str) -> Option<Measured> {
    let text = bare(text);
    if text.is_empty() || text.len() > 24 {
        return None;
    }
    exact(text).or_else(|| {
        let lower = spelled(text);
        force(&lower)
            .or_else(|| time(&lower).map(Measured::Time))
            .or_else(|| length(&lower).map(Measured::Length))
            .or_else(|| speed(&lower))
            .or_else(|| other(&lower))
    })
}

/// In lower case, without blanks, with one of the two letters that stand for a millionth.
fn spelled(text: &str) -> String {
    let letters = text.chars().filter(|letter| *letter != ' ');
    letters
        .flat_map(char::to_lowercase)
        .map(|letter| if letter == 'μ' { 'µ' } else { letter })
        .collect()
}

/// The force unit that a person or a recipe names, by its symbol or a common spelling of it.
#[must_use]
pub fn force_unit(text: &str) -> Option<ForceUnit> {
    measured(text)?.force()
}

/// The time unit that a person or a recipe names, by its symbol or a common spelling of it.
#[must_use]
pub fn time_unit(text: &str) -> Option<TimeUnit> {
    match measured(text)? {
        Measured::Time(unit) => Some(unit),
        _ => None,
    }
}

/// The unit of a clock whose head gives none: seconds, where only seconds make a plausible sampling rate of its step.
pub(in crate::ingest) fn plausible_unit(step: f64) -> Option<TimeUnit> {
    let fits = |unit: TimeUnit| is_plausible_step(unit.to_seconds(step));
    let seconds = fits(TimeUnit::Second);
    let other = fits(TimeUnit::Millisecond) || fits(TimeUnit::Microsecond);
    (seconds && !other).then_some(TimeUnit::Second)
}

/// Whether a step in seconds makes a plausible sampling rate.
pub(in crate::ingest) fn is_plausible_step(seconds: f64) -> bool {
    (SLOWEST_HZ..=FASTEST_HZ).contains(&(1.0 / seconds))
}

/// Sampling rates between which force logs lie; common practice, no source. Used only to see seconds where a log names its
/// clock and not the unit: where another unit fits too, the unit is asked.
const SLOWEST_HZ: f64 = 5.0;
const FASTEST_HZ: f64 = 30_000.0;

/// `text` without white space and one pair of brackets around it.
pub(in crate::ingest) fn bare(text: &str) -> &str {
    let text = text.trim();
    for (open, close) in [('[', ']'), ('(', ')'), ('{', '}'), ('<', '>')] {
        if let Some(inner) = text
            .strip_prefix(open)
            .and_then(|rest| rest.strip_suffix(close))
        {
            let inner = inner.trim();
            return inner.strip_prefix("in ").unwrap_or(inner).trim();
        }
    }
    text
}

/// Spellings in which the case of a letter decides.
fn exact(text: &str) -> Option<Measured> {
    Some(match text {
        "mN" => Measured::Force(ForceUnit::Millinewton),
        "MN" | "Mn" | "mn" | "g" | "G" | "t" | "T" => Measured::Doubtful,
        "p" => Measured::Force(ForceUnit::GramForce),
        "M" | "P" => return None,
        "C" | "F" | "K" | "V" | "W" | "J" | "Ns" => Measured::Else,
        _ => return None,
    })
}

fn force(lower: &str) -> Option<Measured> {
    use ForceUnit as U;
    const JOINTS: [char; 4] = ['-', '_', '.', '·'];
    let mut lower = Cow::Borrowed(lower);
    if lower.contains(JOINTS) {
        lower = Cow::Owned(lower.replace(JOINTS, ""));
    }
    let unit = match &*lower {
        "n" | "н" | "newton" | "newtons" | "ньютон" => U::Newton,
        "millinewton" | "millinewtons" => U::Millinewton,
        "dan" | "decanewton" | "decanewtons" | "dekanewton" | "dekanewtons" => U::Decanewton,
        "kn" | "кн" | "kilonewton" | "kilonewtons" => U::Kilonewton,
        "kgf" | "кгс" | "kp" | "kilopond" | "kilogramforce" | "kilogramsforce" | "kgforce" => {
            U::KilogramForce
        }
        "gf" | "pond" | "gramforce" | "gramsforce" => U::GramForce,
        "lbf" | "lbsf" | "poundforce" | "poundsforce" => U::PoundForce,
        "ozf" | "ounceforce" | "ouncesforce" => U::OunceForce,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" | "kilogramm" => {
            return Some(Measured::Weight(U::KilogramForce));
        }
        "lb" | "lbs" | "pound" | "pounds" => return Some(Measured::Weight(U::PoundForce)),
        "oz" | "ounce" | "ounces" => return Some(Measured::Weight(U::OunceForce)),
        "gram" | "grams" | "gramm" => return Some(Measured::Weight(U::GramForce)),
        _ => return None,
    };
    Some(Measured::Force(unit))
}

fn time(lower: &str) -> Option<TimeUnit> {
    Some(match lower {
        "s" | "с" | "сек" | "sec" | "sec." | "secs" | "sek" | "sek." | "second" | "seconds"
        | "sekunde" | "sekunden" | "seconde" | "secondes" | "segundo" | "segundos" | "secondi"
        | "seconden" => TimeUnit::Second,
        "ms" | "мс" | "msec" | "msecs" | "msek" | "millis" | "millisecond" | "milliseconds"
        | "millisekunde" | "millisekunden" | "milliseconde" | "millisecondes" => {
            TimeUnit::Millisecond
        }
        "µs" | "us" | "usec" | "µsec" | "micros" | "microsecond" | "microseconds"
        | "mikrosekunde" | "mikrosekunden" => TimeUnit::Microsecond,
        "ns" | "nsec" | "nanos" | "nanosecond" | "nanoseconds" | "nanosekunden" => {
            TimeUnit::Nanosecond
        }
        "min" | "min." | "mins" | "minute" | "minutes" | "minuten" | "minutos" => TimeUnit::Minute,
        "h" | "hr" | "hrs" | "hour" | "hours" | "stunde" | "stunden" | "heure" | "heures" => {
            TimeUnit::Hour
        }
        "d" | "day" | "days" | "tag" | "tage" | "jour" | "jours" | "día" | "días" => {
            TimeUnit::Day
        }
        _ => return None,
    })
}

fn length(lower: &str) -> Option<LengthUnit> {
    Some(match lower {
        "mm" | "millimeter" | "millimetre" | "millimeters" | "millimetres" => {
            LengthUnit::Millimetre
        }
        "cm" | "centimeter" | "centimetre" => LengthUnit::Centimetre,
        "m" | "meter" | "metre" | "meters" | "metres" => LengthUnit::Metre,
        "in" | "inch" | "inches" | "zoll" => LengthUnit::Inch,
        _ => return None,
    })
}

fn speed(lower: &str) -> Option<Measured> {
    let (way, span) = lower.split_once('/')?;
    Some(Measured::Speed(length(way)?, time(span)?))
}

fn other(lower: &str) -> Option<Measured> {
    Some(match lower {
        "a" | "amp" | "amps" | "ampere" | "amperes" => Measured::Current(1.0),
        "ma" | "milliampere" => Measured::Current(1e-3),
        "v" | "volt" | "volts" | "mv" | "kv" | "µv" | "uv" | "mv/v" | "v/v" | "°c" | "degc"
        | "°f" | "degf" | "°" | "deg" | "degree" | "degrees" | "grad" | "rad" | "%" | "%rh"
        | "hz" | "khz" | "mhz" | "bar" | "mbar" | "pa" | "hpa" | "kpa" | "mpa" | "gpa" | "psi"
        | "nm" | "n·m" | "n*m" | "n.m" | "n-m" | "nmm" | "knm" | "ncm" | "lbf·ft" | "ft-lb"
        | "ftlb" | "ft·lbf" | "lbft" | "n/mm" | "n/m" | "kn/m" | "kn/mm" | "n/mm²" | "n/mm2"
        | "n/mm^2" | "n/s" | "kn/s" | "n·s" | "n*s" | "m/s²" | "m/s2" | "m/s^2" | "mm/s²"
        | "mm/s2" | "mm²" | "mm2" | "mm^2" | "m²" | "m2" | "ml" | "l" | "kw" | "kj" | "rpm"
        | "1/min" | "u/min" | "min-1" | "1/s" | "deg/s" | "°/s" | "rad/s" | "dps" | "db" | "lx"
        | "lux" | "ohm" | "ω" | "count" | "counts" | "digit" | "digits" | "bit" | "bits"
        | "lsb" | "adc" | "raw" | "kg/s" | "µt" | "ut" | "µm" | "um" | "km" | "km/h" | "kmh"
        | "ft" | "ft/s" | "mph" | "-" => Measured::Else,
        _ => return None,
    })
}
