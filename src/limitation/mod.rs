//! What a record cannot show: clipped, too slow, too short, no baseline, clock faults, gauge unfit, copied.
//!
//! A record that under-reads can prove that a limit was exceeded; it can never prove that it was kept.

mod averaging;
mod calibration;
mod capacity;
pub mod copy;
mod drift;
mod ends_early;
pub mod fingerprint;
mod flat_top;
mod missing;
mod no_reading;
mod no_zero;
mod slow_sampling;
mod spring_rate;
mod starts_in_contact;

use serde::Serialize;

use crate::measure::{Measure, Response, Zeroed};
use crate::trace::Trace;

pub use averaging::averaging;
pub use calibration::{AsFound, Calibration, calibration};
pub use capacity::{at_capacity, capacity_below_limit};
pub use drift::drift;
pub use ends_early::ends_early;
pub use flat_top::flat_top;
pub use missing::{clock_gap, lost_samples};
pub use no_reading::no_reading;
pub use no_zero::no_zero;
pub use slow_sampling::slow_sampling;
pub use spring_rate::{SpringBand, spring_rate};
pub use starts_in_contact::starts_in_contact;

/// One thing that limits what a record can prove.
#[derive(Clone, Debug, PartialEq)]
pub struct Limitation {
    /// What kind of trouble.
    pub kind: Kind,
    /// What was seen, why it matters and what helps, in plain words.
    pub text: String,
    /// Measures that are lower bounds only: they can show that a limit was exceeded, never that it was kept.
    pub bounds: Vec<Measure>,
    /// Measures that can show neither.
    pub voids: Vec<Measure>,
}

/// The kinds of evidence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The top of the hit is flat: clipped by the gauge or the logger.
    FlatTop,
    /// The sampling is too slow for the pulse.
    SlowSampling,
    /// Rows without a usable force inside the hit.
    LostSamples,
    /// The clock jumps inside the hit.
    ClockGap,
    /// The logger averages.
    Averaging,
    /// The record ends before the prescribed time.
    EndsEarly,
    /// The record starts while the leaf already presses.
    StartsInContact,
    /// No quiet stretch to take a zero from.
    NoZero,
    /// The zero moved between before and after the hit.
    Drift,
    /// The gauge's capacity is below the limit.
    CapacityBelowLimit,
    /// The gauge's spring rate is outside the profile's band, or unknown.
    SpringRate,
    /// The gauge's calibration had expired, or is unknown.
    Calibration,
    /// No force ever left the noise, or only negative ones.
    NoReading,
    /// The same samples stand under another name.
    Copy,
}

impl Kind {
    /// Whether it is the gauge's, and so the same with every hit: making the hit again does not help.
    #[must_use]
    pub const fn is_of_the_gauge(self) -> bool {
        match self {
            Self::CapacityBelowLimit | Self::SpringRate | Self::Calibration => true,
            Self::FlatTop
            | Self::SlowSampling
            | Self::LostSamples
            | Self::ClockGap
            | Self::Averaging
            | Self::EndsEarly
            | Self::StartsInContact
            | Self::NoZero
            | Self::Drift
            | Self::NoReading
            | Self::Copy => false,
        }
    }
}

/// How much trouble a record may show before it limits what is proved. Comes from the limit profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// Greatest excess over the highest sample that sampling may have missed, as a share of the peak.
    pub sampling_tolerance_share: f64,
    /// Greatest zero drift, as a share of the residual level.
    pub drift_share_of_residual_level: f64,
    /// Equal samples at the top from which a record counts as clipped.
    pub equal_samples_at_top: usize,
}

/// Everything that follows from the record itself, in the order of [`Kind`]; empty for a record without trouble.
#[must_use]
pub fn of_record(trace: &Trace, response: &Response, tolerances: &Tolerances) -> Vec<Limitation> {
    let record = Zeroed::raw(trace).map(|raw| raw.less(response.zero.subtracted.get()));
    of_zeroed(trace, record.as_ref().ok(), response, tolerances)
}

/// As [`of_record`], for a caller that has the zeroed record; `None` for one that cannot be calculated with.
#[must_use]
pub fn of_zeroed(
    trace: &Trace,
    record: Option<&Zeroed<'_>>,
    response: &Response,
    tolerances: &Tolerances,
) -> Vec<Limitation> {
    let Some(record) = record else {
        return no_reading::unusable();
    };
    [
        flat_top(record, response, tolerances),
        slow_sampling(record, response, tolerances),
        lost_samples(trace, record, response),
        clock_gap(trace, record, response),
        averaging(trace),
        ends_early(record, response),
        starts_in_contact(record, response),
        no_zero(response),
        drift(response, tolerances),
        no_reading(record, response),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Every measure that a limit may judge or a reader may compare: all but zero, noise, drift and contact.
const JUDGED: [Measure; 16] = [
    Measure::PeakForce,
    Measure::PeakAt,
    Measure::TimeAboveStatic,
    Measure::DynamicPeriod,
    Measure::StaticForce,
    Measure::ResidualForce,
    Measure::TimeAboveResidual,
    Measure::MeanDynamicForce,
    Measure::EffectiveForce,
    Measure::Impulse,
    Measure::Release,
    Measure::StopTime,
    Measure::ReversalTime,
    Measure::OverTravel,
    Measure::Energy,
    Measure::ApproachSpeed,
];

/// The measures that only grow if more force, or a longer record, had been seen.
const GROWING: [Measure; 11] = [
    Measure::PeakForce,
    Measure::TimeAboveStatic,
    Measure::DynamicPeriod,
    Measure::StaticForce,
    Measure::ResidualForce,
    Measure::TimeAboveResidual,
    Measure::MeanDynamicForce,
    Measure::EffectiveForce,
    Measure::Impulse,
    Measure::OverTravel,
    Measure::Energy,
];

/// The instants that a missing or smeared stretch may shift either way.
const INSTANTS: [Measure; 4] = [
    Measure::PeakAt,
    Measure::StopTime,
    Measure::ReversalTime,
    Measure::Release,
];

/// What a higher top would raise.
const TOP: [Measure; 6] = [
    Measure::PeakForce,
    Measure::MeanDynamicForce,
    Measure::EffectiveForce,
    Measure::Impulse,
    Measure::OverTravel,
    Measure::Energy,
];
