//! The numbers of a profile that are not limits: their names, units and places.

use super::{Document, Marked};

/// A number of a document that is not a limit.
pub(in crate::limits) struct Named<'d> {
    pub(in crate::limits) name: &'static str,
    pub(in crate::limits) unit: &'static str,
    pub(super) path: &'static str,
    pub(in crate::limits) marked: &'d mut Marked,
}

impl<'d> Named<'d> {
    /// `None` where the document does not have the number.
    fn new(
        name: &'static str,
        unit: &'static str,
        path: &'static str,
        marked: Option<&'d mut Marked>,
    ) -> Option<Self> {
        let marked = marked?;
        Some(Self {
            name,
            unit,
            path,
            marked,
        })
    }
}

impl Document {
    /// Every number that is not a limit.
    #[rustfmt::skip]
    pub(in crate::limits) fn marked(&mut self) -> Vec<Named<'_>> {
        let (method, gauge, limitations) = (&mut self.method, &mut self.gauge, &mut self.limitations);
        let (corner, order) = match &mut method.low_pass {
            Some(low_pass) => (Some(&mut low_pass.corner_hz), Some(&mut low_pass.order)),
            None => (None, None),
        };
        let numbers = [
            Named::new("method-contact-level", "N", "method.contact_level_n", Some(&mut method.contact_level_n)),
            Named::new("method-static-level", "N", "method.static_level_n", Some(&mut method.static_level_n)),
            Named::new("method-residual-level", "N", "method.residual_level_n", Some(&mut method.residual_level_n)),
            Named::new("method-effective-level", "N", "method.effective_level_n", Some(&mut method.effective_level_n)),
            Named::new("method-dynamic-period", "s", "method.dynamic_period_s", Some(&mut method.dynamic_period_s)),
            Named::new("method-record", "s", "method.record_s", Some(&mut method.record_s)),
            Named::new("method-low-pass-corner", "Hz", "method.low_pass.corner_hz", corner),
            Named::new("method-low-pass-order", "", "method.low_pass.order", order),
            Named::new("smallest-gap", "mm", "smallest_gap.gap_mm", self.smallest_gap.as_mut().map(|table| &mut table.gap_mm)),
            Named::new("place-tolerance", "mm", "test_points.place_tolerance_mm", self.test_points.place_tolerance_mm.as_mut()),
            Named::new("hits-at-least", "", "test_points.hits_at_least", self.test_points.hits_at_least.as_mut()),
            Named::new("gauge-spring-rate", "N/mm", "gauge.spring_rate_n_mm", gauge.spring_rate_n_mm.as_mut()),
            Named::new("gauge-spring-rate-band", "N/mm", "gauge.spring_rate_band_n_mm", gauge.spring_rate_band_n_mm.as_mut()),
            Named::new("gauge-face-diameter", "mm", "gauge.face_diameter_mm", gauge.face_diameter_mm.as_mut()),
            Named::new("gauge-capacity-from", "N", "gauge.capacity_from_n", gauge.capacity_from_n.as_mut()),
            Named::new("gauge-capacity-to", "N", "gauge.capacity_to_n", gauge.capacity_to_n.as_mut()),
            Named::new("gauge-accuracy-share", "", "gauge.accuracy_share", gauge.accuracy_share.as_mut()),
            Named::new("gauge-calibration-months", "months", "gauge.calibration_months", gauge.calibration_months.as_mut()),
            Named::new("sampling-tolerance-share", "", "limitations.sampling_tolerance_share", Some(&mut limitations.sampling_tolerance_share)),
            Named::new("drift-share-of-residual-level", "", "limitations.drift_share_of_residual_level", Some(&mut limitations.drift_share_of_residual_level)),
            Named::new("equal-samples-at-top", "", "limitations.equal_samples_at_top", Some(&mut limitations.equal_samples_at_top)),
        ];
        numbers.into_iter().flatten().collect()
    }
}
