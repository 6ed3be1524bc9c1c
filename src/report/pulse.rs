//! The logs of a test point → the drawing of its hits, with what is marked on the curve.

use fluent_bundle::FluentValue;

use super::State;
use super::hit::{Event, Hits, Repeat, Step};
use super::place::{Place, gap_and_height, printed, printed_or_none, state};
use crate::limitation::Limitation;
use crate::limits::{Assessed, Limit};
use crate::measure::{Measure, Measured};
use crate::quantity::{Newton, Quantity, Second};
use crate::verdict::{Finding, printed_plain};
use crate::visit::{Assessment, Hit, Measurement};
use crate::words::Words;

/// The enlarged panel shows at least this much.
const ENLARGED: Second = Second(0.4);

/// The hits of a test point, ready to draw; `None` where nothing was measured.
pub(super) fn of(words: &Words, assessment: &Assessment, place: &Place<'_>) -> Option<Hits> {
    let peak = place.finding(Measure::PeakForce);
    let nearest = nearest(&place.measured(), place.deciding().or(peak));
    with_strongest(words, assessment, place, nearest)
}

/// The hits of a test point with the line of one log the strongest; `None` where that log gave no measurement.
pub(super) fn of_log(
    words: &Words,
    assessment: &Assessment,
    place: &Place<'_>,
    file: &str,
) -> Option<Hits> {
    let measured = place.measured();
    let at = measured.iter().position(|(_, hit, _)| hit.file == file)?;
    with_strongest(words, assessment, place, at)
}

fn with_strongest(
    words: &Words,
    assessment: &Assessment,
    place: &Place<'_>,
    deciding: usize,
) -> Option<Hits> {
    let peak = place.finding(Measure::PeakForce);
    let measured = place.measured();
    measured.get(deciding)?;
    let mut repeats: Vec<Repeat> = measured
        .iter()
        .map(|(_, hit, measurement)| repeat(words, hit, measurement, peak))
        .collect();
    for (place, (_, hit, measurement)) in measured.iter().enumerate() {
        repeats[place].events = if place == deciding {
            events(words, measurement, peak)
        } else {
            doubts(words, hit, measurement)
        };
    }
    let periods = measured
        .iter()
        .filter_map(|(_, _, one)| one.response.dynamic_period.as_ref().ok());
    let longest = periods.fold(ENLARGED.get(), |most, period| most.max(1.1 * period.get()));
    let method = &assessment.profile.method;
    Some(Hits {
        title: gap_and_height(words, &place.point, assessment.gate.gate.motion),
        statement: statement(words, place),
        repeats,
        deciding,
        mean: peak.and_then(|finding| mean(words, finding)),
        steps: steps(words, assessment, place),
        level: (
            method.static_level.get(),
            words.with(
                "report-static-level",
                &[("level", method.static_level.to_string().into())],
            ),
        ),
        enlarged_s: longest,
    })
}

