//! What was checked, in words.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;

use super::{Became, Unsealed};
use crate::cli::measure::rounded;
use crate::cli::visible::Lines;
use crate::measure::Measure;
use crate::record::build::Build;
use crate::record::canonical::number_text;
use crate::record::difference::Difference;
use crate::record::reassess::{Reassessed, Side, Turn};
use crate::record::recheck::{Checked, GateFileState, LogChange, RecheckError, State};
use crate::record::seal::{Content, RecordError};
use crate::record::signature::{NAMESPACE, Signature};
use crate::verdict::Verdict;
use crate::view::MeasuredLog;
use crate::words::{Language, Words};

/// Differences, and changed logs, shown of one record; `--json` shows all.
const SHOWN: usize = 12;

/// How much is told of something that is as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Details {
    Always,
    WhereNeeded,
}

/// One thing that was checked: its state and path, then what must be told.
pub fn item(path: &Path, became: &Became, details: Details) -> String {
    let state = became.state();
    let mut text = Lines::default();
    let words = Words::of(Language::English);
    writeln!(text, "{:<18} {}", words.fact(&state), path.display());
    match became {
        Became::Record(checked) => {
            if details == Details::Always || state != State::Same {
                record(&mut text, checked);
            }
            signature(&mut text, path, checked, details);
        }
        Became::Broken(error) => broken(&mut text, error),
        Became::Gate(unsealed) => gate(&mut text, unsealed),
        Became::Log(measured) => log(&mut text, measured),
        Became::Asks(answers) => {
            writeln!(
                text,
                "  not measured until it is answered with {answers}; `relent read` says why"
            );
        }
        Became::Failed(_) => {}
    }
    if let Some(reassessed) = became.reassessed() {
        other_profile(&mut text, reassessed);
    }
    text.text()
}

/// How many stand how.
pub fn summary(states: &BTreeMap<State, usize>) -> String {
    let count: usize = states.values().sum();
    let parts: Vec<String> = states
        .iter()
        .map(|(state, count)| format!("{count} {}", Words::of(Language::English).fact(state)))
        .collect();
    format!("\n{count} checked: {}\n", parts.join(", "))
}

/// The command that verifies a signature without relent.
pub fn verify_command(signers: &Path) -> String {
    format!(
        "ssh-keygen checks it: ssh-keygen -Y verify -n {NAMESPACE} -f {} -I NAME -s record.json.sig < record.json",
        signers.display()
    )
}

fn log(text: &mut Lines, log: &MeasuredLog) {
    writeln!(
        text,
        "  a log without a gate file: measured as it is under {}; the leaf {}",
        log.profile(),
        Words::of(Language::English).fact(&log.answer())
    );
    for measure in [Measure::PeakForce, Measure::StaticForce, Measure::StopTime] {
        let value = log.value(measure).map_or_else(|| "–".to_owned(), rounded);
        writeln!(
            text,
            "  {}: {value} {}",
            Words::of(Language::English).fact(&measure),
            measure.unit()
        );
    }
}

fn record(text: &mut Lines, checked: &Checked) {
    if !checked.gate.is_empty() {
        writeln!(text, "  {}, sealed by {}", checked.gate, checked.build);
    }
    writeln!(
        text,
        "  SHA-256 of the record, as the report prints it: {}",
        checked.sha256
    );
    match checked.gate_file {
        GateFileState::Same => {}
        GateFileState::Changed => writeln!(
            text,
            "  the gate file was changed since the record; what is checked is the gate file that the record holds"
        ),
        GateFileState::Gone => {
            writeln!(
                text,
                "  the gate file is not in {}; what is checked is the one that the record holds",
                checked.gate_folder.display()
            );
            writeln!(
                text,
                "  help: if the gate folder lies elsewhere now, give it with --gate FOLDER"
            );
        }
    }
    files(text, checked);
    logs(text, checked);
    if let Some(why) = &checked.not_worked_out {
        writeln!(text, "  nothing was worked out again: {why}");
    }
    let words = Words::of(Language::English).fact(&checked.verdict_recorded);
    match checked.verdict_now {
        Some(now) if now == checked.verdict_recorded => {
            writeln!(text, "  verdict recorded and now: {words}");
        }
        Some(now) => {
            writeln!(
                text,
                "  verdict recorded: {words}; now: {}",
                Words::of(Language::English).fact(&now)
            );
        }
        None => {
            writeln!(
                text,
                "  verdict recorded: {words}; findings and verdict cannot be checked any more"
            );
        }
    }
    differences(text, checked);
    new_since(text, checked);
}

