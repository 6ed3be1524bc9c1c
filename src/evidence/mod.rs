//! What a record cannot show: clipped, too slow, too short, no baseline, clock faults, gauge unfit, copied.

use serde::Serialize;

use crate::response::Measure;

/// One thing that limits what a record can prove.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
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
