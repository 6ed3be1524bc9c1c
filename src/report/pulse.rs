//! The logs of a test point → the drawing of its hits, with what is marked on the curve.

use super::State;
use super::hit::{Event, Hits, Repeat, Step};
use super::place::{Place, gap_and_height, state, with_bound};
use crate::limitation::Kind;
use crate::limits::{Judged, Limit};
use crate::measure::{Measure, Measured};
use crate::quantity::{Newton, Second};
use crate::verdict::{Finding, printed_plain};
use crate::visit::{Assessment, Hit, Measurement};

/// The enlarged panel shows at least this much.
const ENLARGED: Second = Second(0.4);

/// The hits of a test point, ready to draw; `None` where nothing was measured.
pub(super) fn of(assessment: &Assessment, place: &Place<'_>) -> Option<Hits> {
    let peak = place.finding(Measure::PeakForce);
    let nearest = nearest(&place.measured(), place.deciding().or(peak));
    with_strongest(assessment, place, nearest)
}

/// The hits of a test point with the line of one log the strongest; `None` where that log gave no measurement.
pub(super) fn of_log(assessment: &Assessment, place: &Place<'_>, file: &str) -> Option<Hits> {
    let measured = place.measured();
    let at = measured.iter().position(|(_, hit, _)| hit.file == file)?;
    with_strongest(assessment, place, at)
}

fn with_strongest(assessment: &Assessment, place: &Place<'_>, deciding: usize) -> Option<Hits> {
    let peak = place.finding(Measure::PeakForce);
    let measured = place.measured();
    measured.get(deciding)?;
    let mut repeats: Vec<Repeat> = measured
        .iter()
        .map(|(_, hit, measurement)| repeat(hit, measurement, peak))
        .collect();
    for (place, (_, hit, measurement)) in measured.iter().enumerate() {
        repeats[place].events = if place == deciding {
            events(measurement, peak)
        } else {
            doubts(hit, measurement)
        };
    }
    let periods = measured
        .iter()
        .filter_map(|(_, _, one)| one.response.dynamic_period.as_ref().ok());
    let longest = periods.fold(ENLARGED.get(), |most, period| most.max(1.1 * period.get()));
    let method = &assessment.profile.method;
    Some(Hits {
        title: gap_and_height(&place.point, assessment.gate.gate.motion),
        statement: statement(place),
        repeats,
        deciding,
        mean: peak.and_then(mean),
        steps: steps(assessment, place),
        level: (
            method.static_level.get(),
            format!("static level {}", method.static_level),
        ),
        enlarged_s: longest,
    })
}

/// The hit whose reading of a finding is the greatest; of equal ones the first.
fn nearest(measured: &[(usize, &Hit, &Measurement)], finding: Option<&Finding>) -> usize {
    let reading = |place: usize| {
        let repeat = finding?.repeats.get(measured[place].0)?;
        repeat.value.as_ref().ok().copied()
    };
    let mut best = (0, f64::MIN);
    for place in 0..measured.len() {
        let value = reading(place).unwrap_or(f64::MIN);
        if value > best.1 {
            best = (place, value);
        }
    }
    best.0
}

fn repeat(hit: &Hit, measurement: &Measurement, peak: Option<&Finding>) -> Repeat {
    let response = &measurement.response;
    let contact = response.contact.as_ref().map_or(0.0, |at| at.get());
    let zero = response.zero.value.as_ref().map_or(0.0, |zero| zero.get());
    let force = peak_words(measurement, peak)
        .map(|force| format!(": {force}"))
        .unwrap_or_default();
    let name = format!("hit {}{force}", hit.repeat);
    Repeat::of(
        name,
        peak.map_or(State::Undecided, state),
        &measurement.trace,
        contact,
        zero,
    )
}

/// The greatest force of a log as it is printed.
fn peak_words(log: &Measurement, peak: Option<&Finding>) -> Option<String> {
    let value = log.response.value(Measure::PeakForce).ok()?;
    let number = match peak {
        Some(finding) => finding.printed_number(value),
        None => printed_plain(value, log.trace.resolution().map_or(1.0, Newton::get)),
    };
    Some(format!("{number} N"))
}

