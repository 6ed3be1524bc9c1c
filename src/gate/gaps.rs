//! What a gate file leaves open, and what that costs.

use std::fmt;

use super::GateFile;

/// Something that the gate file does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
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

/// What a gap leaves behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaves {
    /// Findings that would be within a limit may stay undecided.
    Undecided,
    /// Something is not tested, computed or compared.
    Unknown,
    /// The record is poorer; no finding changes.
    PoorerRecord,
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

    /// What it leaves behind.
    #[must_use]
    pub const fn leaves(self) -> Leaves {
        match self {
            Self::Gauge
            | Self::CalibratedOn
            | Self::CalibrationDue
            | Self::Accuracy
            | Self::SpringRate
            | Self::Capacity
            | Self::OpeningSide
            | Self::LeafHeight
            | Self::LeafWidth
            | Self::ClearOpening
            | Self::Visit => Leaves::Undecided,
            Self::ZeroesItself | Self::LeafMass | Self::Logs => Leaves::Unknown,
            Self::GaugeSerial
            | Self::TestedBy
            | Self::Temperature
            | Self::Wind
            | Self::Supply
            | Self::Firmware => Leaves::PoorerRecord,
        }
    }
}

impl fmt::Display for Gap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Gauge => "nothing is said of the gauge: no finding can be within a limit",
            Self::GaugeSerial => "no serial number of the gauge: its readings cannot be told from those of another",
            Self::CalibratedOn => "no day of calibration: findings within a limit will be undecided",
            Self::CalibrationDue => "no end of calibration: findings within a limit will be undecided",
            Self::Accuracy => "neither accuracy nor certificate of the gauge: no uncertainty can be stated",
            Self::SpringRate => "no spring rate of the gauge: it cannot be held against the profile, and energy and over-travel are not known",
            Self::Capacity => "no capacity of the gauge: a clipped peak may go unseen",
            Self::ZeroesItself => "not said whether the gauge zeroes itself: a log without a quiet stretch has no zero",
            Self::Visit => "nothing is said of the visit: it is not known whether the calibration held on that day",
            Self::TestedBy => "not said who tested",
            Self::Temperature => "no temperature: winter and summer differ",
            Self::Wind => "no wind: behind a closed infill it adds force",
            Self::Supply => "no supply voltage: a weak supply changes the force",
            Self::OpeningSide => "not said what the opening leaf comes near: whether hits on opening belong to the test is open",
            Self::LeafHeight => {
                "no height of the leaf: which test points are wanted is not known"
            }
            Self::LeafWidth => "no width of the leaf: which test points are wanted is not known",
            Self::ClearOpening => "no clear opening: which test points are wanted is not known",
            Self::LeafMass => "no mass of the leaf: nothing can be predicted from the mechanics",
            Self::Firmware => "no firmware of the drive: results cannot be tied to a version",
            Self::Logs => "no logs are named: every test point is not tested",
        })
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
