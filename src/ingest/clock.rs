//! Clock values → instants in seconds, one run after another: wraps undone, repeats spread, gaps told.

use super::bounds::{Source, bounds};
use super::columns::{Instants, Plan, plausible_unit};
use super::preamble::{Declared, Preamble};
use super::stamp::{DAY_S, Dated};
use super::steps::Steps;
use super::table::Table;
use super::wraps::{MODULI, undo_wraps};
use super::{Answers, Ask, Question, ReadError};
use crate::quantity::{Hertz, TimeUnit};
use crate::trace::Clock;

/// The instants of a log.
pub(super) struct Clocked {
    /// Seconds; each run rises strictly.
    pub(super) times: Vec<f64>,
    /// First sample of every run, and the end.
    pub(super) bounds: Vec<usize>,
    /// Where the instants come from; `None` if it must be asked.
    pub(super) clock: Option<Clock>,
    pub(super) questions: Vec<Question>,
    /// One line for the record's provenance.
    pub(super) provenance: String,
    /// The steps of all instants, where they are the clock's own in one run.
    steps: Option<Steps>,
}

/// Two rates that differ by less than this share agree; clocks of loggers are better, their rounding is not.
const AGREE: f64 = 0.02;

/// A clock that stands still in more than this share of its steps is too coarse to be one.
const COARSE: f64 = 1.0 / 3.0;

/// A step that is longer than this many usual steps is a gap.
pub(super) const GAP: f64 = 3.5;

/// Makes instants of a table's clock.
pub(super) fn instants(
    table: &mut Table,
    plan: &Plan,
    preamble: &Preamble,
    answers: &Answers,
) -> Result<Clocked, ReadError> {
    let mut raw = std::mem::take(&mut table.times);
    let mut steps = Steps::of(&raw);
    let mut clocked = Clocked {
        times: Vec::new(),
        bounds: Vec::new(),
        clock: Some(Clock::Column),
        questions: Vec::new(),
        provenance: String::new(),
        steps: None,
    };
    let rate = rate(answers, preamble);
    match plan.instants {
        Instants::Rows => clocked.by_rate(&mut raw, rate.as_ref(), preamble, table)?,
        Instants::Count(_) => {
            undo_wraps(&mut raw, &MODULI, 0.5..1.5, table, &mut steps);
            clocked.by_rate(&mut raw, rate.as_ref(), preamble, table)?;
        }
        Instants::Numbers(_, unit) => {
            undo_wraps(&mut raw, &MODULI, 0.5..1.5, table, &mut steps);
            clocked.in_seconds(&mut raw, steps, unit, rate.as_ref(), plan, table)?;
        }
        Instants::Stamps(_) => {
            if table.dated != Some(Dated::Yes) {
                let moduli = [DAY_S, DAY_S / 2.0, 3600.0];
                undo_wraps(&mut raw, &moduli, 0.0..GAP, table, &mut steps);
            }
            clocked.checked(&mut raw, steps, rate.as_ref(), plan, table)?;
        }
    }
    let counted = matches!(plan.instants, Instants::Count(_));
    let source = if counted || clocked.clock == Some(Clock::Column) {
        Source::Clock
    } else {
        Source::Rows
    };
    clocked.bounds = bounds(&raw, &steps, source, table);
    if steps.repeats > 0 {
        spread_repeats(&mut raw, &clocked.bounds, table);
    }
    if steps.repeats > 0 || clocked.bounds.len() > 2 {
        clocked.steps = None;
    }
    clocked.times = raw;
    Ok(clocked)
}

/// A sampling rate and who gives it.
pub(super) struct Rate {
    hertz: f64,
    clock: Clock,
    words: String,
}

fn rate(answers: &Answers, preamble: &Preamble) -> Option<Rate> {
    if let Some(rate) = answers.rate {
        return Some(Rate {
            hertz: rate.get(),
            clock: Clock::GivenByHand(rate),
            words: format!("sampling rate {rate}, given by hand"),
        });
    }
    let declared = preamble.rate.as_ref()?;
    let rate = Hertz(declared.value);
    Some(Rate {
        hertz: declared.value,
        clock: Clock::DeclaredByLog(rate),
        words: format!(
            "sampling rate {rate}, declared on line {}: `{}`",
            declared.line, declared.text
        ),
    })
}

