//! Clock values → instants in seconds, one run after another: wraps undone, repeats spread, gaps told.

use super::bounds::{Source, bounds};
use super::parted;
use super::steps::{GAP, Steps};
use super::wraps::{MODULI, undo_wraps};
use crate::ingest::layout::columns::{Instants, Plan};
use crate::ingest::layout::preamble::{Declared, Preamble};
use crate::ingest::rows::table::Table;
use crate::ingest::tokens::stamp::{DAY_S, Dated};
use crate::ingest::tokens::units;
use crate::ingest::{Answers, Ask, Doubt, Kind, Noticed, Question, ReadError};
use crate::quantity::{Hertz, TimeUnit};
use crate::trace::{Clock, Column};

/// The instants of a log.
pub(in crate::ingest) struct Clocked {
    /// Seconds; each run rises strictly.
    pub(in crate::ingest) times: Vec<f64>,
    /// First sample of every run, and the end.
    pub(in crate::ingest) bounds: Vec<usize>,
    /// Where the instants come from; `None` if it must be asked.
    pub(in crate::ingest) clock: Option<Clock>,
    pub(in crate::ingest) questions: Vec<Question>,
    /// The steps of all instants, where they are the clock's own in one run.
    steps: Option<Steps>,
}

/// Two rates that differ by less than this share agree; clocks of loggers are better, their rounding is not.
const AGREE: f64 = 0.02;

/// A clock that stands still in more than this share of its steps is too coarse to be one.
const COARSE: f64 = 1.0 / 3.0;

