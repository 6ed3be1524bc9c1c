//! The gauge's calibration on the day of the test.

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;

/// How a calibration found the gauge, before any adjustment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum AsFound {
    /// Within its limits of error.
    Within,
    /// Outside them.
    Outside,
    /// The certificate does not say.
    #[default]
    NotStated,
}

/// What is known of one calibration of a gauge, and for how long the rule lets one hold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Calibration {
    /// Day of the calibration.
    pub calibrated_on: Option<Date>,
    /// Last day on which it holds, as the certificate says.
    pub due: Option<Date>,
    /// Months for which the rule lets a calibration hold.
    pub months: Option<f64>,
    /// How it found the gauge.
    pub as_found: AsFound,
}

/// Why no calibration of the gauge covers the day of the test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "the messages of words/en/limitation.ftl say it"
)]
pub enum Uncovered {
    /// The next calibration found the gauge outside its limits of error.
    FoundOutside {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        found_on: Date,
    },
    /// Repaired, adjusted or dropped after its calibration, up to the day of the test.
    GaugeChanged {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        changed_on: Date,
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        calibrated_on: Date,
    },
    Expired {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        until: Date,
        later: Option<LaterCertificate>,
    },
    /// The first calibration that is known is later than the test.
    CalibratedAfter {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        calibrated_on: Date,
    },
    NotKnown {
        later: Option<LaterCertificate>,
    },
}

/// Why a calibration after the test does not cover it either.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum LaterCertificate {
    /// It found the gauge within its limits, but the gauge was changed in between.
    GaugeChangedBetween {
        /// Its day.
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        calibrated_on: Date,
    },
    /// It does not state how it found the gauge before any adjustment.
    AsFoundNotStated {
        /// Its day.
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        calibrated_on: Date,
    },
}

impl Fact for Uncovered {
    const FAMILY: &'static str = "uncovered";
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

/// The day of the test is covered by none of the gauge's calibrations. Nothing read with the gauge shows that a limit was kept
/// until a certificate for that day arrives. `changed`: days on which the gauge itself was repaired, adjusted or dropped.
///
/// # Which day is covered
/// - A calibration covers its own day and those up to the last on which it holds, as long as the gauge was not changed since.
/// - A certificate made *after* the test covers it only if it states that the gauge was found within its limits before any
///   adjustment, there is a calibration before the test, and the gauge was not changed between the two: it was good at both
///   ends of that time, so it was good in between. A new certificate without that statement covers tests from its own day on.
/// - If the next calibration after the test found the gauge outside its limits, the test is in doubt even though an older
///   certificate had not yet run out.
///
/// Common practice of calibration and audit, no source.
#[must_use]
pub fn calibration(all: &[Calibration], changed: &[Date], tested_on: Date) -> Option<Uncovered> {
    let mut days: Vec<(Date, &Calibration)> = all
        .iter()
        .filter_map(|one| Some((one.calibrated_on?, one)))
        .collect();
    days.sort_by_key(|(day, _)| *day);
    let next = days.partition_point(|(day, _)| *day <= tested_on);
    let (before, after) = (&days[..next], days.get(next));
    if let Some((day, _)) = after.filter(|(_, one)| one.as_found == AsFound::Outside) {
        return Some(Uncovered::FoundOutside { found_on: *day });
    }
    let change = |from: Date, to: Date| {
        let between = |day: &&Date| **day > from && **day <= to;
        changed.iter().find(between)
    };
    if let Some((last, _)) = before.last()
        && let Some(day) = change(*last, tested_on)
    {
        return Some(Uncovered::GaugeChanged {
            changed_on: *day,
            calibrated_on: *last,
        });
    }
    // A day without an end is held against what the gate file gives as the end alone.
    let undated = all.iter().filter(|one| one.calibrated_on.is_none());
    let holding = before.iter().map(|(_, one)| *one).chain(undated);
    let until = holding.filter_map(Calibration::holds_until).max();
    if until.is_some_and(|until| until >= tested_on) {
        return None;
    }
    let bracket = before.last().zip(after);
    if let Some(((from, _), (to, found))) = bracket
        && found.as_found == AsFound::Within
        && change(*from, *to).is_none()
    {
        return None;
    }
    Some(open(until, !before.is_empty(), after))
}

/// What is missing.
fn open(until: Option<Date>, before: bool, after: Option<&(Date, &Calibration)>) -> Uncovered {
    let later = after
        .filter(|_| before)
        .map(|(day, one)| match one.as_found {
            AsFound::Within => LaterCertificate::GaugeChangedBetween {
                calibrated_on: *day,
            },
            AsFound::Outside | AsFound::NotStated => LaterCertificate::AsFoundNotStated {
                calibrated_on: *day,
            },
        });
    match (until, after) {
        (Some(until), _) => Uncovered::Expired { until, later },
        (None, Some((day, _))) if !before => Uncovered::CalibratedAfter {
            calibrated_on: *day,
        },
        _ => Uncovered::NotKnown { later },
    }
}
