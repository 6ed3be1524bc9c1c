//! The numbers of a profile that are not limits: their names, units and places.

use super::{Document, Marked};

/// Name, unit and path of every number that is not a limit, in the order of [`Document::marked`].
const NUMBERS: [(&str, &str, &str); 20] = [
    ("method-contact-level", "N", "method.contact_level_n"),
    ("method-static-level", "N", "method.static_level_n"),
    ("method-residual-level", "N", "method.residual_level_n"),
    ("method-effective-level", "N", "method.effective_level_n"),
    ("method-dynamic-period", "s", "method.dynamic_period_s"),
    ("method-record", "s", "method.record_s"),
    ("method-low-pass-corner", "Hz", "method.low_pass.corner_hz"),
    ("method-low-pass-order", "", "method.low_pass.order"),
    ("smallest-gap", "mm", "smallest_gap.gap_mm"),
    ("place-tolerance", "mm", "test_points.place_tolerance_mm"),
    ("gauge-spring-rate", "N/mm", "gauge.spring_rate_n_mm"),
    (
        "gauge-spring-rate-band",
        "N/mm",
        "gauge.spring_rate_band_n_mm",
    ),
    ("gauge-face-diameter", "mm", "gauge.face_diameter_mm"),
    ("gauge-capacity-from", "N", "gauge.capacity_from_n"),
    ("gauge-capacity-to", "N", "gauge.capacity_to_n"),
    ("gauge-accuracy-share", "", "gauge.accuracy_share"),
    (
        "gauge-calibration-months",
        "months",
        "gauge.calibration_months",
    ),
    (
        "sampling-tolerance-share",
        "",
        "evidence.sampling_tolerance_share",
    ),
    (
        "drift-share-of-residual-level",
        "",
        "evidence.drift_share_of_residual_level",
    ),
    ("equal-samples-at-top", "", "evidence.equal_samples_at_top"),
];

/// A number of a document that is not a limit.
pub(in crate::limits) struct Named<'d> {
    pub(in crate::limits) name: &'static str,
    pub(in crate::limits) unit: &'static str,
    pub(super) path: &'static str,
    pub(in crate::limits) marked: &'d mut Marked,
}

impl Document {
    /// Every number that is not a limit.
    pub(in crate::limits) fn marked(&mut self) -> Vec<Named<'_>> {
        let (method, gauge, evidence) = (&mut self.method, &mut self.gauge, &mut self.evidence);
        let (corner, order) = match &mut method.low_pass {
            Some(low_pass) => (Some(&mut low_pass.corner_hz), Some(&mut low_pass.order)),
            None => (None, None),
        };
        let found: [Option<&mut Marked>; NUMBERS.len()] = [
            Some(&mut method.contact_level_n),
            Some(&mut method.static_level_n),
            Some(&mut method.residual_level_n),
            Some(&mut method.effective_level_n),
            Some(&mut method.dynamic_period_s),
            Some(&mut method.record_s),
            corner,
            order,
            self.smallest_gap.as_mut().map(|table| &mut table.gap_mm),
            self.test_points.place_tolerance_mm.as_mut(),
            gauge.spring_rate_n_mm.as_mut(),
            gauge.spring_rate_band_n_mm.as_mut(),
            gauge.face_diameter_mm.as_mut(),
            gauge.capacity_from_n.as_mut(),
            gauge.capacity_to_n.as_mut(),
            gauge.accuracy_share.as_mut(),
            gauge.calibration_months.as_mut(),
            Some(&mut evidence.sampling_tolerance_share),
            Some(&mut evidence.drift_share_of_residual_level),
            Some(&mut evidence.equal_samples_at_top),
        ];
        let numbers = NUMBERS.into_iter().zip(found);
        numbers
            .filter_map(|((name, unit, path), marked)| {
                Some(Named {
                    name,
                    unit,
                    path,
                    marked: marked?,
                })
            })
            .collect()
    }
}