/// A judged mean of several hits.
fn mean(finding: &Finding) -> Option<(f64, String)> {
    if finding.limit.judged != Judged::Mean || finding.repeats.len() < 2 {
        return None;
    }
    let text = with_bound(finding, &finding.printed_value()?);
    let count = finding.repeats.len();
    Some((finding.value().ok()?, format!("mean of {count}: {text} N")))
}

fn statement(place: &Place<'_>) -> String {
    let lines = place
        .findings
        .iter()
        .filter(|finding| finding.decides())
        .map(|finding| {
            let value = super::place::printed(finding).unwrap_or_else(|| "no value".to_owned());
            let limit = &finding.limit;
            format!(
                "{} {value}, limit {} {}: {}",
                limit.measure,
                limit.value,
                limit.unit(),
                state(finding).words()
            )
        });
    lines.collect::<Vec<_>>().join("; ")
}

/// The boundary: peak limit, then static limit, then what may remain.
fn steps(assessment: &Assessment, place: &Place<'_>) -> Vec<Step> {
    let method = &assessment.profile.method;
    let limits = assessment
        .profile
        .limits_at(assessment.gate.gate.motion, &place.point);
    let limit = |measure: Measure| -> Option<&Limit> {
        limits
            .iter()
            .copied()
            .find(|limit| limit.decides && limit.measure == measure)
    };
    let parts = [
        (0.0, "peak limit", limit(Measure::PeakForce)),
        (
            method.dynamic_period.get(),
            "static limit",
            limit(Measure::StaticForce),
        ),
        (
            method.record.get(),
            "residual limit",
            limit(Measure::ResidualForce),
        ),
    ];
    let step = |(from_s, name, limit): (f64, &str, Option<&Limit>)| {
        let limit = limit?;
        Some(Step {
            from_s,
            force_n: limit.value,
            words: format!("{name} {} {}", limit.value, limit.unit()),
        })
    };
    parts.into_iter().filter_map(step).collect()
}

/// What is marked on the deciding curve.
fn events(log: &Measurement, peak: Option<&Finding>) -> Vec<Event> {
    let mut marks = Marks {
        log,
        whose: String::new(),
        events: Vec::new(),
    };
    marks.contact_and_peak(peak);
    marks.answers();
    marks.evidence();
    marks.events
}

/// What is marked on the other curves: only what the record cannot show.
fn doubts(hit: &Hit, log: &Measurement) -> Vec<Event> {
    let mut marks = Marks {
        log,
        whose: format!("hit {}: ", hit.repeat),
        events: Vec::new(),
    };
    if let (true, Ok(peak)) = (marks.shows(Kind::FlatTop), &log.response.peak) {
        let at_s = log.trace.times()[peak.index] - marks.contact_s();
        marks.mark(at_s, "flat top, may be higher".to_owned(), None);
    }
    marks.evidence();
    marks.events
}

/// Collects what is marked, at the force that the curve has there.
struct Marks<'a> {
    log: &'a Measurement,
    /// Put before the words: which hit.
    whose: String,
    events: Vec<Event>,
}