/// The hit whose reading of a finding is the greatest; of equal ones the first.
fn nearest(measured: &[(usize, &Hit, &Measurement)], finding: Option<&Finding>) -> usize {
    let reading = |place: usize| {
        let repeat = finding?.repeats.get(measured[place].0)?;
        repeat.value.ok().map(Quantity::get)
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

fn repeat(words: &Words, hit: &Hit, measurement: &Measurement, peak: Option<&Finding>) -> Repeat {
    let response = &measurement.response;
    let contact = response.contact.as_ref().map_or(0.0, |at| at.get());
    let zero = response.zero.value.as_ref().map_or(0.0, |zero| zero.get());
    let number = ("repeat", hit.repeat.into());
    let name = match peak_force(measurement, peak) {
        None => words.with("report-hit", &[number]),
        Some(force) => words.with("report-hit-value", &[number, ("value", force.into())]),
    };
    Repeat::of(
        name,
        peak.map_or(State::Undecided, state),
        &measurement.trace,
        contact,
        zero,
    )
}

/// The greatest force of a log as it is printed.
fn peak_force(log: &Measurement, peak: Option<&Finding>) -> Option<String> {
    let value = log.response.value(Measure::PeakForce).ok()?.get();
    let number = match peak {
        Some(finding) => finding.printed_number(value),
        None => printed_plain(value, log.trace.resolution().map_or(1.0, Newton::get)),
    };
    Some(format!("{number} N"))
}

/// An assessed mean of several hits.
fn mean(words: &Words, finding: &Finding) -> Option<(f64, String)> {
    if finding.limit.assessed != Assessed::Mean || finding.repeats.len() < 2 {
        return None;
    }
    let text = words.with(
        "report-mean",
        &[
            ("hits", finding.repeats.len().into()),
            ("value", printed(finding)?.into()),
        ],
    );
    Some((finding.value().ok()?, text))
}

fn statement(words: &Words, place: &Place<'_>) -> String {
    let lines = place
        .findings
        .iter()
        .filter(|finding| finding.counts())
        .map(|finding| {
            let limit = &finding.limit;
            words.with(
                "report-finding",
                &[
                    ("measure", words.fact(&limit.measure).into()),
                    ("value", printed_or_none(words, finding).into()),
                    ("limit", limit.value.into()),
                    ("unit", limit.unit().into()),
                    ("state", words.fact(&state(finding)).into()),
                ],
            )
        });
    lines.collect::<Vec<_>>().join("; ")
}

/// The boundary: peak limit, then static limit, then what may remain.
fn steps(words: &Words, assessment: &Assessment, place: &Place<'_>) -> Vec<Step> {
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
    let named = |limit: &Limit| {
        let value = format!("{} {}", limit.value, limit.unit());
        let value = [("limit", value.into())];
        match limit.measure {
            Measure::PeakForce => words.with("report-peak-limit", &value),
            Measure::StaticForce => words.with("report-static-limit", &value),
            _ => words.with("report-residual-limit", &value),
        }
    };
    let parts = [
        (Second(0.0), Measure::PeakForce),
        (method.dynamic_period, Measure::StaticForce),
        (method.record, Measure::ResidualForce),
    ];
    let step = |(from, measure): (Second, Measure)| {
        let limit = limit(measure)?;
        Some(Step {
            from_s: from.get(),
            force_n: limit.value,
            words: named(limit),
        })
    };
    parts.into_iter().filter_map(step).collect()
}

/// What is marked on the deciding curve.
fn events(words: &Words, log: &Measurement, peak: Option<&Finding>) -> Vec<Event> {
    let mut marks = Marks {
        words,
        log,
        of_hit: None,
        events: Vec::new(),
    };
    marks.contact_and_peak(peak);
    marks.answers();
    marks.limitations();
    marks.events
}

/// What is marked on the other curves: only what the record cannot show.
fn doubts(words: &Words, hit: &Hit, log: &Measurement) -> Vec<Event> {
    let mut marks = Marks {
        words,
        log,
        of_hit: Some(hit.repeat),
        events: Vec::new(),
    };
    if let (true, Ok(peak)) = (marks.shows(is_clipped), &log.response.peak) {
        let at_s = log.trace.times()[peak.index] - marks.contact_s();
        marks.mark(at_s, &words.say("mark-flat-top"), None);
    }
    marks.limitations();
    marks.events
}

/// Collects what is marked, at the force that the curve has there.
struct Marks<'a> {
    words: &'a Words,
    log: &'a Measurement,
    /// Told with each mark: which hit, where it is not the deciding one.
    of_hit: Option<u32>,
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

    fn mark(&mut self, at_s: f64, event: &str, state: Option<State>) {
        let force_n = self.force_at(at_s);
        let words = match self.of_hit {
            None => event.to_owned(),
            Some(repeat) => self.words.with(
                "mark-of-hit",
                &[("repeat", repeat.into()), ("event", event.into())],
            ),
        };
        self.events.push(Event {
            at_s,
            force_n,
            words,
            state,
        });
    }

    /// An instant in ms, to the sampling step.
    fn ms(&self, at_s: f64) -> FluentValue<'static> {
        let step = self.log.trace.median_step().map_or(0.001, Second::get);
        format!("{} ms", printed_plain(at_s * 1000.0, step * 1000.0)).into()
    }

    fn contact_and_peak(&mut self, finding: Option<&Finding>) {
        let response = &self.log.response;
        if response.contact.is_ok() {
            self.mark(0.0, &self.words.say("mark-contact"), None);
        }
        let Ok(peak) = &response.peak else { return };
        let at = peak.index;
        let at_s = self.log.trace.times()[at] - self.contact_s();
        let force = (
            "force",
            peak_force(self.log, finding).unwrap_or_default().into(),
        );
        let mut told = vec![match &peak.at {
            Ok(after) => self
                .words
                .with("mark-peak-after", &[force, ("after", self.ms(after.get()))]),
            Err(_) => self.words.with("mark-peak", &[force]),
        }];
        if matches!(&response.stop, Ok((stop, _)) if near(stop.get(), at_s)) {
            told.push(self.words.say("mark-stop").into_owned());
        }
        if self.shows(is_clipped) {
            told.push(self.words.say("mark-flat-top").into_owned());
        }
        self.mark(at_s, &self.words.list(&told), finding.map(state));
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
            let level = ("level", level.to_string().into());
            let told = self
                .words
                .with("mark-below-level", &[level, ("after", self.ms(at))]);
            self.mark(at, &told, None);
        }
        let instant = |value: &Measured<(Second, crate::measure::Basis)>| {
            value.as_ref().ok().map(|(at, _)| at.get())
        };
        let (stop, reversal) = (instant(&response.stop), instant(&response.reversal));
        let release = response.release.as_ref().ok().map(|at| at.get());
        if let Some(at) = stop.filter(|at| !near(*at, peak_s)) {
            let told = self
                .words
                .with("mark-stop-after", &[("after", self.ms(at))]);
            self.mark(at, &told, None);
        }
        if let Some(at) = reversal.filter(|at| !stop.is_some_and(|stop| near(stop, *at))) {
            let told = self.words.with("mark-reversal", &[("after", self.ms(at))]);
            self.mark(at, &told, None);
        }
        if let Some(at) = release {
            let told = self.words.with("mark-release", &[("after", self.ms(at))]);
            self.mark(at, &told, None);
        }
    }

    fn limitations(&mut self) {
        let last = self.log.trace.duration().get() - self.contact_s();
        if self.shows(|it| matches!(it, Limitation::StartsInContact { .. })) {
            self.mark(
                -self.contact_s(),
                &self.words.say("mark-starts-in-contact"),
                None,
            );
        }
        if self.shows(|it| matches!(it, Limitation::EndsEarly { .. })) {
            self.mark(last, &self.words.say("mark-ends-early"), None);
        } else if self.log.response.release.is_err() {
            self.mark(last, &self.words.say("mark-not-released"), None);
        }
        let lost: Vec<usize> = self
            .log
            .trace
            .lost
            .iter()
            .filter_map(|lost| lost.after)
            .collect();
        if let (true, Some(after)) = (
            self.shows(|it| matches!(it, Limitation::LostSamples { .. })),
            lost.first(),
        ) {
            let at = self.log.trace.times()[*after] - self.contact_s();
            self.mark(at, &self.words.say("mark-samples-missing"), None);
        }
    }

    fn shows(&self, what: fn(&Limitation) -> bool) -> bool {
        self.log.limitations.iter().any(what)
    }
}

/// Whether a limitation says that the top may be cut off.
const fn is_clipped(limitation: &Limitation) -> bool {
    matches!(
        limitation,
        Limitation::FlatTop { .. } | Limitation::AtCapacity { .. }
    )
}

/// Instants that one label serves: less than 3 ms apart.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.003
}