/// Makes instants of a table's clock.
pub(in crate::ingest) fn instants(
    table: &mut Table,
    plan: &Plan,
    preamble: &Preamble,
    answers: &Answers,
) -> Result<Clocked, ReadError> {
    let mut raw = std::mem::take(&mut table.times);
    let (instants, doubt) = parted::whole(&mut raw, plan, answers, table);
    let mut steps = Steps::of(&raw);
    if steps.back * 2 > raw.len() - 1 && instants != Instants::Rows {
        turn(&mut raw, &mut steps, table);
    }
    let mut clocked = Clocked {
        times: Vec::new(),
        bounds: Vec::new(),
        clock: None,
        questions: doubt.into_iter().collect(),
        steps: None,
    };
    let rate = Rate::of(answers, preamble);
    match instants {
        Instants::Rows => clocked.by_rate(&mut raw, rate.as_ref(), (preamble, 1.0), table)?,
        Instants::Count(_) => {
            undo_wraps(&mut raw, &MODULI, 0.5..1.5, table, &mut steps);
            let step = clocked.count(&mut raw, &steps, rate.as_ref(), plan, table);
            clocked.by_rate(&mut raw, rate.as_ref(), (preamble, step), table)?;
        }
        Instants::Numbers(column, unit) => {
            undo_wraps(&mut raw, &MODULI, 0.5..1.5, table, &mut steps);
            let column = plan.column(column);
            clocked.in_seconds(&mut raw, steps, unit, rate.as_ref(), column, table)?;
        }
        Instants::Stamps(column) => {
            if table.dated != Some(Dated::Yes) {
                let moduli = [DAY_S, DAY_S / 2.0, 3600.0];
                undo_wraps(&mut raw, &moduli, 0.0..GAP, table, &mut steps);
            }
            let column = plan.column(column);
            let clock = Clock::Stamps {
                column: column.clone(),
            };
            clocked.checked(&mut raw, steps, rate.as_ref(), (column, clock), table)?;
        }
    }
    let counted = matches!(instants, Instants::Count(_));
    let own = |clock: &Clock| matches!(clock, Clock::Numbers { .. } | Clock::Stamps { .. });
    let source = if counted || clocked.clock.as_ref().is_some_and(own) {
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

/// Turns the rows of a log round that has its newest row first.
fn turn(raw: &mut [f64], steps: &mut Steps, table: &mut Table) {
    raw.reverse();
    *steps = Steps::of(raw);
    table.turn();
    let fact = || Noticed::NewestFirst { rows: raw.len() };
    table.notices.add(Kind::Clock, None, fact);
}

/// A sampling rate and who gives it.
struct Rate {
    hertz: f64,
    clock: Clock,
}

impl Rate {
    fn of(answers: &Answers, preamble: &Preamble) -> Option<Self> {
        if let Some(rate_hz) = answers.rate {
            return Some(Self {
                hertz: rate_hz.get(),
                clock: Clock::Answered { rate_hz },
            });
        }
        preamble.rate.as_ref().map(|declared| Self {
            hertz: declared.value,
            clock: Clock::Declared {
                rate_hz: Hertz(declared.value),
                line: declared.line,
                found: declared.text.clone(),
            },
        })
    }
}

impl Clocked {
    /// The steps of one run.
    pub(in crate::ingest) fn steps(&self, run: &[f64]) -> Steps {
        self.steps.unwrap_or_else(|| Steps::of(run))
    }

    /// Instants from a count of samples and a rate. A person's rate is one that the log declares, or the rate of the rows where its
    /// counter rises by a step from row to row; another one is refused.
    fn by_rate(
        &mut self,
        raw: &mut [f64],
        rate: Option<&Rate>,
        (preamble, step): (&Preamble, f64),
        table: &Table,
    ) -> Result<(), ReadError> {
        let Some(rate) = rate else {
            return Ok(());
        };
        let declared = || preamble.rate.iter().chain(&preamble.other_rate);
        let fits = |declared: &Declared<f64>| {
            agree(declared.value, rate.hertz) || agree(declared.value, rate.hertz * step)
        };
        let differs = |other: &&Declared<f64>| !agree(other.value, rate.hertz);
        if matches!(rate.clock, Clock::Answered { .. }) {
            if let Some(declared) = preamble.rate.as_ref().filter(|_| !declared().any(fits)) {
                return Err(ReadError::RateAgainstClock {
                    line: declared.line,
                    column: format!("`{}`", declared.text),
                    given: rate.hertz,
                    own: declared.value,
                });
            }
        } else if let (Some(first), Some(other)) =
            (&preamble.rate, preamble.other_rate.as_ref().filter(differs))
        {
            self.questions.push(Question {
                ask: Ask::SamplingRate,
                doubt: Doubt::TwoRates {
                    rate_hz: Hertz(first.value),
                    line: first.line,
                    found: first.text.clone(),
                    other_rate_hz: Hertz(other.value),
                    other_line: other.line,
                    other_found: other.text.clone(),
                    first_line: table.line(0),
                },
            });
        }
        for time in raw.iter_mut() {
            *time /= rate.hertz;
        }
        self.clock = Some(rate.clock.clone());
        Ok(())
    }

    /// The step of a counter. Where it is not one, a person's rate is that of the rows; whether a declared one is, is asked.
    fn count(
        &mut self,
        raw: &mut [f64],
        steps: &Steps,
        rate: Option<&Rate>,
        plan: &Plan,
        table: &mut Table,
    ) -> f64 {
        let (Some(step), Some(rate)) = (steps.usual(raw).filter(|step| *step > 1.0), rate) else {
            return 1.0;
        };
        let Some(column) = plan.instants.column().map(|at| plan.column(at)) else {
            return 1.0;
        };
        if matches!(rate.clock, Clock::Answered { .. }) {
            for count in raw.iter_mut() {
                *count /= step;
            }
            let fact = || Noticed::CountInSteps { column, step };
            table.notices.add(Kind::Rate, None, fact);
        } else {
            self.questions.push(Question {
                ask: Ask::SamplingRate,
                doubt: Doubt::CountRisesBy {
                    column,
                    step,
                    rate_hz: Hertz(rate.hertz),
                },
            });
        }
        step
    }

    /// Instants from a column of numbers.
    fn in_seconds(
        &mut self,
        raw: &mut [f64],
        mut steps: Steps,
        unit: Option<TimeUnit>,
        rate: Option<&Rate>,
        column: Column,
        table: &mut Table,
    ) -> Result<(), ReadError> {
        let usual = if unit.is_none() {
            steps.usual(raw)
        } else {
            None
        };
        let unit = unit.or_else(|| {
            let step = usual?;
            let column = column.clone();
            let (time_unit, fact) = match rate {
                Some(rate) => {
                    let agrees = |unit: &TimeUnit| agree(1.0 / unit.to_seconds(step), rate.hertz);
                    let time_unit = TimeUnit::ALL.into_iter().find(agrees)?;
                    let fact = Noticed::TimeUnitByRate {
                        column,
                        time_unit,
                        clock: rate.clock.clone(),
                    };
                    (time_unit, fact)
                }
                None => {
                    let time_unit = units::plausible_unit(step)?;
                    let fact = Noticed::TimeUnitByStep {
                        column,
                        time_unit,
                        step,
                    };
                    (time_unit, fact)
                }
            };
            table.notices.add(Kind::Unit, None, || fact);
            Some(time_unit)
        });
        let Some(unit) = unit else {
            self.questions.push(Question {
                ask: Ask::TimeUnit,
                doubt: Doubt::NoTimeUnit {
                    column,
                    usual_step: usual,
                },
            });
            return Ok(());
        };
        if unit != TimeUnit::Second {
            for time in raw.iter_mut() {
                *time = unit.to_seconds(*time);
            }
            steps = Steps::of(raw);
        }
        let clock = Clock::Numbers {
            column: column.clone(),
            unit,
        };
        self.checked(raw, steps, rate, (column, clock), table)
    }

    /// Holds the clock of a column, in seconds, against a rate, and takes the rate where the clock is too coarse.
    fn checked(
        &mut self,
        raw: &mut [f64],
        steps: Steps,
        rate: Option<&Rate>,
        (column, clock): (Column, Clock),
        table: &mut Table,
    ) -> Result<(), ReadError> {
        if raw.len() > 2 && steps.repeats as f64 > COARSE * (raw.len() - 1) as f64 {
            return self.coarse(raw, rate, column, &steps);
        }
        self.clock = Some(clock);
        self.steps = Some(steps);
        let (Some(rate), Some(step)) = (rate, steps.usual(raw)) else {
            return Ok(());
        };
        if agree(1.0 / step, rate.hertz) {
            return Ok(());
        }
        let own = 1.0 / step;
        match &rate.clock {
            Clock::Declared {
                rate_hz,
                line,
                found,
            } => {
                let fact = || Noticed::RateOverruled {
                    column,
                    own_hz: Hertz(own),
                    rate_hz: *rate_hz,
                    declared_line: *line,
                    found: found.clone(),
                };
                table.notices.add(Kind::Rate, None, fact);
            }
            _ => {
                return Err(ReadError::RateAgainstClock {
                    line: table.line(0),
                    column: named(&column),
                    given: rate.hertz,
                    own,
                });
            }
        }
        Ok(())
    }

    /// A clock that stands still from row to row: the rate, if there is one, as far as the clock bears it out.
    fn coarse(
        &mut self,
        raw: &mut [f64],
        rate: Option<&Rate>,
        column: Column,
        steps: &Steps,
    ) -> Result<(), ReadError> {
        let span = raw[raw.len() - 1] - raw[0];
        let rows = (raw.len() - 1) as f64;
        let Some(rate) = rate else {
            self.questions.push(Question {
                ask: Ask::SamplingRate,
                doubt: Doubt::ClockTooCoarse {
                    column,
                    still: steps.repeats,
                    steps: raw.len() - 1,
                    span_s: span,
                },
            });
            return Ok(());
        };
        let made = rows / rate.hertz;
        let tick = steps.greatest.max(0.0);
        if span > 0.0 && (made - span).abs() > (1.001 * tick).max(AGREE * span) {
            return Err(ReadError::RateAgainstClock {
                line: 1,
                column: named(&column),
                given: rate.hertz,
                own: rows / span,
            });
        }
        for (row, time) in raw.iter_mut().enumerate() {
            *time = row as f64 / rate.hertz;
        }
        self.clock = Some(rate.clock.clone());
        Ok(())
    }
}

/// A column in a complaint.
fn named(column: &Column) -> String {
    let name = column.name.as_deref().unwrap_or_default();
    format!("column {} `{name}`", column.number)
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
                let fact = || Noticed::InstantRepeated {
                    rows: same,
                    instant_s: instant,
                    spread_s: next,
                };
                table.notices.add(Kind::RepeatedInstant, Some(line), fact);
            }
            at += same;
        }
    }
}

/// Tells the gaps of a run.
pub(in crate::ingest) fn tell_gaps(
    times: &[f64],
    from: usize,
    steps: &Steps,
    usual: f64,
    table: &mut Table,
) {
    if steps.greatest <= GAP * usual {
        return;
    }
    for at in 1..times.len() {
        let step = times[at] - times[at - 1];
        if step > GAP * usual {
            let line = table.line(from + at);
            let fact = || Noticed::ClockGap {
                gap_s: step,
                usual_s: usual,
            };
            table.notices.add(Kind::ClockGap, Some(line), fact);
        }
    }
}