impl Marks<'_> {
    fn contact_s(&self) -> f64 {
        self.log
            .response
            .contact
            .as_ref()
            .map_or(0.0, |at| at.get())
    }

    /// The force of the drawn curve at an instant after contact.
    fn force_at(&self, at_s: f64) -> f64 {
        let (times, forces) = (self.log.trace.times(), self.log.trace.forces());
        let instant = at_s + self.contact_s();
        let next = times
            .iter()
            .position(|t| *t >= instant)
            .unwrap_or(times.len() - 1);
        let before = next.saturating_sub(1);
        let step = times[next] - times[before];
        let share = if step > 0.0 {
            ((instant - times[before]) / step).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let zero = self
            .log
            .response
            .zero
            .value
            .as_ref()
            .map_or(0.0, |zero| zero.get());
        forces[before] + share * (forces[next] - forces[before]) - zero
    }

    fn mark(&mut self, at_s: f64, words: String, state: Option<State>) {
        let force_n = self.force_at(at_s);
        self.events.push(Event {
            at_s,
            force_n,
            words: format!("{}{words}", self.whose),
            state,
        });
    }

    /// An instant in ms, to the sampling step.
    fn ms(&self, at_s: f64) -> String {
        let step = self.log.trace.median_step().map_or(0.001, Second::get);
        format!("{} ms", printed_plain(at_s * 1000.0, step * 1000.0))
    }

    fn contact_and_peak(&mut self, finding: Option<&Finding>) {
        let response = &self.log.response;
        if response.contact.is_ok() {
            self.mark(0.0, "contact".to_owned(), None);
        }
        let Ok(peak) = &response.peak else { return };
        let at = peak.index;
        let at_s = self.log.trace.times()[at] - self.contact_s();
        let number = peak_words(self.log, finding).unwrap_or_default();
        let after = match &peak.at {
            Ok(after) => format!(" after {}", self.ms(after.get())),
            Err(_) => String::new(),
        };
        let flat = if self.shows(Kind::FlatTop) {
            ", flat top: may be higher"
        } else {
            ""
        };
        let stop = match &response.stop {
            Ok((stop, _)) if near(stop.get(), at_s) => ", stop",
            _ => "",
        };
        self.mark(
            at_s,
            format!("peak {number}{after}{stop}{flat}"),
            finding.map(state),
        );
    }

    fn answers(&mut self) {
        let response = &self.log.response;
        let level = response.method.static_level;
        let peak_s = response.peak.as_ref().map_or(f64::NAN, |peak| {
            self.log.trace.times()[peak.index] - self.contact_s()
        });
        if let Ok(period) = &response.dynamic_period
            && !response.static_crossings.is_empty()
        {
            let at = period.get();
            self.mark(
                at,
                format!("falls below {level} for good after {}", self.ms(at)),
                None,
            );
        }
        let instant = |value: &Measured<(Second, crate::measure::Basis)>| {
            value.as_ref().ok().map(|(at, _)| at.get())
        };
        let (stop, reversal) = (instant(&response.stop), instant(&response.reversal));
        let release = response.release.as_ref().ok().map(|at| at.get());
        if let Some(at) = stop.filter(|at| !near(*at, peak_s)) {
            self.mark(at, format!("stop after {}", self.ms(at)), None);
        }
        if let Some(at) = reversal.filter(|at| !stop.is_some_and(|stop| near(stop, *at))) {
            self.mark(at, format!("reversal after {}", self.ms(at)), None);
        }
        if let Some(at) = release {
            self.mark(at, format!("release after {}", self.ms(at)), None);
        }
    }

    fn evidence(&mut self) {
        let last = self.log.trace.duration().get() - self.contact_s();
        if self.shows(Kind::StartsInContact) {
            self.mark(
                -self.contact_s(),
                "record starts in contact".to_owned(),
                None,
            );
        }
        if self.shows(Kind::EndsEarly) {
            self.mark(last, "record ends here, too early".to_owned(), None);
        } else if self.log.response.release.is_err() {
            self.mark(last, "record ends here, not released".to_owned(), None);
        }
        let lost: Vec<usize> = self
            .log
            .trace
            .lost
            .iter()
            .filter_map(|lost| lost.after)
            .collect();
        if let (true, Some(after)) = (self.shows(Kind::LostSamples), lost.first()) {
            let at = self.log.trace.times()[*after] - self.contact_s();
            self.mark(at, "samples missing here".to_owned(), None);
        }
    }

    fn shows(&self, kind: Kind) -> bool {
        self.log
            .evidence
            .iter()
            .any(|evidence| evidence.kind == kind)
    }
}

/// Instants that one label serves: less than 3 ms apart.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.003
}
