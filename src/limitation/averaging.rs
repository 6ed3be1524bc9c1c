//! Averaging declared in the log.

use super::{INSTANTS, Kind, Limitation};
use crate::measure::Measure;
use crate::trace::Trace;

/// The log declares that its forces are averaged or smoothed: they under-read, and times are smeared either way.
#[must_use]
pub fn averaging(trace: &Trace) -> Option<Limitation> {
    let declared = trace.averaging.as_ref()?;
    let mut voids = INSTANTS.to_vec();
    voids.extend([
        Measure::TimeAboveStatic,
        Measure::DynamicPeriod,
        Measure::TimeAboveResidual,
    ]);
    Some(Limitation {
        kind: Kind::Averaging,
        text: format!(
            "The logger averages (\"{declared}\"), which lowers a short peak and smears the times. Turn the averaging off and repeat \
             the hit."
        ),
        bounds: vec![
            Measure::PeakForce,
            Measure::StaticForce,
            Measure::ResidualForce,
            Measure::MeanDynamicForce,
            Measure::EffectiveForce,
            Measure::OverTravel,
            Measure::Energy,
        ],
        voids,
    })
}
