//! One log → one hit: what was read, what was measured, what it cannot show.

use jiff::civil::Date;

use super::measurement::{Measurement, NotMeasured, measured as measured_by};
use super::{Known, Log, facts, fault};
use crate::gate::GateFile;
use crate::ingest::{self, Answers, Notice, Outcome};
use crate::limitation::{self, EarlierLog, Limitation, Print, SetBy, Uncovered};
use crate::limits::{Limit, Profile, TestPoint};
use crate::measure::{Measure, Response};
use crate::quantity::{Dimension, Newton, Quantity};
use crate::trace::Trace;
use crate::verdict::RepeatReading;

/// One hit of the leaf on the gauge.
#[derive(Clone, Debug)]
pub struct Hit {
    /// Name of its log.
    pub file: String,
    /// SHA-256 of the log's bytes.
    pub sha256: String,
    /// How many bytes the log has.
    pub size_bytes: u64,
    /// What tells copies of it; `None` for a log that was not read.
    pub print: Option<Print>,
    /// Where the gauge was held.
    pub point: TestPoint,
    /// Which hit at that place, from 1.
    pub repeat: u32,
    /// What the reader has to tell about the log.
    pub notices: Vec<Notice>,
    /// What was measured, or why nothing was.
    pub measurement: Result<Box<Measurement>, NotMeasured>,
}

impl Hit {
    /// The same record measured as another profile has it, at the place where the gauge was held.
    #[must_use]
    pub fn measured_again(&self, held: TestPoint, gate: &GateFile, profile: &Profile) -> Self {
        let again = |old: &Measurement| {
            fault::caught("log", || measured(old.trace.clone(), held, gate, profile))
                .map(Box::new)
                .map_err(|fault| NotMeasured::Refused {
                    error: fault.to_string(),
                })
        };
        Self {
            file: self.file.clone(),
            sha256: self.sha256.clone(),
            size_bytes: self.size_bytes,
            print: self.print.clone(),
            point: held,
            repeat: self.repeat,
            notices: self.notices.clone(),
            measurement: match &self.measurement {
                Ok(old) => again(old),
                Err(why) => Err(why.clone()),
            },
        }
    }

    /// Digest of its samples in lower-case hexadecimal; `None` for a log that was not read.
    #[must_use]
    pub fn samples_sha256(&self) -> Option<String> {
        let print = self.print.as_ref()?;
        Some(ingest::hexadecimal(&print.samples))
    }

    /// Its value of a measure, if nothing in the record limits what that shows.
    pub(super) fn full_value(&self, measure: Measure) -> Option<f64> {
        let measurement = self.measurement.as_ref().ok()?;
        let mut limitations = measurement.limitations.iter();
        if limitations.any(|one| one.bears_on(measure)) {
            return None;
        }
        measurement.response.value(measure).ok().map(Quantity::get)
    }

    /// Its reading of the measure that a limit is about, with what limits it.
    pub(super) fn reading(
        &self,
        index: usize,
        limit: &Limit,
        gate: &GateFile,
        known: Known<'_>,
    ) -> RepeatReading {
        let (value, found, wrong) = match &self.measurement {
            Ok(measurement) => (
                measurement.response.value(limit.measure),
                measurement.limitations.as_slice(),
                measurement.wrong.as_deref(),
            ),
            Err(why) => (Err(why.unmeasured()), [].as_slice(), None),
        };
        let again = wrong.map(|both| both.each_ref().map(|one| one.value(limit.measure)));
        let capacity = gate.gauge.as_ref().and_then(|gauge| gauge.capacity);
        let small = capacity
            .filter(|_| limit.dimension() == Dimension::Force && self.measurement.is_ok())
            .and_then(|capacity| {
                limitation::capacity_below_limit(capacity, limit.measure, Newton(limit.value))
            });
        let all = found.iter().cloned().chain(small.filter(known));
        RepeatReading::new(&self.file, index, limit.measure, value, all, again)
    }
}

/// Reads and measures one log.
#[must_use]
pub fn measure(log: Log, gate: &GateFile, profile: &Profile, answers: &Answers) -> Hit {
    let Log {
        file,
        point,
        repeat,
        bytes,
    } = log;
    let size_bytes = bytes.as_ref().map_or(0, |bytes| bytes.len() as u64);
    let read = match &bytes {
        Ok(bytes) => fault::caught("log", || read(bytes, point, gate, profile, answers))
            .unwrap_or_else(|fault| Read::refused(bytes, fault.to_string())),
        Err(error) => Read {
            measurement: Err(NotMeasured::Unreadable {
                error: error.clone(),
            }),
            ..Read::refused(&[], String::new())
        },
    };
    let Read {
        sha256,
        print,
        notices,
        measurement,
    } = read;
    Hit {
        print,
        file,
        sha256,
        size_bytes,
        point,
        repeat,
        notices,
        measurement,
    }
}

