//! What can differ between two gate files, and the two values of it.

use std::borrow::Cow;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::gate::Setting;
use crate::limits::Motion;

/// A thing that a gate file or a limit profile tells.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Thing {
    Motion,
    GateName,
    LeafMass,
    LeafHeight,
    LeafWidth,
    ClearOpening,
    CounterEdge,
    Drive,
    Edge,
    EdgeTravel,
    GaugeSerial,
    GaugeSpringRate,
    GaugeCapacity,
    GaugeFace,
    GaugeZeroing,
    GaugeCalibration,
    Firmware,
    ClosingSpeed,
    OpeningSpeed,
    /// A setting of the drive under the key of the gate file.
    Setting {
        key: String,
    },
    Day,
    Tester,
    Temperature,
    Wind,
    Supply,
    Profile,
    /// Levels and periods of the limit profile.
    Method,
}

impl Fact for Thing {
    const FAMILY: &'static str = "thing";
}

/// The values of a thing before and after; `None` where it is not known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Values {
    Text {
        before: Option<String>,
        after: Option<String>,
    },
    Quantity {
        before: Option<f64>,
        after: Option<f64>,
        unit: Cow<'static, str>,
    },
    Motion {
        before: Option<Motion>,
        after: Option<Motion>,
    },
    /// Whether the gauge zeroes itself.
    Zeroing {
        before: Option<bool>,
        after: Option<bool>,
    },
    Setting {
        before: Option<Setting>,
        after: Option<Setting>,
    },
    Day {
        #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
        before: Option<Date>,
        #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
        after: Option<Date>,
    },
}

impl Values {
    pub(super) const fn quantity(
        (before, after): (Option<f64>, Option<f64>),
        unit: &'static str,
    ) -> Self {
        Self::Quantity {
            before,
            after,
            unit: Cow::Borrowed(unit),
        }
    }

    /// Whether the thing is known on both sides.
    #[must_use]
    pub const fn are_known(&self) -> bool {
        match self {
            Self::Text { before, after } => before.is_some() && after.is_some(),
            Self::Quantity { before, after, .. } => before.is_some() && after.is_some(),
            Self::Motion { before, after } => before.is_some() && after.is_some(),
            Self::Zeroing { before, after } => before.is_some() && after.is_some(),
            Self::Setting { before, after } => before.is_some() && after.is_some(),
            Self::Day { before, after } => before.is_some() && after.is_some(),
        }
    }
}
