//! A number whose dimension is known only when the program runs.

use std::cmp::Ordering;

use serde::{Deserialize, Serialize};

use super::{Joule, Millimetre, MillimetrePerSecond, Newton, NewtonSecond, Second};

/// What a number is a number of, written as the symbol of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[expect(missing_docs, reason = "the names say it")]
pub enum Dimension {
    #[serde(rename = "N")]
    Force,
    #[serde(rename = "s")]
    Time,
    #[serde(rename = "N·s")]
    Impulse,
    #[serde(rename = "mm")]
    Length,
    #[serde(rename = "J")]
    Energy,
    #[serde(rename = "mm/s")]
    Speed,
}

impl Dimension {
    /// The symbol of the unit.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Force => Newton::SYMBOL,
            Self::Time => Second::SYMBOL,
            Self::Impulse => NewtonSecond::SYMBOL,
            Self::Length => Millimetre::SYMBOL,
            Self::Energy => Joule::SYMBOL,
            Self::Speed => MillimetrePerSecond::SYMBOL,
        }
    }

    /// What a key ends in whose number has this unit.
    #[must_use]
    pub const fn suffix(self) -> &'static str {
        match self {
            Self::Force => "n",
            Self::Time => "s",
            Self::Impulse => "ns",
            Self::Length => "mm",
            Self::Energy => "j",
            Self::Speed => "mm_s",
        }
    }

    /// A number of this dimension, in its unit.
    #[must_use]
    pub const fn of(self, number: f64) -> Quantity {
        Quantity {
            number,
            dimension: self,
        }
    }
}

/// A number with its dimension. Two of different dimensions cannot be compared: neither is greater.
///
/// # Example
/// ```
/// use relent::quantity::{Newton, Quantity, Second};
/// let (force, time) = (Quantity::from(Newton(400.0)), Quantity::from(Second(0.75)));
/// assert!(force > Newton(399.0).into());
/// assert!(!(force > time) && !(force <= time));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    number: f64,
    dimension: Dimension,
}

impl Quantity {
    /// The number, in the unit of its dimension.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.number
    }

    /// What it is a number of.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }
}

impl PartialOrd for Quantity {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        (self.dimension == other.dimension).then(|| self.number.partial_cmp(&other.number))?
    }
}

macro_rules! quantities {
    ($($type:ident: $dimension:ident),+) => {
        $(impl From<$type> for Quantity {
            fn from(quantity: $type) -> Self {
                Dimension::$dimension.of(quantity.get())
            }
        })+
    };
}

quantities!(
    Newton: Force,
    Second: Time,
    NewtonSecond: Impulse,
    Millimetre: Length,
    Joule: Energy,
    MillimetrePerSecond: Speed
);
