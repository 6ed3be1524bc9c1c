//! The gauge's calibration on the day of the test.

use jiff::ToSpan;
use jiff::civil::Date;

use super::{Evidence, JUDGED, Kind};

/// What is known of a gauge's calibration, and for how long the rule lets one hold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Calibration {
    /// Day of the last calibration.
    pub calibrated_on: Option<Date>,
    /// Last day on which it holds, as the certificate says.
    pub due: Option<Date>,
    /// Months for which the rule lets a calibration hold.
    pub months: Option<f64>,
}

impl Calibration {
    /// The last day on which the calibration holds: the earlier of the certificate's and the rule's. `None` if neither is known.
    #[must_use]
    pub fn holds_until(&self) -> Option<Date> {
        let by_rule = self
            .calibrated_on
            .zip(self.months)
            .and_then(|(day, months)| day.checked_add((months.floor() as i64).months()).ok());
        match (self.due, by_rule) {
            (Some(due), Some(rule)) => Some(due.min(rule)),
            (due, rule) => due.or(rule),
        }
    }
}

/// The calibration had expired on the day of the test, was made only after it, or is not known. Nothing read with the gauge
/// shows whether a limit was kept until a certificate for that day arrives.
#[must_use]
pub fn calibration(calibration: &Calibration, tested_on: Date) -> Option<Evidence> {
    let seen = match (calibration.calibrated_on, calibration.holds_until()) {
        (Some(day), _) if day > tested_on => {
            format!("The gauge was calibrated on {day}, after the test on {tested_on}")
        }
        (_, Some(until)) if until < tested_on => {
            format!(
                "The calibration of the gauge had expired on {until}, before the test on {tested_on}"
            )
        }
        (_, Some(_)) => return None,
        (_, None) => format!(
            "It is not known whether the gauge was calibrated on the day of the test, {tested_on}"
        ),
    };
    Some(Evidence {
        kind: Kind::Calibration,
        text: format!(
            "{seen}, so its readings prove nothing yet. They can be judged again when a certificate that covers that day is entered in \
             the gate file."
        ),
        bounds: Vec::new(),
        voids: JUDGED.to_vec(),
    })
}
