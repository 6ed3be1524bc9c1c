//! What the records and the gate file say that the uncertainty needs.

use super::Measurement;
use crate::gate::{GateFile, GaugeSection};
use crate::limitation::{self, ForceError, Limitation, SpringBand};
use crate::limits::Profile;
use crate::measure::{Kind, Level, Measure, Response};
use crate::quantity::{Newton, Second};
use crate::trace::Trace;
use crate::uncertainty::{Crossing, GaugeAccuracy, ReadingFacts};

/// The accuracy of the gauge: its certificate, else its class limit.
pub(super) fn gauge_accuracy(gate: &GateFile) -> GaugeAccuracy {
    let Some(gauge) = &gate.gauge else {
        return GaugeAccuracy::Unknown;
    };
    if let Some(accuracy) = dated(gate, gauge) {
        return accuracy;
    }
    if let Some(certificate) = &gauge.certificate {
        return certified(
            certificate.expanded_uncertainty,
            certificate.expanded_uncertainty_percent,
            certificate.coverage_factor,
        );
    }
    if gauge.accuracy_percent.is_none() && gauge.accuracy.is_none() {
        return GaugeAccuracy::Unknown;
    }
    GaugeAccuracy::Class {
        share_of_reading: gauge
            .accuracy_percent
            .map_or(0.0, |percent| percent / 100.0),
        absolute: gauge.accuracy.unwrap_or_default(),
    }
}

/// The accuracy by the dated certificate that was the last before the visit, where it states one and is not older than the
/// calibration of the gauge's own section.
fn dated(gate: &GateFile, gauge: &GaugeSection) -> Option<GaugeAccuracy> {
    let visit = gate.visit.as_ref()?.date;
    let last = gauge
        .certificates
        .iter()
        .filter(|one| one.calibrated_on <= visit)
        .max_by_key(|one| one.calibrated_on)?;
    let older = gauge
        .calibrated_on
        .is_some_and(|own| own <= visit && own > last.calibrated_on);
    if older || !last.states_uncertainty() {
        return None;
    }
    Some(certified(
        last.expanded_uncertainty,
        last.expanded_uncertainty_percent,
        last.coverage_factor?,
    ))
}

/// What a certificate states: newtons, a share of the reading, or both; a part that it does not state is none of its sum.
fn certified(expanded: Option<Newton>, percent: Option<f64>, k: f64) -> GaugeAccuracy {
    GaugeAccuracy::Certificate {
        expanded: expanded.unwrap_or_default(),
        expanded_share: percent.map_or(0.0, |percent| percent / 100.0),
        k,
    }
}

/// By how much the gauge may err, as its certificate or its class says.
fn stated_error(gate: &GateFile) -> Option<ForceError> {
    let (share, newtons) = match gauge_accuracy(gate) {
        GaugeAccuracy::Certificate {
            expanded,
            expanded_share,
            ..
        } => (expanded_share, expanded),
        GaugeAccuracy::Class {
            share_of_reading,
            absolute,
        } => (share_of_reading, absolute),
        GaugeAccuracy::Unknown => return None,
    };
    Some(ForceError {
        percent: 100.0 * share,
        newtons_n: newtons.get(),
    })
}

/// By how much the gauge may err while nothing shows that it is fit; of one whose accuracy is not known, from what the profile
/// demands.
pub(super) fn unfit_error(gate: &GateFile, profile: &Profile) -> ForceError {
    let demanded = profile.gauge.accuracy_share.map(|share| ForceError {
        percent: 100.0 * share,
        newtons_n: 0.0,
    });
    let usual = stated_error(gate).or(demanded);
    limitation::unfit(usual.unwrap_or(ForceError {
        percent: 100.0,
        newtons_n: 0.0,
    }))
}

