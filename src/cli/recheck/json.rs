//! `relent.recheck/1`: one object a line, one for each thing that was checked.

use std::path::Path;

use serde::Serialize;

use super::Became;
use crate::record::build::Build;
use crate::record::difference::Difference;
use crate::record::digests::FileChange;
use crate::record::reassess::Reassessed;
use crate::record::recheck::{Checked, GateFileState, LogChange, NewLimitations, State};
use crate::record::signature::Signature;
use crate::verdict::Verdict;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
/// What became of one thing that was checked.
pub struct Line<'a> {
    schema: &'static str,
    kind: &'static str,
    path: String,
    state: State,
    build: Build,
    #[serde(skip_serializing_if = "Option::is_none")]
    gate: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    record: Option<RecordPart<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<Verdict>,
    #[serde(skip_serializing_if = "Option::is_none")]
    measured: Option<serde_json::Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reassessed: Option<&'a Reassessed>,
    /// Why it could not be checked.
    reasons: Vec<String>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct RecordPart<'a> {
    sha256: &'a str,
    build: &'a Build,
    signature: &'a Signature,
    gate_file: GateFileState,
    same_logs: usize,
    changed_logs: &'a [LogChange],
    more_logs: &'a [String],
    changed_files: &'a [FileChange],
    differences: &'a [Difference],
    /// What the build that made the record could not find: no difference.
    new_since: &'a [Difference],
    /// The same for limitations, with the verdict that follows from them.
    #[serde(skip_serializing_if = "Option::is_none")]
    new_limitations: Option<&'a NewLimitations>,
    /// Numbers that differ by no more than two machines round.
    rounding: usize,
    verdict_recorded: Verdict,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict_now: Option<Verdict>,
}

/// One line, with its end.
///
/// # Errors
/// [`serde_json::Error`] for what has no form in JSON; nothing of that kind is known.
pub fn line(path: &Path, became: &Became) -> Result<String, serde_json::Error> {
    let mut line = Line {
        schema: "relent.recheck/1",
        kind: "record",
        path: path.display().to_string(),
        state: became.state(),
        build: Build::this(),
        gate: None,
        record: None,
        verdict: None,
        measured: None,
        reassessed: became.reassessed(),
        reasons: Vec::new(),
    };
    match became {
        Became::Record(checked) => {
            line.gate = Some(checked.gate.as_str()).filter(|name| !name.is_empty());
            line.verdict = checked.verdict_now;
            line.reasons.extend(checked.not_worked_out.clone());
            line.record = Some(RecordPart::new(checked));
        }
        Became::Broken(error) => line.reasons.push(error.to_string()),
        Became::Gate(unsealed) => {
            line.kind = "gate";
            line.gate = Some(&unsealed.gate);
            line.verdict = Some(unsealed.verdict);
        }
        Became::Log(log) => {
            line.kind = "log";
            line.measured = Some(serde_json::to_value(log)?);
        }
        Became::Asks(answers) => {
            line.kind = "log";
            line.reasons
                .push(format!("a question must be answered first: {answers}"));
        }
        Became::Failed(complaints) => {
            line.kind = "file";
            line.reasons
                .extend(complaints.iter().map(|one| one.what().to_owned()));
        }
    }
    Ok(serde_json::to_string(&line)? + "\n")
}

impl<'a> RecordPart<'a> {
    fn new(checked: &'a Checked) -> Self {
        Self {
            sha256: &checked.sha256,
            build: &checked.build,
            signature: &checked.signature,
            gate_file: checked.gate_file,
            same_logs: checked.same_logs,
            changed_logs: &checked.changed_logs,
            more_logs: &checked.more_logs,
            changed_files: &checked.changed_files,
            differences: &checked.differences,
            new_since: &checked.new,
            new_limitations: checked.new_limitations.as_ref(),
            rounding: checked.rounding,
            verdict_recorded: checked.verdict_recorded,
            verdict_now: checked.verdict_now,
        }
    }
}
