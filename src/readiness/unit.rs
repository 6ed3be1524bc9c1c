//! The units that checks are measured in.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::quantity::ForceUnit;

/// A unit of a measured check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[expect(missing_docs, reason = "the names say it")]
pub enum Unit {
    #[serde(rename = "mm")]
    Millimetre,
    #[serde(rename = "cm")]
    Centimetre,
    #[serde(rename = "m")]
    Metre,
    #[serde(rename = "kg")]
    Kilogram,
    #[serde(rename = "N")]
    Newton,
    #[serde(rename = "kgf")]
    KilogramForce,
    #[serde(rename = "s")]
    Second,
    #[serde(rename = "lux")]
    Lux,
    #[serde(rename = "%")]
    Percent,
}

/// What a unit measures: only units of one kind can be held against each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Length,
    Mass,
    Force,
    Time,
    Light,
    Share,
}

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 9] = [
        Self::Millimetre,
        Self::Centimetre,
        Self::Metre,
        Self::Kilogram,
        Self::Newton,
        Self::KilogramForce,
        Self::Second,
        Self::Lux,
        Self::Percent,
    ];

    /// Its symbol.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Kilogram => "kg",
            Self::Newton => "N",
            Self::KilogramForce => "kgf",
            Self::Second => "s",
            Self::Lux => "lux",
            Self::Percent => "%",
        }
    }

    /// Its kind, and how many of the kind's own unit (mm, kg, N, s, lux, %) it holds.
    const fn kind(self) -> (Kind, f64) {
        match self {
            Self::Millimetre => (Kind::Length, 1.0),
            Self::Centimetre => (Kind::Length, 10.0),
            Self::Metre => (Kind::Length, 1000.0),
            Self::Kilogram => (Kind::Mass, 1.0),
            Self::Newton => (Kind::Force, 1.0),
            Self::KilogramForce => (Kind::Force, ForceUnit::KilogramForce.newtons()),
            Self::Second => (Kind::Time, 1.0),
            Self::Lux => (Kind::Light, 1.0),
            Self::Percent => (Kind::Share, 1.0),
        }
    }

    /// A number of this unit in another; `None` where the two do not measure the same.
    #[must_use]
    pub fn convert(self, number: f64, to: Self) -> Option<f64> {
        let ((from_kind, from), (to_kind, into)) = (self.kind(), to.kind());
        if self == to {
            return Some(number);
        }
        (from_kind == to_kind).then(|| number * from / into)
    }

    /// The units that measure the same as this one, itself among them.
    #[must_use]
    pub fn alike(self) -> Vec<Self> {
        let alike = |other: &Self| other.kind().0 == self.kind().0;
        Self::ALL.into_iter().filter(alike).collect()
    }

    /// A text such as "9.5 kgf" or "9,5 kgf" as number and unit.
    #[must_use]
    pub fn read(text: &str) -> Option<(f64, Self)> {
        let text = text.trim();
        let end =
            text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+')))?;
        let unit = text[end..].trim();
        let unit = Self::ALL.into_iter().find(|known| known.symbol() == unit)?;
        let number = &text[..end];
        // "1,234.5" and "1.234" with two marks could be read in two ways.
        if number.matches([',', '.']).count() > 1 {
            return None;
        }
        let number: f64 = number.replace(',', ".").parse().ok()?;
        number.is_finite().then_some((number, unit))
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}