/// Whether the gauge is as accurate as the profile demands, at the smallest peak force that it limits.
pub(super) fn gauge_accuracy_limitation(gate: &GateFile, profile: &Profile) -> Option<Limitation> {
    let limits = profile.limits.iter();
    let peaks = limits.filter(|limit| limit.measure == Measure::PeakForce);
    let at = peaks.map(|limit| limit.value).min_by(f64::total_cmp)?;
    limitation::gauge_accuracy(
        stated_error(gate),
        profile.gauge.accuracy_share?,
        Newton(at),
    )
}

/// The band of the spring rate that the profile asks for, where it asks for one.
pub(super) fn spring_band(profile: &Profile) -> Option<SpringBand> {
    Some(SpringBand {
        rate: profile.gauge.spring_rate?,
        either_way: profile.gauge.spring_rate_band?,
    })
}

/// What a record says about the uncertainty of whatever is read from it: every fact but the crossings, which belong to a
/// measure.
pub(super) fn of_record(measurement: &Measurement, gate: &GateFile) -> ReadingFacts {
    let (trace, response) = (&measurement.trace, &measurement.response);
    let declared = gate.gauge.as_ref().and_then(|gauge| gauge.resolution);
    let resolution = [trace.resolution(), declared]
        .into_iter()
        .flatten()
        .map(Newton::get)
        .fold(0.0, f64::max);
    ReadingFacts {
        resolution: Newton(resolution),
        noise: response.zero.noise.unwrap_or_default(),
        quiet_samples: response.zero.samples,
        drift: response.zero.drift.ok(),
        unseen: response
            .peak
            .as_ref()
            .map(|peak| peak.unseen)
            .unwrap_or_default(),
        step: trace.median_step().unwrap_or_default(),
        jitter: jitter(trace),
        crossings: Vec::new(),
    }
}

/// The same with the crossings from which a measure is read.
pub(super) fn of_reading(
    of_record: &ReadingFacts,
    measurement: &Measurement,
    measure: Measure,
) -> ReadingFacts {
    ReadingFacts {
        crossings: crossings(&measurement.trace, &measurement.response, measure),
        ..of_record.clone()
    }
}

/// Standard deviation of the steps of the clock.
fn jitter(trace: &Trace) -> Second {
    let times = trace.times();
    let times = times.as_slice().unwrap_or_default();
    let steps = times.len().saturating_sub(1);
    if steps < 2 {
        return Second(0.0);
    }
    let mean = (times[times.len() - 1] - times[0]) / steps as f64;
    let squares: f64 = times
        .windows(2)
        .map(|pair| (pair[1] - pair[0] - mean).powi(2))
        .sum();
    Second((squares / (steps - 1) as f64).sqrt())
}

/// The crossings that a time is read from: the level, and how steep the force is there.
fn crossings(trace: &Trace, response: &Response, measure: Measure) -> Vec<Crossing> {
    let method = &response.method;
    let contact = response
        .contact
        .as_ref()
        .ok()
        .map(|at| (*at, method.contact_level));
    let mut statics = response
        .static_crossings
        .iter()
        .map(|at| (*at, method.static_level));
    let read: Vec<(Second, Newton)> = match measure.kind() {
        Kind::TimeAbove(Level::Static) => statics.collect(),
        Kind::PeriodAbove(_) => contact.into_iter().chain(statics.next_back()).collect(),
        Kind::TimeAbove(Level::Residual) => response
            .touches
            .iter()
            .flat_map(|touch| [Some(touch.from), touch.to])
            .flatten()
            .map(|at| (at, method.contact_level))
            .collect(),
        _ => contact.into_iter().collect(),
    };
    read.into_iter()
        .filter_map(|(at, level)| {
            Some(Crossing {
                level,
                slope_n_s: slope(trace, at)?,
            })
        })
        .collect()
}

/// Slope of the force between the two samples around an instant, in N/s.
fn slope(trace: &Trace, at: Second) -> Option<f64> {
    let (times, forces) = (trace.times(), trace.forces());
    let after = times
        .as_slice()?
        .partition_point(|time| *time < at.get())
        .clamp(1, times.len().checked_sub(1)?.max(1));
    let step = times.get(after)? - times[after - 1];
    Some((forces[after] - forces[after - 1]) / step)
}
