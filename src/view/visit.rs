//! What the gate file says of a visit, as part of a row.

use jiff::civil::Date;

use super::column::row;
use crate::gate::GateFile;
use crate::limitation::Calibration;
use crate::limits::{Motion, VisitKind};
use crate::verdict::DecisionRule;

row! {
    /// The gate and the visit. Absent: the gate file does not say, or it could not be read.
    #[derive(Default)]
    pub struct VisitRow {
        /// name of the gate
        gate?: String,
        /// where it stands
        place?: String,
        /// how the leaf moves
        motion?: Motion,
        /// day of the visit
        visit_date?: #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))] Date,
        /// first, recurring or after-change
        visit_kind?: VisitKind,
        /// limit profile it was assessed against
        profile?: String,
        /// decision rule
        decision?: #[cfg_attr(feature = "schema", schemars(with = "Option<String>"))] DecisionRule,
        /// serial number of the gauge
        gauge_serial?: String,
        /// last calibration that the gate file names
        calibrated_on?: #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))] Date,
        /// last day on which any calibration in the gate file holds
        calibration_due?: #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))] Date,
        /// day of the next visit, from the hand-over
        next_due?: #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))] Date,
        /// temperature at the visit, °C
        temperature_c?: f64,
        /// firmware of the drive
        firmware?: String,
    }
}

impl VisitRow {
    /// What a gate file says; `months` for which the profile lets a calibration hold.
    #[must_use]
    pub fn of(gate: &GateFile, months: Option<f64>) -> Self {
        let visit = gate.visit.as_ref();
        let calibrations = gate.calibrations(months);
        let days = || calibrations.iter();
        let handover = gate.handover.as_ref();
        Self {
            gate: Some(gate.gate.name.clone()),
            place: gate.gate.place.clone(),
            motion: Some(gate.gate.motion),
            visit_date: visit.map(|visit| visit.date),
            visit_kind: visit.map(|visit| visit.kind),
            profile: Some(gate.assessment.profile.clone()),
            decision: Some(gate.assessment.rule()),
            gauge_serial: gate.gauge.as_ref().and_then(|gauge| gauge.serial.clone()),
            calibrated_on: days().filter_map(|one| one.calibrated_on).max(),
            calibration_due: days().filter_map(Calibration::holds_until).max(),
            next_due: handover.and_then(|handover| handover.next_due),
            temperature_c: visit.and_then(|visit| visit.temperature_c),
            firmware: gate.drive.as_ref().and_then(|drive| drive.firmware.clone()),
        }
    }
}