/// What this build finds and the one that made the record could not: told, and no difference.
fn new_since(text: &mut Lines, checked: &Checked) {
    let new: Vec<&str> = checked.new.iter().map(|one| one.key.as_str()).collect();
    for key in new.iter().take(SHOWN) {
        writeln!(text, "  new since the sealing build, not compared: {key}");
    }
    if new.len() > SHOWN {
        writeln!(text, "    and {} more: --json lists all", new.len() - SHOWN);
    }
    let Some(limitations) = &checked.new_limitations else {
        return;
    };
    let words = Words::of(Language::English);
    for one in limitations.list.iter().take(SHOWN) {
        writeln!(
            text,
            "  new since the sealing build, not compared: {}: {}",
            one.log,
            words.fact(&one.limitation)
        );
    }
    if !limitations.list.is_empty() && limitations.verdict != checked.verdict_recorded {
        let verdict = words.fact(&limitations.verdict);
        writeln!(
            text,
            "  assessed with these limitations, the verdict is: {verdict}"
        );
    }
}

fn logs(text: &mut Lines, checked: &Checked) {
    writeln!(
        text,
        "  {} {} to the byte as sealed",
        checked.same_logs,
        plural(checked.same_logs, "log is", "logs are")
    );
    let changed = &checked.changed_logs;
    for change in changed.iter().take(SHOWN) {
        writeln!(text, "  {}", Words::of(Language::English).fact(change));
    }
    if changed.len() > SHOWN {
        let more = changed.len() - SHOWN;
        let logs = plural(more, "log", "logs");
        writeln!(
            text,
            "  and {more} more {logs} like these: --json lists all"
        );
    }
    for file in &checked.more_logs {
        writeln!(text, "  not in the record: {file}");
    }
}

/// The files of the report beside the record.
fn files(text: &mut Lines, checked: &Checked) {
    for change in &checked.changed_files {
        writeln!(text, "  {}", Words::of(Language::English).fact(change));
    }
}

fn differences(text: &mut Lines, checked: &Checked) {
    let altered = checked
        .changed_logs
        .iter()
        .any(|change| matches!(change, LogChange::Altered { .. }));
    if checked.rounding > 0 && !altered {
        let (count, verb) = (
            checked.rounding,
            plural(checked.rounding, "differs", "differ"),
        );
        writeln!(
            text,
            "  {count} {} {verb} in digits that two machines round differently, and {} as the same",
            plural(count, "number", "numbers"),
            plural(count, "counts", "count"),
        );
    }
    let mut all: Vec<&Difference> = checked.differences.iter().collect();
    if all.is_empty() {
        return;
    }
    all.sort_by_key(|difference| rank(&difference.key));
    let versions = match &checked.build {
        _ if altered => "from logs that were altered".to_owned(),
        build if *build == Build::this() => format!("although the build is the same, {build}"),
        build => format!("{build} → {}", Build::this()),
    };
    writeln!(
        text,
        "  {} {} otherwise ({versions}):",
        all.len(),
        plural(all.len(), "comes out", "come out")
    );
    for difference in all.iter().take(SHOWN) {
        writeln!(text, "    {}", one_difference(difference));
    }
    if all.len() > SHOWN {
        writeln!(text, "    and {} more: --json lists all", all.len() - SHOWN);
    }
}

const fn plural<'a>(count: usize, one: &'a str, many: &'a str) -> &'a str {
    if count == 1 { one } else { many }
}

/// What is told first: verdicts, then values and measures, at last the lines of the budgets.
fn rank(key: &str) -> u8 {
    match key {
        _ if key.contains(".budget.") => 4,
        _ if key == "found.verdict" => 0,
        _ if key.ends_with(".verdict") => 1,
        _ if key.contains(".measures.") || key.contains("].numbers.value_") => 2,
        _ => 3,
    }
}

fn one_difference(difference: &Difference) -> String {
    let words = |value: &Option<Value>| match value {
        None => "not there".to_owned(),
        Some(Value::String(text)) => format!("\"{}\"", short(text)),
        Some(Value::Number(number)) => number
            .as_f64()
            .map_or_else(|| number.to_string(), number_text),
        Some(value) => short(&value.to_string()),
    };
    let (recorded, now) = (words(&difference.recorded), words(&difference.now));
    format!("{}: recorded {recorded}, now {now}", difference.key)
}

fn short(text: &str) -> String {
    const MOST: usize = 100;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let start: String = text.chars().take(MOST).collect();
    format!("{start}…")
}

fn signature(text: &mut Lines, path: &Path, checked: &Checked, details: Details) {
    let words = match &checked.signature {
        Signature::None if checked.signature_wanted => {
            "none; one by a listed signer is required".to_owned()
        }
        Signature::None if details == Details::Always => "none".to_owned(),
        Signature::None => return,
        Signature::NotChecked => {
            let path = path.display();
            format!(
                "a signature is there and was not checked by this build; ssh-keygen checks it: ssh-keygen -Y verify -n {NAMESPACE} \
                 -f ALLOWED_SIGNERS -I NAME -s {path}.sig < {path}"
            )
        }
        Signature::Unreadable { why } => format!("cannot be checked: {why}"),
        Signature::Bad => "altered: it was not made for this record".to_owned(),
        Signature::Made { key } => format!("made by key {key}, whose owner was not checked"),
        Signature::By { key, signers } => {
            format!("made by {}, key {key}", signers.join(" and by "))
        }
        Signature::Stranger { key } => {
            format!("altered: made by key {key}, which is not in the list of signers")
        }
    };
    writeln!(text, "  signature: {words}");
}

