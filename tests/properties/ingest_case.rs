//! One log, what was said about it, and what a careful reader must make of it.

use relent::fact::Fact;
use relent::ingest::{Answers, Ask, Outcome, ReadError, Reading, read};
use relent::quantity::Hertz;
use relent::trace::Trace;
use relent::words::{Language, Words};
use serde::de::DeserializeOwned;

/// What must come out.
enum Want {
    Read(Numbers),
    Asks(&'static [Ask]),
    Refused(&'static str),
}

#[derive(Default)]
struct Numbers {
    samples: usize,
    missing: usize,
    max_n: f64,
    min_n: Option<f64>,
    max_at_s: Option<f64>,
    rate_hz: Option<f64>,
    notice: Option<&'static str>,
}

/// A row of a table of logs.
pub struct Case {
    name: &'static str,
    text: Vec<u8>,
    answers: Answers,
    want: Want,
}

/// A log that must be read with so many rows and this greatest force.
pub fn reads(name: &'static str, text: impl Into<Vec<u8>>, samples: usize, max_n: f64) -> Case {
    let numbers = Numbers {
        samples,
        max_n,
        ..Numbers::default()
    };
    Case::new(name, text, Want::Read(numbers))
}

/// A log about which at least one of these must be asked.
pub fn asks(name: &'static str, text: impl Into<Vec<u8>>, asks: &'static [Ask]) -> Case {
    Case::new(name, text, Want::Asks(asks))
}

/// A log that must be refused with an error that names its line and has these words.
pub fn refused(name: &'static str, text: impl Into<Vec<u8>>, words: &'static str) -> Case {
    Case::new(name, text, Want::Refused(words))
}

impl Case {
    fn new(name: &'static str, text: impl Into<Vec<u8>>, want: Want) -> Self {
        Self {
            name,
            text: text.into(),
            answers: Answers::default(),
            want,
        }
    }

    fn numbers(mut self, set: impl FnOnce(&mut Numbers)) -> Self {
        if let Want::Read(numbers) = &mut self.want {
            set(numbers);
        }
        self
    }

    pub fn missing(self, missing: usize) -> Self {
        self.numbers(|numbers| numbers.missing = missing)
    }

    pub fn min(self, min_n: f64) -> Self {
        self.numbers(|numbers| numbers.min_n = Some(min_n))
    }

    pub fn at(self, seconds: f64) -> Self {
        self.numbers(|numbers| numbers.max_at_s = Some(seconds))
    }

    pub fn rate(self, hertz: f64) -> Self {
        self.numbers(|numbers| numbers.rate_hz = Some(hertz))
    }

    pub fn notice(self, kind: &'static str) -> Self {
        self.numbers(|numbers| numbers.notice = Some(kind))
    }

    pub fn said(mut self, say: impl FnOnce(&mut Answers)) -> Self {
        say(&mut self.answers);
        self
    }

    /// What is wrong, if anything.
    fn fault(&self) -> Option<String> {
        let reading = read(&self.text, &self.answers);
        if let Some(fault) = reading.as_ref().ok().and_then(untold) {
            return Some(fault);
        }
        match (&self.want, reading) {
            (Want::Refused(words), Err(error)) => {
                let text = error.to_string();
                (!text.contains(words) || !text.starts_with("line "))
                    .then(|| format!("refused with: {text}"))
            }
            (_, Err(error)) => Some(format!("refused with: {error}")),
            (Want::Refused(_), Ok(reading)) => Some(format!("not refused: {}", told(&reading))),
            (Want::Asks(wanted), Ok(reading)) => match &reading.outcome {
                Outcome::Read(_) => Some(format!(
                    "SILENTLY WRONG, read without asking: {}",
                    told(&reading)
                )),
                Outcome::Asks(questions) => {
                    let hit = questions
                        .iter()
                        .any(|question| wanted.contains(&question.ask));
                    (!hit).then(|| told(&reading))
                }
            },
            (Want::Read(numbers), Ok(reading)) => numbers.fault(&reading),
        }
    }
}

impl Numbers {
    fn fault(&self, reading: &Reading) -> Option<String> {
        let Outcome::Read(trace) = &reading.outcome else {
            return Some(told(reading));
        };
        let run = &reading.runs[0];
        let near =
            |found: f64, wanted: f64| (found - wanted).abs() <= 1e-9_f64.max(1e-6 * wanted.abs());
        let mut faults = Vec::new();
        let mut hold = |right: bool, what: String| {
            if !right {
                faults.push(what);
            }
        };
        let beside = [&trace.position_mm, &trace.speed_mm_s, &trace.current_a];
        hold(
            beside
                .into_iter()
                .flatten()
                .all(|it| it.len() == trace.len()),
            "a channel beside the force is not as long as the record".to_owned(),
        );
        hold(
            run.samples == self.samples,
            format!("{} samples for {}", run.samples, self.samples),
        );
        hold(
            run.missing == self.missing,
            format!("{} missing for {}", run.missing, self.missing),
        );
        hold(
            near(run.max.get(), self.max_n),
            format!("max {} for {}", run.max, self.max_n),
        );
        hold(
            trace.len() + run.missing == run.samples,
            format!("{} in the record", trace.len()),
        );
        let max = trace
            .forces()
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        hold(max == run.max.get(), format!("max {max} in the record"));
        if let Some(min) = self.min_n {
            hold(
                near(run.min.get(), min),
                format!("min {} for {min}", run.min),
            );
        }
        if let Some(at) = self.max_at_s {
            hold(
                near(run.max_at.get(), at),
                format!("max at {} for {at}", run.max_at),
            );
        }
        if let Some(rate) = self.rate_hz {
            let found = run.rate.map_or(0.0, Hertz::get);
            hold(
                (found - rate).abs() < 1e-3 * rate,
                format!("rate {found} for {rate}"),
            );
        }
        if let Some(kind) = self.notice {
            let told = reading
                .notices
                .iter()
                .any(|notice| notice.kind.code() == kind);
            hold(told, format!("no notice of the kind {kind}"));
        }
        (!faults.is_empty()).then(|| format!("{}; {}", faults.join(", "), told(reading)))
    }
}

/// A fact of a reading that has no sentence or is another one when it comes back from JSON.
fn untold(reading: &Reading) -> Option<String> {
    fn fault<F: Fact + DeserializeOwned + PartialEq>(fact: &F) -> Option<String> {
        let sentence = Words::of(Language::English).fact(fact);
        let told = sentence != format!("{}-{}", F::FAMILY, fact.code());
        let json = serde_json::to_string(fact).unwrap();
        let same = serde_json::from_str::<F>(&json).is_ok_and(|again| again == *fact);
        (!told || !same).then(|| format!("{json}: {sentence}"))
    }
    let asked = match &reading.outcome {
        Outcome::Asks(questions) => questions.iter().find_map(fault),
        Outcome::Read(_) => None,
    };
    asked.or_else(|| reading.notices.iter().find_map(fault))
}

fn told(reading: &Reading) -> String {
    let outcome = match &reading.outcome {
        Outcome::Read(trace) => format!(
            "read {} samples, max {:?}",
            trace.len(),
            reading.runs.first().map(|run| run.max)
        ),
        Outcome::Asks(questions) => questions
            .iter()
            .map(|question| format!("asks {:?}: {:?}", question.ask, question.doubt))
            .collect::<Vec<_>>()
            .join("; "),
    };
    let notices: Vec<String> = reading
        .notices
        .iter()
        .map(|notice| format!("{notice:?}"))
        .collect();
    format!("{outcome} [{}]", notices.join(" | "))
}

/// Fails with every case that came out otherwise; holds the number of cases.
pub fn judge(cases: &[Case], number: usize) {
    assert_eq!(cases.len(), number, "number of cases");
    let faults: Vec<String> = cases
        .iter()
        .filter_map(|case| Some(format!("{}: {}", case.name, case.fault()?)))
        .collect();
    assert!(
        faults.is_empty(),
        "{} of {number} cases:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

/// The record of a log that must be read.
pub fn record(text: &[u8], answers: &Answers) -> Trace {
    match read(text, answers).map(|reading| (reading.outcome, reading.notices)) {
        Ok((Outcome::Read(trace), _)) => *trace,
        Ok((Outcome::Asks(questions), _)) => panic!("asked: {questions:?}"),
        Err(error) => panic!("refused: {error}"),
    }
}

/// The error of a log that must be refused.
pub fn error(text: &[u8], answers: &Answers) -> ReadError {
    read(text, answers).expect_err("refused")
}
