//! A reading as the document `relent.read/1`.

use serde::Serialize;

use crate::cli::answers;
use crate::ingest::{Channel, Notice, Outcome, Question, Reading, Role, Run};
use crate::quantity::Hertz;
use crate::words::Words;

/// `relent.read/1`: what was understood of a log.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Document<'a> {
    schema: &'static str,
    file: String,
    sha256: String,
    outcome: &'static str,
    encoding: String,
    delimiter: Option<char>,
    decimal_mark: char,
    channels: Vec<ChannelEntry>,
    runs: Vec<RunEntry>,
    questions: Vec<QuestionEntry<'a>>,
    notices: Vec<NoticeEntry<'a>>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ChannelEntry {
    column: usize,
    name: String,
    unit: Option<String>,
    role: Role,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct RunEntry {
    samples: usize,
    missing: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate_hz: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    step_s: Option<StepEntry>,
    force: ForceEntry,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct StepEntry {
    min: f64,
    median: f64,
    max: f64,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ForceEntry {
    max_n: f64,
    max_at_s: f64,
    min_n: f64,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct QuestionEntry<'a> {
    #[serde(flatten)]
    question: &'a Question,
    text: String,
    answer_with: String,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct NoticeEntry<'a> {
    #[serde(flatten)]
    notice: &'a Notice,
    text: String,
}

/// The document of a reading of `file`.
#[must_use]
pub fn document<'a>(file: &str, reading: &'a Reading, words: &Words) -> Document<'a> {
    let (outcome, questions): (_, &[Question]) = match &reading.outcome {
        Outcome::Read(_) => ("read", &[]),
        Outcome::Asks(questions) => ("asks", questions),
    };
    let entry = |question: &'a Question| QuestionEntry {
        question,
        text: words.fact(question),
        answer_with: answers::option(question),
    };
    let told = |notice: &'a Notice| NoticeEntry {
        notice,
        text: words.fact(notice),
    };
    Document {
        schema: "relent.read/1",
        file: file.to_owned(),
        sha256: reading.sha256.clone(),
        outcome,
        encoding: reading.encoding.clone(),
        delimiter: reading.delimiter,
        decimal_mark: reading.decimal_mark,
        channels: reading.channels.iter().map(ChannelEntry::from).collect(),
        runs: reading.runs.iter().map(RunEntry::from).collect(),
        questions: questions.iter().map(entry).collect(),
        notices: reading.notices.iter().map(told).collect(),
    }
}

impl From<&Channel> for ChannelEntry {
    fn from(channel: &Channel) -> Self {
        Self {
            column: channel.column,
            name: channel.name.clone(),
            unit: channel.unit.clone(),
            role: channel.role,
        }
    }
}

impl From<&Run> for RunEntry {
    fn from(run: &Run) -> Self {
        Self {
            samples: run.samples,
            missing: run.missing,
            rate_hz: run.rate.map(Hertz::get),
            step_s: run.step.map(|[min, median, max]| StepEntry {
                min: min.get(),
                median: median.get(),
                max: max.get(),
            }),
            force: ForceEntry {
                max_n: run.max.get(),
                max_at_s: run.max_at.get(),
                min_n: run.min.get(),
            },
        }
    }
}
