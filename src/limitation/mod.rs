//! What a record cannot show: clipped, too slow, too short, no baseline, clock faults, gauge unfit, copied.
//!
//! A record that under-reads can prove that a limit was exceeded; it can never prove that it was kept.

mod averaging;
mod calibration;
mod capacity;
mod contradicted;
pub mod copy;
mod drift;
mod ends_early;
mod fewer_samples;
pub mod fingerprint;
mod flat_top;
mod gauge_accuracy;
mod later_contact;
mod lone_sample;
mod missing;
mod no_reading;
mod no_zero;
mod opens;
pub mod plateau;
mod slow_sampling;
mod spring_rate;
mod starts_in_contact;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::measure::{GaugeFacts, Level, Measure, Response, Unmeasured, ZeroFrom, Zeroed};
use crate::trace::Trace;

pub use averaging::averaging;
pub use calibration::{AsFound, Calibration, LaterCertificate, Uncovered, calibration};
pub use capacity::{SetBy, at_capacity, capacity_below_limit};
pub use contradicted::{other_day, other_gauge};
pub use copy::{Alike, EarlierLog, Original, Print};
pub use drift::drift;
pub use ends_early::ends_early;
pub use fewer_samples::{FewerSamples, Filling, fewer_samples, fewer_true_samples};
pub use flat_top::flat_top;
pub use gauge_accuracy::{gauge_accuracy, unfit};
pub use later_contact::later_contact;
pub use lone_sample::{LoneSample, Without, lone_sample, lone_samples};
pub use missing::{Hidden, clock_gap, lost_samples};
pub use no_reading::{NothingRead, no_reading};
pub use no_zero::no_zero;
pub use opens::{ForceError, Interval, Opens, Standing, force_error, interval};
pub use slow_sampling::slow_sampling;
pub use spring_rate::{SpringBand, spring_rate};
pub use starts_in_contact::starts_in_contact;

/// One thing that limits what a record can prove. [`Limitation::opens`] says what of which measures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "the messages of words/en/limitation.ftl say it"
)]
#[strum(serialize_all = "kebab-case")]
pub enum Limitation {
    /// The top of the hit is flat: clipped by the gauge or the logger. `reaches`: the windows whose force is as high.
    FlatTop {
        samples: usize,
        lasts_ms: f64,
        force_n: f64,
        reaches: Vec<Level>,
    },
    /// The top reaches the capacity of the gauge and may be cut off even if it does not look flat.
    AtCapacity {
        force_n: f64,
        capacity_n: f64,
        set_by: SetBy,
    },
    /// The sampling is too slow for the pulse: part of the top is unseen, or a lone sample stands before the contact.
    SlowSampling {
        peak_n: f64,
        unseen_n: f64,
        lone_n: Option<f64>,
    },
    /// Fewer true samples than rows, too few for the pulse.
    FewerSamples {
        filling: Filling,
        rows: f64,
        true_rate_hz: f64,
        peak_n: f64,
        unseen_n: f64,
    },
    /// Samples that no leaf can make, the highest with its instant from the first sample; `without`: the measures that differ without them.
    LoneSample {
        samples: usize,
        at_s: f64,
        force_n: f64,
        peak_without_n: Option<f64>,
        without: Vec<Without>,
    },
    /// The gauge is touched again, `apart_s` after the leaf let go of it, with up to `peak_n`. `without`: the measures that are others
    /// without that.
    LaterContact {
        apart_s: f64,
        peak_n: f64,
        peak_without_n: Option<f64>,
        without: Vec<Without>,
    },
    /// Rows without a usable force inside the hit; the first with its line and text.
    LostSamples {
        rows: usize,
        line: u64,
        found: String,
        hides: Option<Hidden>,
    },
    /// The clock jumps inside the hit.
    ClockGap {
        gaps: usize,
        first_s: f64,
        longest_ms: f64,
        hides: Option<Hidden>,
    },
    /// The logger averages, as the log says.
    Averaging { declared: String },
    /// The record ends before the prescribed time after contact, or in time but above the levels of `still_above`.
    EndsEarly {
        ends_s: f64,
        needs_s: f64,
        presses_n: f64,
        still_above: Vec<Level>,
    },
    /// The record starts while the leaf already presses.
    StartsInContact { force_n: f64 },
    /// No quiet stretch to take a zero from; it may be off by `shift_n` either way, as far as the record shows.
    NoZero {
        zero_from: ZeroFrom,
        unmeasured: Option<Unmeasured>,
        shift_n: f64,
    },
    /// The zero moved between before and after the hit.
    Drift { drift_n: f64, residual_level_n: f64 },
    /// The gauge's capacity is not above the limit.
    CapacityBelowLimit {
        measure: Measure,
        capacity_n: f64,
        limit_n: f64,
    },
    /// The gauge's spring rate is outside the profile's band, or unknown.
    SpringRate {
        rate_n_mm: Option<f64>,
        required_n_mm: f64,
        either_way_n_mm: f64,
    },
    /// The day of the test is covered by none of the gauge's calibrations.
    Calibration {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        tested_on: Date,
        uncovered: Uncovered,
        /// By how much the gauge may be wrong until a certificate says otherwise.
        may_err: ForceError,
    },
    /// The gauge is less accurate than the profile demands, or its accuracy is not known; both for a force of `at_force_n`.
    GaugeAccuracy {
        accuracy_percent: Option<f64>,
        required_percent: f64,
        at_force_n: f64,
        may_err: ForceError,
    },
    /// The log is dated on another day than the visit.
    OtherDay {
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        logged_on: Date,
        #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
        visited_on: Date,
    },
    /// The log names another gauge than the gate file.
    OtherGauge {
        logged_serial: String,
        gauge_serial: String,
    },
    /// No force ever left the noise, or only negative ones.
    NoReading { seen: NothingRead },
    /// It was made from other logs, or they from it.
    Copy { originals: Vec<Original> },
}

impl Fact for Limitation {
    const FAMILY: &'static str = "limitation";
}

impl Limitation {
    /// Whether it is the gauge's, and so the same with every hit: making the hit again does not help.
    #[must_use]
    pub const fn is_of_the_gauge(&self) -> bool {
        matches!(
            self,
            Self::CapacityBelowLimit { .. }
                | Self::SpringRate { .. }
                | Self::Calibration { .. }
                | Self::GaugeAccuracy { .. }
        )
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

/// Everything that follows from the record itself, in the order of [`Limitation`]; empty for a record without trouble.
#[must_use]
pub fn of_record(
    trace: &Trace,
    response: &Response,
    tolerances: &Tolerances,
    gauge: &GaugeFacts,
) -> Vec<Limitation> {
    let record = Zeroed::raw(trace).map(|raw| raw.less(response.zero.subtracted.get()));
    of_zeroed(trace, record.as_ref().ok(), response, tolerances, gauge)
}

/// As [`of_record`], for a caller that has the zeroed record; `None` for one that cannot be calculated with.
#[must_use]
pub fn of_zeroed(
    trace: &Trace,
    record: Option<&Zeroed<'_>>,
    response: &Response,
    tolerances: &Tolerances,
    gauge: &GaugeFacts,
) -> Vec<Limitation> {
    let Some(record) = record else {
        let seen = NothingRead::BeyondCalculation;
        return vec![Limitation::NoReading { seen }];
    };
    [
        flat_top(trace, record, response, tolerances),
        slow_sampling(record, response, tolerances),
        fewer_true_samples(trace, record, response, tolerances),
        lone_sample(trace, record, response, gauge),
        later_contact(trace, record, response, gauge),
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