fn broken(text: &mut Lines, error: &RecheckError) {
    writeln!(text, "  {error}");
    let help = match error {
        RecheckError::File(_) => return,
        RecheckError::Record(error) => match error {
            RecordError::NotARecord => "`relent assess GATE --seal` writes a sealed record",
            RecordError::CutOff => "take the whole file from a copy that was kept",
            RecordError::NotCanonical {
                content: Content::AsSealed,
            } => {
                "an editor or a program wrote it anew, with blanks or in another order: take the file from a copy that was kept; its \
                 printed digest and its signature are those of the bytes as sealed"
            }
            RecordError::NotCanonical {
                content: Content::Changed,
            }
            | RecordError::Digest { .. }
            | RecordError::Text { .. } => {
                "take the record from a copy that was kept, and compare the digest that its report prints"
            }
            RecordError::OtherForm { .. } => {
                "check it with the version of relent that wrote it, or a later one"
            }
            RecordError::Form { .. } => {
                "its digest agrees, but no version of relent is known to have written it"
            }
        },
    };
    writeln!(text, "  help: {help}");
}

fn gate(text: &mut Lines, unsealed: &Unsealed) {
    writeln!(
        text,
        "  {}: no sealed record: calculated from {} {} under {}: {}",
        unsealed.gate,
        unsealed.logs,
        plural(unsealed.logs, "log", "logs"),
        unsealed.profile,
        Words::of(Language::English).fact(&unsealed.verdict)
    );
}

fn other_profile(text: &mut Lines, reassessed: &Reassessed) {
    let (then, now) = (
        Words::of(Language::English).fact(&reassessed.verdict_then),
        Words::of(Language::English).fact(&reassessed.verdict_now),
    );
    if then == now {
        writeln!(text, "  under {}: {now}, as before", reassessed.profile);
    } else {
        writeln!(text, "  under {}: {then} → {now}", reassessed.profile);
    }
    let mut kept = 0;
    let mut one_sided: BTreeMap<String, usize> = BTreeMap::new();
    for turn in &reassessed.changed {
        match (&turn.then, &turn.now) {
            (Some(then), Some(now)) if turn.turns() => both_sides(text, turn, then, now),
            (Some(_), Some(_)) => kept += 1,
            (Some(_), None) => {
                let words = format!(
                    "no limit any more for {}",
                    Words::of(Language::English).fact(&turn.measure)
                );
                *one_sided.entry(words).or_default() += 1;
            }
            (None, _) => {
                let words = format!(
                    "a limit that was not there for {}",
                    Words::of(Language::English).fact(&turn.measure)
                );
                *one_sided.entry(words).or_default() += 1;
            }
        }
    }
    for (words, count) in one_sided {
        let points = plural(count, "test point", "test points");
        writeln!(text, "    {words} at {count} {points}");
    }
    if kept > 0 {
        writeln!(
            text,
            "    {kept} with another limit or value and the same verdict: --json lists them"
        );
    }
    for missing in &reassessed.newly_missing {
        writeln!(
            text,
            "    newly missing: {}: {} of {} required hits recorded",
            Words::of(Language::English).fact(&missing.test_point),
            missing.found,
            missing.wanted
        );
    }
    for one in &reassessed.newly_not_assessed {
        writeln!(
            text,
            "    newly not assessed: {}: {}",
            Words::of(Language::English).fact(&one.test_point),
            Words::of(Language::English).fact(&one.no_limit)
        );
    }
    if reassessed.verdict_now == Verdict::Undecided {
        for reason in &reassessed.reasons {
            writeln!(
                text,
                "    undecided because {}",
                Words::of(Language::English).fact(reason)
            );
        }
    }
}

fn both_sides(text: &mut Lines, turn: &Turn, then: &Side, now: &Side) {
    let place = turn.test_point.map_or_else(String::new, |point| {
        format!("{}: ", Words::of(Language::English).fact(&point))
    });
    writeln!(
        text,
        "    {place}{}",
        Words::of(Language::English).fact(&turn.measure)
    );
    for (when, side) in [("then", then), ("now", now)] {
        writeln!(text, "      {when}: {}", one_side(side, turn.unit));
    }
}

fn one_side(side: &Side, unit: &str) -> String {
    let limit = side
        .limit_value
        .map_or_else(String::new, |limit| format!("{limit} {unit}"));
    let value = side.printed_value.as_ref();
    let value = value.map_or_else(|| "no value".to_owned(), |value| format!("{value} {unit}"));
    let shown = if side.decides { "" } else { ", shown only" };
    let mut words = format!(
        "{value}, limit {limit} ({}{shown}): {}",
        side.limit,
        Words::of(Language::English).fact(&side.verdict)
    );
    if let Some((first, rest)) = side.reasons.split_first() {
        words += &format!(
            " because {}",
            Words::of(Language::English)
                .fact(first)
                .trim_end_matches('.')
        );
        if !rest.is_empty() {
            words += &format!("; {} more: --json", rest.len());
        }
    }
    words
}
