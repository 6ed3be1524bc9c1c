//! One log → one hit: what was read, what was measured, what it cannot show.

use super::Log;
use crate::evidence::{self, Calibration, Evidence, SpringBand, Tolerances};
use crate::gate::GateFile;
use crate::ingest::{self, Answers, Notice, Outcome, Question};
use crate::limits::{Limit, Profile, TestPoint};
use crate::quantity::Newton;
use crate::response::{self, Response, Unmeasured};
use crate::trace::Trace;
use crate::verdict::RepeatReading;

/// One hit of the leaf on the gauge.
#[derive(Clone, Debug)]
pub struct Hit {
    /// Name of its log.
    pub file: String,
    /// SHA-256 of the log's bytes; empty where they could not be read as a log.
    pub sha256: String,
    /// Where the gauge was held.
    pub point: TestPoint,
    /// Which hit at that place, from 1.
    pub repeat: u32,
    /// What the reader has to tell about the log.
    pub notices: Vec<Notice>,
    /// What was measured, or why nothing was.
    pub measurement: Result<Box<Measurement>, NotMeasured>,
}

/// A record and everything measured on it.
#[derive(Clone, Debug)]
pub struct Measurement {
    /// The record.
    pub trace: Trace,
    /// Its measures.
    pub response: Response,
    /// What it cannot show.
    pub evidence: Vec<Evidence>,
}

/// Why a log gave no measurement.
#[derive(Clone, Debug)]
pub enum NotMeasured {
    /// Something must be answered first.
    Asks(Vec<Question>),
    /// It is no log that could be read; the reader's words.
    Refused(String),
}

impl NotMeasured {
    /// The reason in plain words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Asks(questions) => {
                let asked: Vec<&str> = questions
                    .iter()
                    .map(|question| question.text.as_str())
                    .collect();
                format!("the log leaves a question open: {}", asked.join("; "))
            }
            Self::Refused(reason) => format!("the log could not be read: {reason}"),
        }
    }
}

impl Hit {
    /// Its reading of the measure that a limit is about, with what the evidence says of it.
    pub(super) fn reading(&self, index: usize, limit: &Limit, gate: &GateFile) -> RepeatReading {
        match &self.measurement {
            Ok(measurement) => {
                let capacity = gate.gauge.as_ref().and_then(|gauge| gauge.capacity);
                let small = capacity
                    .filter(|_| limit.unit() == "N")
                    .and_then(|capacity| {
                        evidence::capacity_below_limit(capacity, limit.measure, Newton(limit.value))
                    });
                let bearing: Vec<Evidence> =
                    measurement.evidence.iter().cloned().chain(small).collect();
                let value = measurement.response.value(limit.measure);
                RepeatReading::new(&self.file, index, limit.measure, value, &bearing)
            }
            Err(why) => RepeatReading::new(
                &self.file,
                index,
                limit.measure,
                Err(Unmeasured(why.words())),
                &[],
            ),
        }
    }
}

/// Reads and measures one log.
pub(super) fn measure(log: Log, gate: &GateFile, profile: &Profile, answers: &Answers) -> Hit {
    let Log {
        file,
        point,
        repeat,
        bytes,
    } = log;
    let unread = |why| (String::new(), Vec::new(), Err(why));
    let (sha256, notices, measurement) = match ingest::read(&bytes, answers) {
        Err(error) => unread(NotMeasured::Refused(error.to_string())),
        Ok(reading) => {
            let measurement = match reading.outcome {
                Outcome::Asks(questions) => Err(NotMeasured::Asks(questions)),
                Outcome::Read(trace) => Ok(Box::new(measured(*trace, point, gate, profile))),
            };
            (reading.sha256, reading.notices, measurement)
        }
    };
    Hit {
        file,
        sha256,
        point,
        repeat,
        notices,
        measurement,
    }
}

fn measured(trace: Trace, point: TestPoint, gate: &GateFile, profile: &Profile) -> Measurement {
    let response = response::measure(&trace, &profile.method, &gate.gauge_facts(point.direction));
    let evidence = evidence_of(&trace, &response, gate, profile);
    Measurement {
        trace,
        response,
        evidence,
    }
}

/// What the record, and the gauge it was taken with, cannot show.
fn evidence_of(
    trace: &Trace,
    response: &Response,
    gate: &GateFile,
    profile: &Profile,
) -> Vec<Evidence> {
    let mut evidence = evidence::of_record(trace, response, &tolerances(profile));
    let gauge = gate.gauge.as_ref();
    let capacity = gauge.and_then(|gauge| gauge.capacity);
    evidence.extend(capacity.and_then(|capacity| evidence::at_capacity(response, capacity)));
    if let Some((rate, either_way)) = profile
        .gauge
        .spring_rate
        .zip(profile.gauge.spring_rate_band)
    {
        let own = gauge.and_then(|gauge| gauge.spring_rate);
        evidence.extend(evidence::spring_rate(own, SpringBand { rate, either_way }));
    }
    if let Some(visit) = &gate.visit {
        let calibration = Calibration {
            calibrated_on: gauge.and_then(|gauge| gauge.calibrated_on),
            due: gauge.and_then(|gauge| gauge.calibration_due),
            months: profile.gauge.calibration_months,
        };
        evidence.extend(evidence::calibration(&calibration, visit.date));
    }
    evidence
}

/// How much trouble a record may show under a profile.
#[must_use]
pub fn tolerances(profile: &Profile) -> Tolerances {
    let rules = &profile.evidence;
    Tolerances {
        sampling_tolerance_share: rules.sampling_tolerance_share,
        drift_share_of_residual_level: rules.drift_share_of_residual_level,
        equal_samples_at_top: rules.equal_samples_at_top,
    }
}

/// Finds hits with the same samples and voids all of them: a copy is not a repeat.
pub(super) fn name_copies(hits: &mut [Hit]) {
    let measured: Vec<usize> = (0..hits.len())
        .filter(|at| hits[*at].measurement.is_ok())
        .collect();
    let digests: Vec<(&str, [u8; 32])> = measured
        .iter()
        .filter_map(|at| {
            let measurement = hits[*at].measurement.as_ref().ok()?;
            Some((
                hits[*at].file.as_str(),
                evidence::copy::digest(&measurement.trace),
            ))
        })
        .collect();
    for (place, copy) in evidence::copy::find(&digests) {
        if let Ok(measurement) = &mut hits[measured[place]].measurement {
            measurement.evidence.push(copy);
        }
    }
}
