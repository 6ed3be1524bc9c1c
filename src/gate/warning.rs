//! What looks odd in a gate file, though it can be worked with.

use jiff::civil::Date;
use serde::Serialize;

use super::likely::Slip;
use crate::fact::Fact;
use crate::quantity::Kilogram;

/// What looks odd: what was found, and why it may be.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Warning {
    /// A number outside what such numbers usually are.
    Unusual {
        /// The key.
        key: String,
        /// The number.
        value: f64,
        /// The unit of the key.
        unit: Option<&'static str>,
        /// The least that such numbers usually are.
        usual_from: f64,
        /// The greatest that they usually are.
        usual_to: f64,
        /// The unit that was likely meant.
        slip: Option<Slip>,
    },
    /// The calibration had expired on the day of the visit.
    CalibrationExpired {
        /// Last day on which the calibration holds.
        due: Date,
        /// Day of the visit.
        visit: Date,
    },
    /// The gauge was calibrated after the visit.
    CalibratedAfterVisit {
        /// Day of the calibration.
        calibrated: Date,
        /// Day of the visit.
        visit: Date,
    },
    /// The leaf is heavier than the drive is rated for.
    LeafHeavierThanRated {
        /// Mass of the leaf.
        leaf_kg: Kilogram,
        /// Rated mass of the drive.
        rated_kg: Kilogram,
    },
}

impl Fact for Warning {
    const FAMILY: &'static str = "gate-warning";
}
