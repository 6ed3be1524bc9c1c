//! One log by itself, without a gate: what was measured on it, or why nothing was.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::gate::GateFile;
use crate::ingest::{self, Answers, DigestOf, Outcome, Question};
use crate::limitation::{self, Limitation};
use crate::limits::{Profile, TestPoint};
use crate::measure::{self, GaugeFacts, Response, Unmeasured};
use crate::quantity::Newton;
use crate::trace::Trace;

/// A record and everything measured on it.
#[derive(Clone, Debug)]
pub struct Measurement {
    /// The record.
    pub trace: Trace,
    /// Its measures.
    pub response: Response,
    /// What it cannot show.
    pub limitations: Vec<Limitation>,
    /// What would have been measured if the forces were wrong by as much as the limitations allow, less and more; `None` where they
    /// allow nothing.
    pub wrong: Option<Box<[Response; 2]>>,
}

impl Measurement {
    /// Measures once more with the forces wrong by as much as the limitations allow.
    pub(super) fn widen(&mut self, point: TestPoint, gate: &GateFile) {
        let error = limitation::force_error(&self.limitations);
        let gauge = gate.gauge_facts(point.direction);
        self.wrong = (!error.is_none())
            .then(|| {
                let share = error.percent / 100.0;
                let newtons = Newton(error.newtons_n);
                measure::measure_wrong_by(&self.trace, &self.response, &gauge, share, newtons)
            })
            .and_then(Result::ok)
            .map(Box::new);
    }
}

/// Why a log gave no measurement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum NotMeasured {
    /// Something must be answered first.
    #[error("asks for {}", asked(questions))]
    Asks {
        /// What.
        questions: Vec<Question>,
    },
    /// Its bytes cannot be read.
    #[error("{error}")]
    Unreadable {
        /// What the system says.
        error: String,
    },
    /// It is no log that could be read.
    #[error("{error}")]
    Refused {
        /// The reader's words.
        error: String,
    },
}

/// What is asked, by its codes.
fn asked(questions: &[Question]) -> String {
    let codes: Vec<String> = questions.iter().map(Fact::code).collect();
    codes.join(", ")
}

impl Fact for NotMeasured {
    const FAMILY: &'static str = "not-measured";
}

impl NotMeasured {
    /// Why no measure of the log has a value.
    #[must_use]
    pub const fn unmeasured(&self) -> Unmeasured {
        match self {
            Self::Asks { .. } => Unmeasured::LogAsks,
            Self::Unreadable { .. } | Self::Refused { .. } => Unmeasured::LogNotRead,
        }
    }
}

/// Reads one log and measures it by the method of a profile: its levels and periods.
///
/// # Errors
/// [`NotMeasured`] where the log asks something that `answers` does not answer, or is no log that can be read.
///
/// # Example
/// ```
/// use relent::ingest::Answers;
/// use relent::limits::profile;
/// use relent::measure::{GaugeFacts, Measure};
/// let log = std::fs::read("fixtures/golden/record-2/logs/closing-50-900-1.csv")?;
/// let hit = relent::measure(&log, &profile("en12453-2017")?, &GaugeFacts::default(), &Answers::default())?;
/// assert_eq!(hit.response.value(Measure::PeakForce).map(|force| force.get().round()), Ok(380.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn measure(
    bytes: &[u8],
    profile: &Profile,
    gauge: &GaugeFacts,
    answers: &Answers,
) -> Result<Measurement, NotMeasured> {
    let reading = ingest::read_with(bytes, answers, DigestOf::Nothing);
    let reading = reading.map_err(|error| NotMeasured::Refused {
        error: error.to_string(),
    })?;
    match reading.outcome {
        Outcome::Read(trace) => Ok(measured(*trace, profile, gauge)),
        Outcome::Asks(questions) => Err(NotMeasured::Asks { questions }),
    }
}

/// A record measured by the method of a profile, with what the record cannot show.
pub(super) fn measured(trace: Trace, profile: &Profile, gauge: &GaugeFacts) -> Measurement {
    let (response, record) = measure::measure_zeroed(&trace, &profile.method, gauge);
    let limitations = limitation::of_zeroed(
        &trace,
        record.as_ref(),
        &response,
        &profile.limitations,
        gauge,
    );
    Measurement {
        trace,
        response,
        limitations,
        wrong: None,
    }
}