impl Clocked {
    /// The steps of one run.
    pub(super) fn steps(&self, run: &[f64]) -> Steps {
        self.steps.unwrap_or_else(|| Steps::of(run))
    }

    /// Instants from a count of samples and a rate.
    fn by_rate(
        &mut self,
        raw: &mut [f64],
        rate: Option<&Rate>,
        preamble: &Preamble,
        table: &Table,
    ) -> Result<(), ReadError> {
        let Some(rate) = rate else {
            self.clock = None;
            return Ok(());
        };
        let differs = |other: &&Declared<f64>| !agree(other.value, rate.hertz);
        if let Clock::GivenByHand(given) = rate.clock {
            if let Some(declared) = preamble.rate.as_ref().filter(differs) {
                return Err(ReadError::RateAgainstClock {
                    line: declared.line,
                    column: format!("`{}`", declared.text),
                    given: given.get(),
                    own: declared.value,
                });
            }
        } else if let Some(other) = preamble.other_rate.as_ref().filter(differs) {
            self.questions.push(Question {
                ask: Ask::SamplingRate,
                text: format!(
                    "{}, but line {} declares {} Hz: `{}`; the rows begin on line {}",
                    rate.words,
                    other.line,
                    other.value,
                    other.text,
                    table.line(0)
                ),
                answer_with: format!("--rate {} or --rate {}", other.value, rate.hertz),
            });
        }
        for time in raw.iter_mut() {
            *time /= rate.hertz;
        }
        self.clock = Some(rate.clock.clone());
        self.provenance.clone_from(&rate.words);
        Ok(())
    }

    /// Instants from a column of numbers.
    fn in_seconds(
        &mut self,
        raw: &mut [f64],
        mut steps: Steps,
        unit: Option<TimeUnit>,
        rate: Option<&Rate>,
        plan: &Plan,
        table: &mut Table,
    ) -> Result<(), ReadError> {
        let usual = if unit.is_none() {
            steps.usual(raw)
        } else {
            None
        };
        let unit = unit.or_else(|| {
            let step = usual?;
            let name = plan.channel_of_time();
            let (found, why) = match rate {
                Some(rate) => {
                    let agrees = |unit: &TimeUnit| agree(1.0 / unit.to_seconds(step), rate.hertz);
                    (TimeUnit::ALL.into_iter().find(agrees)?, rate.words.clone())
                }
                None => {
                    let unit = plausible_unit(step)?;
                    (
                        unit,
                        format!("its usual step {step} makes a plausible rate only so"),
                    )
                }
            };
            table.notices.add("unit", None, || {
                format!(
                    "{name} has no unit and is read in {}: {why}",
                    found.symbol()
                )
            });
            Some(found)
        });
        let Some(unit) = unit else {
            self.clock = None;
            self.questions.push(Question {
                ask: Ask::TimeUnit,
                text: format!(
                    "{} has no unit of time; its usual step is {}",
                    plan.channel_of_time(),
                    usual.map_or_else(|| "unknown".to_owned(), |step| step.to_string())
                ),
                answer_with: "--time-unit UNIT (s, ms, µs, ns, min, h)".to_owned(),
            });
            return Ok(());
        };
        if unit != TimeUnit::Second {
            for time in raw.iter_mut() {
                *time = unit.to_seconds(*time);
            }
            steps = Steps::of(raw);
        }
        self.provenance = format!(
            "instants from {} in {}",
            plan.channel_of_time(),
            unit.symbol()
        );
        self.checked(raw, steps, rate, plan, table)
    }

