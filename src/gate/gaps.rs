//! What a gate file leaves open, and what that costs.

use serde::{Deserialize, Serialize};

use super::GateFile;
use crate::fact::Fact;

/// Something that the gate file does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[strum(serialize_all = "kebab-case")]
pub enum Gap {
    /// No section about the gauge.
    Gauge,
    /// No serial number of the gauge.
    GaugeSerial,
    /// No day of calibration.
    CalibratedOn,
    /// No last day of calibration.
    CalibrationDue,
    /// Neither a class limit nor a certificate.
    Accuracy,
    /// No spring rate.
    SpringRate,
    /// No capacity.
    Capacity,
    /// Not said whether the gauge zeroes itself.
    ZeroesItself,
    /// No section about the visit.
    Visit,
    /// Nobody named who tested.
    TestedBy,
    /// No temperature.
    Temperature,
    /// No wind.
    Wind,
    /// No supply voltage.
    Supply,
    /// Not said what the opening leaf comes near.
    OpeningSide,
    /// No height of the leaf.
    LeafHeight,
    /// No width of the leaf.
    LeafWidth,
    /// No clear opening.
    ClearOpening,
    /// No mass of the leaf.
    LeafMass,
    /// No firmware of the drive.
    Firmware,
    /// No logs.
    Logs,
}

impl Fact for Gap {
    const FAMILY: &'static str = "gap";
}

impl Gap {
    /// The section or key that would close it.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Gauge => "gauge",
            Self::GaugeSerial => "gauge.serial",
            Self::CalibratedOn => "gauge.calibrated_on",
            Self::CalibrationDue => "gauge.calibration_due",
            Self::Accuracy => "gauge.accuracy_percent",
            Self::SpringRate => "gauge.spring_rate_n_per_mm",
            Self::Capacity => "gauge.capacity_n",
            Self::ZeroesItself => "gauge.zeroes_itself",
            Self::Visit => "visit",
            Self::TestedBy => "visit.tested_by",
            Self::Temperature => "visit.temperature_c",
            Self::Wind => "visit.wind",
            Self::Supply => "visit.supply_v",
            Self::OpeningSide => "gate.opening_side",
            Self::LeafHeight => "gate.leaf_height_mm",
            Self::LeafWidth => "gate.leaf_width_mm",
            Self::ClearOpening => "gate.clear_opening_mm",
            Self::LeafMass => "gate.leaf_mass_kg",
            Self::Firmware => "drive.firmware",
            Self::Logs => "logs",
        }
    }
}

impl GateFile {
    /// What the file leaves open, in the order of [`Gap`].
    #[must_use]
    pub fn gaps(&self) -> Vec<Gap> {
        let mut gaps = self.gauge_gaps();
        let gate = &self.gate;
        let visit = self.visit.as_ref();
        let drive = self.drive.as_ref();
        let open = [
            (visit.is_none(), Gap::Visit),
            (
                visit.is_some_and(|visit| visit.tested_by.is_none()),
                Gap::TestedBy,
            ),
            (
                visit.is_some_and(|visit| visit.temperature_c.is_none()),
                Gap::Temperature,
            ),
            (visit.is_some_and(|visit| visit.wind.is_none()), Gap::Wind),
            (
                visit.is_some_and(|visit| visit.supply_v.is_none()),
                Gap::Supply,
            ),
            (gate.opening_side.is_none(), Gap::OpeningSide),
            (gate.leaf_height.is_none(), Gap::LeafHeight),
            (gate.leaf_width.is_none(), Gap::LeafWidth),
            (gate.clear_opening.is_none(), Gap::ClearOpening),
            (gate.leaf_mass.is_none(), Gap::LeafMass),
            (
                drive.is_none_or(|drive| drive.firmware.is_none()),
                Gap::Firmware,
            ),
            (self.logs.is_none(), Gap::Logs),
        ];
        gaps.extend(open.iter().filter(|(open, _)| *open).map(|(_, gap)| *gap));
        gaps
    }

    fn gauge_gaps(&self) -> Vec<Gap> {
        let Some(gauge) = &self.gauge else {
            return vec![Gap::Gauge];
        };
        let accuracy = gauge.certificate.is_some()
            || gauge.accuracy_percent.is_some()
            || gauge.accuracy.is_some();
        // A dated certificate says what the two days of the gauge would.
        let dates = gauge.certificates.is_empty();
        let open = [
            (gauge.serial.is_none(), Gap::GaugeSerial),
            (dates && gauge.calibrated_on.is_none(), Gap::CalibratedOn),
            (
                dates && gauge.calibration_due.is_none(),
                Gap::CalibrationDue,
            ),
            (!accuracy, Gap::Accuracy),
            (gauge.spring_rate.is_none(), Gap::SpringRate),
            (gauge.capacity.is_none(), Gap::Capacity),
            (gauge.zeroes_itself.is_none(), Gap::ZeroesItself),
        ];
        let open = open.iter().filter(|(open, _)| *open);
        open.map(|(_, gap)| *gap).collect()
    }
}
