//! What looks odd in a gate file, though it can be worked with.

use jiff::civil::Date;

use crate::quantity::Kilogram;

use super::likely::Slip;
use super::problem::after;

/// What looks odd: what was found, and why it may be.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Warning {
    /// A number outside what such numbers usually are.
    #[error(
        "{key} is {value}{}: such values usually lie between {} and {}{}",
        after(*unit), usual.0, usual.1, after(*unit)
    )]
    Unusual {
        /// The key.
        key: String,
        /// The number.
        value: f64,
        /// The unit of the key.
        unit: Option<&'static str>,
        /// What such numbers usually are.
        usual: (f64, f64),
        /// The unit that was likely meant.
        slip: Option<Slip>,
    },
    /// The calibration had expired on the day of the visit.
    #[error(
        "the calibration of the gauge ended on {due}, before the visit on {visit}: findings within a limit will be undecided"
    )]
    CalibrationExpired {
        /// Last day on which the calibration holds.
        due: Date,
        /// Day of the visit.
        visit: Date,
    },
    /// The gauge was calibrated after the visit.
    #[error(
        "the gauge was calibrated on {calibrated}, after the visit on {visit}: that calibration says nothing of the day of the visit"
    )]
    CalibratedAfterVisit {
        /// Day of the calibration.
        calibrated: Date,
        /// Day of the visit.
        visit: Date,
    },
    /// The leaf is heavier than the drive is rated for.
    #[error("the leaf ({leaf}) is heavier than the drive is rated for ({rated})")]
    LeafHeavierThanRated {
        /// Mass of the leaf.
        leaf: Kilogram,
        /// Rated mass of the drive.
        rated: Kilogram,
    },
}

impl Warning {
    /// What helps.
    #[must_use]
    pub fn help(&self) -> Option<String> {
        match self {
            Self::Unusual { slip, .. } => slip.map(Slip::help),
            Self::CalibrationExpired { .. } => Some(
                "if the gauge has been calibrated since, enter that certificate under [[gauge.certificates]], with how the gauge was found, and judge again"
                    .to_owned(),
            ),
            Self::CalibratedAfterVisit { .. } => {
                Some("give the calibration that was in force on the day of the visit".to_owned())
            }
            Self::LeafHeavierThanRated { .. } => Some(
                "check both masses; a drive beyond its rating may not hold its set forces"
                    .to_owned(),
            ),
        }
    }
}