    /// Holds a clock in seconds against a rate, and takes the rate where the clock is too coarse.
    fn checked(
        &mut self,
        raw: &mut [f64],
        steps: Steps,
        rate: Option<&Rate>,
        plan: &Plan,
        table: &mut Table,
    ) -> Result<(), ReadError> {
        let name = plan.channel_of_time();
        if self.provenance.is_empty() {
            self.provenance = format!("instants from the clock stamps of {name}");
        }
        if raw.len() > 2 && steps.repeats as f64 > COARSE * (raw.len() - 1) as f64 {
            return self.coarse(raw, rate, &name, &steps);
        }
        self.steps = Some(steps);
        let (Some(rate), Some(step)) = (rate, steps.usual(raw)) else {
            return Ok(());
        };
        if agree(1.0 / step, rate.hertz) {
            return Ok(());
        }
        let own = 1.0 / step;
        if let Clock::GivenByHand(given) = rate.clock {
            return Err(ReadError::RateAgainstClock {
                line: table.line(0),
                column: name,
                given: given.get(),
                own,
            });
        }
        table.notices.add("rate", None, || {
            format!(
                "{}; the clock of {name} gives {own:.6} Hz and is kept",
                rate.words
            )
        });
        Ok(())
    }

    /// A clock that stands still from row to row: the rate, if there is one, as far as the clock bears it out.
    fn coarse(
        &mut self,
        raw: &mut [f64],
        rate: Option<&Rate>,
        name: &str,
        steps: &Steps,
    ) -> Result<(), ReadError> {
        let span = raw[raw.len() - 1] - raw[0];
        let rows = (raw.len() - 1) as f64;
        let Some(rate) = rate else {
            self.clock = None;
            self.questions.push(Question {
                ask: Ask::SamplingRate,
                text: format!(
                    "{name} stands still over {} of {} steps, too coarse for instants; {} rows lie in {span} s",
                    steps.repeats,
                    raw.len() - 1,
                    raw.len()
                ),
                answer_with: "--rate HZ, or --time COLUMN".to_owned(),
            });
            return Ok(());
        };
        let made = rows / rate.hertz;
        let tick = steps.greatest.max(0.0);
        if span > 0.0 && (made - span).abs() > (1.001 * tick).max(AGREE * span) {
            return Err(ReadError::RateAgainstClock {
                line: 1,
                column: name.to_owned(),
                given: rate.hertz,
                own: rows / span,
            });
        }
        for (row, time) in raw.iter_mut().enumerate() {
            *time = row as f64 / rate.hertz;
        }
        self.clock = Some(rate.clock.clone());
        self.provenance.clone_from(&rate.words);
        Ok(())
    }
}

fn agree(a: f64, b: f64) -> bool {
    (a - b).abs() <= AGREE * b.abs()
}

/// Rows with one instant are spread evenly up to the next one, or over one usual step where the next is far: no sample is
/// dropped for its clock.
fn spread_repeats(times: &mut [f64], bounds: &[usize], table: &mut Table) {
    for run in bounds.windows(2) {
        let span = &mut times[run[0]..run[1]];
        let steps = Steps::of(span);
        if steps.repeats == 0 {
            continue;
        }
        let usual = steps.usual(span).unwrap_or(1e-3);
        let mut at = 0;
        while at < span.len() {
            let instant = span[at];
            let same = span[at..]
                .iter()
                .take_while(|time| **time == instant)
                .count();
            if same > 1 {
                let next = span
                    .get(at + same)
                    .map_or(usual, |next| next - instant)
                    .min(usual);
                for place in 1..same {
                    span[at + place] = instant + next * place as f64 / same as f64;
                }
                let line = table.line(run[0] + at);
                table.notices.add("repeated-instant", Some(line), || {
                    format!(
                        "{same} rows have the instant {instant} s; they are spread over {next} s"
                    )
                });
            }
            at += same;
        }
    }
}

/// Tells the gaps of a run.
pub(super) fn tell_gaps(times: &[f64], from: usize, steps: &Steps, usual: f64, table: &mut Table) {
    if steps.greatest <= GAP * usual {
        return;
    }
    for at in 1..times.len() {
        let step = times[at] - times[at - 1];
        if step > GAP * usual {
            let line = table.line(from + at);
            table.notices.add("clock-gap", Some(line), || {
                format!("{step} s without a sample; the usual step is {usual} s")
            });
        }
    }
}
