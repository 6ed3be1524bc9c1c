//! Physical quantities as small types that carry their unit, and the units that logs are written in.
//!
//! Inside the library every quantity has one unit: newton, second, millimetre, kilogram, hertz, joule. Other units exist
//! only at the edges, as [`ForceUnit`], [`TimeUnit`] and [`LengthUnit`] with exact factors.

mod dimension;

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

pub use dimension::{Dimension, Quantity};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $symbol:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// The symbol of the unit.
            pub const SYMBOL: &str = $symbol;

            /// The number, in the unit of this type.
            #[must_use]
            pub const fn get(self) -> f64 {
                self.0
            }

            /// True for a number that is neither NaN nor infinite.
            #[must_use]
            pub const fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0, f)?;
                f.write_str(concat!(" ", $symbol))
            }
        }
    };
}

quantity!(
    /// A force in newtons, positive when the leaf pushes on the gauge.
    Newton,
    "N"
);
quantity!(
    /// A time or an instant in seconds.
    Second,
    "s"
);
quantity!(
    /// A length in millimetres.
    Millimetre,
    "mm"
);
quantity!(
    /// A speed in millimetres a second, positive towards the gauge.
    MillimetrePerSecond,
    "mm/s"
);
quantity!(
    /// A spring rate in newtons a millimetre.
    NewtonPerMillimetre,
    "N/mm"
);
quantity!(
    /// A mass in kilograms.
    Kilogram,
    "kg"
);
quantity!(
    /// A frequency or sampling rate in hertz.
    Hertz,
    "Hz"
);
quantity!(
    /// An energy in joules.
    Joule,
    "J"
);
quantity!(
    /// An impulse in newton seconds.
    NewtonSecond,
    "N·s"
);

/// Standard acceleration of free fall in m/s², exact by definition (BIPM, SI brochure, 9th edition, section 5.4.3 and
/// CGPM 1901; NIST SP 811, table B.8).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

/// The international avoirdupois pound in kilograms, exact by definition (NIST SP 811, appendix B.8).
pub const POUND_KG: f64 = 0.453_592_37;

/// A unit in which a log may give its force.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum ForceUnit {
    /// newton
    #[serde(rename = "N")]
    Newton,
    /// millinewton
    #[serde(rename = "mN")]
    Millinewton,
    /// decanewton
    #[serde(rename = "daN")]
    Decanewton,
    /// kilonewton
    #[serde(rename = "kN")]
    Kilonewton,
    /// kilogram-force, also called kilopond
    #[serde(rename = "kgf")]
    KilogramForce,
    /// gram-force, also called pond
    #[serde(rename = "gf")]
    GramForce,
    /// pound-force
    #[serde(rename = "lbf")]
    PoundForce,
    /// ounce-force, avoirdupois
    #[serde(rename = "ozf")]
    OunceForce,
}

impl ForceUnit {
    /// Every unit, in the order in which help lists them.
    pub const ALL: [Self; 8] = [
        Self::Newton,
        Self::Millinewton,
        Self::Decanewton,
        Self::Kilonewton,
        Self::KilogramForce,
        Self::GramForce,
        Self::PoundForce,
        Self::OunceForce,
    ];

    /// The symbol that relent writes and that the options take.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Newton => "N",
            Self::Millinewton => "mN",
            Self::Decanewton => "daN",
            Self::Kilonewton => "kN",
            Self::KilogramForce => "kgf",
            Self::GramForce => "gf",
            Self::PoundForce => "lbf",
            Self::OunceForce => "ozf",
        }
    }

    /// Newtons in one of this unit; exact products of the definitions in NIST SP 811, appendix B.8.
    #[must_use]
    pub const fn newtons(self) -> f64 {
        match self {
            Self::Newton => 1.0,
            Self::Millinewton => 1e-3,
            Self::Decanewton => 10.0,
            Self::Kilonewton => 1000.0,
            Self::KilogramForce => STANDARD_GRAVITY_M_S2,
            Self::GramForce => STANDARD_GRAVITY_M_S2 / 1000.0,
            Self::PoundForce => 4.448_221_615_260_5,
            Self::OunceForce => 4.448_221_615_260_5 / 16.0,
        }
    }
}

/// A unit in which a log may give its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum TimeUnit {
    /// second
    #[serde(rename = "s")]
    Second,
    /// millisecond
    #[serde(rename = "ms")]
    Millisecond,
    /// microsecond
    #[serde(rename = "µs")]
    Microsecond,
    /// nanosecond
    #[serde(rename = "ns")]
    Nanosecond,
    /// minute
    #[serde(rename = "min")]
    Minute,
    /// hour
    #[serde(rename = "h")]
    Hour,
    /// day
    #[serde(rename = "d")]
    Day,
}

impl TimeUnit {
    /// Every unit, in the order in which help lists them.
    pub const ALL: [Self; 7] = [
        Self::Second,
        Self::Millisecond,
        Self::Microsecond,
        Self::Nanosecond,
        Self::Minute,
        Self::Hour,
        Self::Day,
    ];

    /// The symbol that relent writes and that the options take.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Second => "s",
            Self::Millisecond => "ms",
            Self::Microsecond => "µs",
            Self::Nanosecond => "ns",
            Self::Minute => "min",
            Self::Hour => "h",
            Self::Day => "d",
        }
    }

    /// Seconds in one of this unit (BIPM, SI brochure, 9th edition, tables 7 and 8).
    #[must_use]
    pub const fn seconds(self) -> f64 {
        match self {
            Self::Second => 1.0,
            Self::Millisecond => 1e-3,
            Self::Microsecond => 1e-6,
            Self::Nanosecond => 1e-9,
            Self::Minute => 60.0,
            Self::Hour => 3600.0,
            Self::Day => 86_400.0,
        }
    }

    /// How many of this unit make a second, or how many seconds make one: dividing by a whole number keeps decimal
    /// values exact where multiplying by `1e-3` would not.
    #[must_use]
    pub fn to_seconds(self, value: f64) -> f64 {
        match self {
            Self::Millisecond => value / 1e3,
            Self::Microsecond => value / 1e6,
            Self::Nanosecond => value / 1e9,
            Self::Second | Self::Minute | Self::Hour | Self::Day => value * self.seconds(),
        }
    }
}

/// A unit in which a log may give the position or speed of the leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// millimetre
    Millimetre,
    /// centimetre
    Centimetre,
    /// metre
    Metre,
    /// inch, international
    Inch,
}

impl LengthUnit {
    /// Millimetres in one of this unit (inch: exact, NIST SP 811, appendix B.8).
    #[must_use]
    pub const fn millimetres(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => 25.4,
        }
    }
}