/// What came of the bytes of a log.
struct Read {
    sha256: String,
    print: Option<Print>,
    notices: Vec<Notice>,
    measurement: Result<Box<Measurement>, NotMeasured>,
}

impl Read {
    fn refused(bytes: &[u8], why: String) -> Self {
        Self {
            sha256: ingest::sha256(bytes),
            print: None,
            notices: Vec::new(),
            measurement: Err(NotMeasured::Refused { error: why }),
        }
    }
}

fn read(
    bytes: &[u8],
    point: TestPoint,
    gate: &GateFile,
    profile: &Profile,
    answers: &Answers,
) -> Read {
    let reading = match ingest::read(bytes, answers) {
        Ok(reading) => reading,
        Err(error) => return Read::refused(bytes, error.to_string()),
    };
    let (print, measurement) = match reading.outcome {
        Outcome::Asks(questions) => (None, Err(NotMeasured::Asks { questions })),
        Outcome::Read(trace) => {
            let print = Print::of(&trace);
            let measured = measured(*trace, point, gate, profile);
            (Some(print), Ok(Box::new(measured)))
        }
    };
    Read {
        sha256: reading.sha256,
        print,
        notices: reading.notices,
        measurement,
    }
}

fn measured(trace: Trace, point: TestPoint, gate: &GateFile, profile: &Profile) -> Measurement {
    let mut measurement = measured_by(trace, profile, &gate.gauge_facts(point.direction));
    let (trace, response) = (&measurement.trace, &measurement.response);
    let mut more = of_gauge(trace, response, gate, profile);
    more.extend(contradicted(trace, gate));
    measurement.limitations.extend(more);
    measurement
}

/// What the log says of itself against the gate file.
fn contradicted(trace: &Trace, gate: &GateFile) -> Vec<Limitation> {
    let logs = gate.logs.as_ref();
    let days = logs.map_or([].as_slice(), |logs| &logs.days);
    let gauges = logs.map_or([].as_slice(), |logs| &logs.gauges);
    let visit = gate.visit.as_ref();
    let day = visit.and_then(|visit| limitation::other_day(trace, visit.date, days));
    let serial = gate
        .gauge
        .as_ref()
        .and_then(|gauge| gauge.serial.as_deref());
    let gauge = serial.and_then(|serial| limitation::other_gauge(trace, serial, gauges));
    day.into_iter().chain(gauge).collect()
}

/// What the gauge that a record was taken with cannot show.
fn of_gauge(
    trace: &Trace,
    response: &Response,
    gate: &GateFile,
    profile: &Profile,
) -> Vec<Limitation> {
    let mut limitations = Vec::new();
    let gauge = gate.gauge.as_ref();
    let capacity = gauge.and_then(|gauge| gauge.capacity);
    let range = trace.provenance.as_ref().and_then(|from| from.range_n);
    let ends = [(capacity, SetBy::Gauge), (range, SetBy::Range)];
    limitations.extend(
        ends.into_iter()
            .find_map(|(end, set_by)| limitation::at_capacity(trace, response, end?, set_by)),
    );
    if let Some(asked) = facts::spring_band(profile) {
        let own = gauge.and_then(|gauge| gauge.spring_rate);
        limitations.extend(limitation::spring_rate(own, asked));
    }
    limitations.extend(facts::gauge_accuracy_limitation(gate, profile));
    let uncovered = uncovered(gate, profile);
    limitations.extend(
        uncovered.map(|(tested_on, uncovered)| Limitation::Calibration {
            tested_on,
            uncovered,
            may_err: facts::unfit_error(gate, profile),
        }),
    );
    limitations
}

/// What keeps the gauge's calibrations from covering the day of the visit, and that day.
pub(super) fn uncovered(gate: &GateFile, profile: &Profile) -> Option<(Date, Uncovered)> {
    let known = gate.calibrations(profile.gauge.calibration_months);
    let day = gate.visit.as_ref()?.date;
    let uncovered = limitation::calibration(&known, &gate.gauge_changes(), day)?;
    Some((day, uncovered))
}

/// Finds hits that are copies of another hit or of a log of an earlier visit, and voids them: a copy is not a repeat.
pub(super) fn name_copies(hits: &mut [Hit], earlier: &[EarlierLog]) {
    let measured: Vec<usize> = (0..hits.len())
        .filter(|at| hits[*at].measurement.is_ok())
        .collect();
    let prints: Vec<(&str, &Print)> = measured
        .iter()
        .filter_map(|at| Some((hits[*at].file.as_str(), hits[*at].print.as_ref()?)))
        .collect();
    for (place, copy) in limitation::copy::find(&prints, earlier) {
        if let Ok(measurement) = &mut hits[measured[place]].measurement {
            measurement.limitations.push(copy);
        }
    }
}
