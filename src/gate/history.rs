//! What happened before and after the visit: changes on the gate, and certificates of the gauge as they come.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::GateFile;
use crate::limitation::{AsFound, Calibration};
use crate::quantity::Newton;

pub use crate::verdict::EventKind;

/// Something that was done to the gate or the gauge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EventSection {
    /// Day on which it was done, as 2026-03-02.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub date: Date,
    /// What was changed.
    pub kind: EventKind,
    /// The change in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// On the day of the visit itself: whether it was done before or after the hits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<EventOrder>,
}

/// Whether something was done before or after the hits of its day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum EventOrder {
    BeforeTheTest,
    AfterTheTest,
}

/// A calibration certificate with its day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DatedCertificate {
    /// Number of the certificate.
    pub number: String,
    /// Who calibrated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laboratory: Option<String>,
    /// Day of the calibration, as 2026-03-02.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub calibrated_on: Date,
    /// Last day on which it holds, where the certificate or the owner sets one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub calibration_due: Option<Date>,
    /// How the gauge was found before any adjustment, as the certificate states it. The default is not-stated. Found within
    /// its limits, it also covers the time back to the calibration before; found outside, it puts that time in doubt.
    #[serde(default)]
    pub as_found: AsFound,
    /// Expanded uncertainty in percent of the reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50, "plausible" = [0.01, 10])))]
    pub expanded_uncertainty_percent: Option<f64>,
    /// Expanded uncertainty in N, in addition to the share of the reading.
    #[serde(
        rename = "expanded_uncertainty_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 1000, "plausible" = [0.001, 50])))]
    pub expanded_uncertainty: Option<Newton>,
    /// Coverage factor k of the expanded uncertainty, as the certificate states it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 1, "maximum" = 5, "plausible" = [1.6, 3.4])))]
    pub coverage_factor: Option<f64>,
}

impl DatedCertificate {
    /// Whether it states an uncertainty.
    #[must_use]
    pub const fn states_uncertainty(&self) -> bool {
        self.expanded_uncertainty_percent.is_some() || self.expanded_uncertainty.is_some()
    }

    /// What it says of the days on which the gauge could be relied on; `months` as the rule has them.
    #[must_use]
    pub const fn calibration(&self, months: Option<f64>) -> Calibration {
        Calibration {
            calibrated_on: Some(self.calibrated_on),
            due: self.calibration_due,
            months,
            as_found: self.as_found,
        }
    }
}

impl GateFile {
    /// Every calibration of the gauge that the file names; `months` for which the rule lets one hold.
    #[must_use]
    pub fn calibrations(&self, months: Option<f64>) -> Vec<Calibration> {
        let Some(gauge) = &self.gauge else {
            return Vec::new();
        };
        let own = Calibration {
            calibrated_on: gauge.calibrated_on,
            due: gauge.calibration_due,
            months,
            as_found: AsFound::NotStated,
        };
        let later = gauge
            .certificates
            .iter()
            .map(|certificate| certificate.calibration(months));
        std::iter::once(own).chain(later).collect()
    }

    /// Days on which the gauge itself was repaired, adjusted or dropped.
    #[must_use]
    pub fn gauge_changes(&self) -> Vec<Date> {
        let of_gauge = self
            .events
            .iter()
            .filter(|event| event.kind == EventKind::Gauge);
        of_gauge.map(|event| event.date).collect()
    }
}
