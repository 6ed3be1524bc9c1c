//! What the records and the gate file say that the uncertainty needs.

use super::Measurement;
use crate::gate::{GateFile, GaugeSection};
use crate::limitation::{self, ForceError, Limitation, SpringBand};
use crate::limits::Profile;
use crate::measure::{Basis, Kind, Level, Measure, Response};
use crate::quantity::{Newton, Second};
use crate::trace::Trace;
use crate::uncertainty::{Crossing, Doubt, GaugeAccuracy, ReadingFacts};

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
    let demanded = || profile.gauge.accuracy_share.map(ForceError::of_share);
    let usual = stated_error(gate).or_else(demanded);
    limitation::unfit(usual.unwrap_or(ForceError::of_share(1.0)))
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
        doubt: Doubt::default(),
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
        doubt: doubt(
            &measurement.trace,
            &measurement.response,
            of_record,
            measure,
        )
        .unwrap_or_default(),
        ..of_record.clone()
    }
}

/// Half-width of the band around the top of the force, in multiples of the noise: the greatest of many samples lies so far up.
const TOP_NOISES: f64 = 4.0;

/// How far the true instant of a stop or a reversal may lie from the one that is read from the force; `None` for any other.
///
/// A spring is deflected furthest where the leaf stands still, and its force stays near the greatest for some time: the stop is
/// anywhere in the time over which the force stays within noise and one step of its top. The force falls from the stop on by the
/// rebound as well as by the reversal: the reversal is anywhere from the stop to the start of the final unloading, and to the release
/// where there is no hold.
fn doubt(
    trace: &Trace,
    response: &Response,
    of_record: &ReadingFacts,
    measure: Measure,
) -> Option<Doubt> {
    let (at, basis) = match measure {
        Measure::StopTime => response.stop.ok()?,
        Measure::ReversalTime => response.reversal.ok()?,
        _ => return None,
    };
    let (stop, _) = response.stop.ok()?;
    if basis != Basis::Force {
        return None;
    }
    let (times, forces) = (trace.times(), trace.forces());
    let (times, forces) = (times.as_slice()?, forces.as_slice()?);
    let contact = response.contact.ok()?.get();
    let top = times.partition_point(|time| *time < contact + stop.get());
    let band = TOP_NOISES * of_record.noise.get() + of_record.resolution.get();
    let below = |force: &f64| *force < forces[top] - band;
    let first = forces[..top]
        .iter()
        .rposition(below)
        .map_or(0, |one| one + 1);
    let last = forces[top..].iter().position(below).unwrap_or(1).max(1) - 1 + top;
    let (before, after) = (times[top] - times[first], times[last] - times[top]);
    if measure == Measure::StopTime {
        return Some(Doubt {
            earlier: Second(before),
            later: Second(after),
        });
    }
    let no_hold = at == stop;
    let release = response.release.ok().filter(|_| no_hold);
    Some(Doubt {
        earlier: Second((at - stop).get() + before),
        later: release.map_or(Second(0.0), |release| release - stop),
    })
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
    let noise = response.zero.noise.map_or(0.0, Newton::get);
    read.into_iter()
        .filter_map(|(at, level)| {
            Some(Crossing {
                level,
                slope_n_s: slope(trace, at, noise)?,
            })
        })
        .collect()
}

/// Force that a rise must have, in multiples of the noise, before its slope is read: less is the noise's own.
const RISE_NOISES: f64 = 8.0;
/// Time beyond which a slope is read no farther.
const RISE_S: f64 = 0.050;

/// Slope of the force around an instant in N/s: over the two samples beside it, and over as many more as lift the rise out of the noise.
fn slope(trace: &Trace, at: Second, noise: f64) -> Option<f64> {
    let (times, forces) = (trace.times(), trace.forces());
    let last = times.len().checked_sub(1)?;
    let times = times.as_slice()?;
    let after = times
        .partition_point(|time| *time < at.get())
        .clamp(1, last.max(1));
    let (mut from, mut to) = (after - 1, after.min(last));
    while (forces[to] - forces[from]).abs() < RISE_NOISES * noise
        && times[to] - times[from] < RISE_S
        && (from > 0 || to < last)
    {
        from = from.saturating_sub(1);
        to = (to + 1).min(last);
    }
    Some((forces[to] - forces[from]) / (times[to] - times[from]))
}
