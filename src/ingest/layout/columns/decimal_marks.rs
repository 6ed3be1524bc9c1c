//! The decimal mark of the clock and of the force, where they have two.

use super::{Answers, Ask, Doubt, Instants, Mark, Noticed, Plan, Question, Table};
use crate::ingest::layout::sample::Column;
use crate::ingest::tokens::units;
use crate::quantity::{Hertz, TimeUnit};

impl Table<'_> {
    /// A force keeps the mark that a person says. A clock has the mark that its numbers prove, or that a person says; where they prove
    /// none, and the mark of the force groups all their digits, it is asked.
    pub(super) fn decimal_marks(&self, answers: &Answers, plan: &mut Plan) {
        if answers.decimal_mark.is_some() {
            for force in &plan.forces {
                plan.decimal_marks[force.column] = self.dialect.mark;
            }
        }
        let Instants::Numbers(column, unit) = plan.instants else {
            return;
        };
        let (seen, usual) = (&self.dialect.columns[column], self.dialect.mark);
        let mark = match answers.time_decimal_mark {
            Some(',') => Mark::Comma,
            Some(_) => Mark::Point,
            None if seen.mark != usual || !seen.is_open() => seen.mark,
            None => match self.plausible(seen, unit, answers) {
                Some(mark) => mark,
                None => {
                    self.ask_clock_mark(column, plan);
                    usual
                }
            },
        };
        if mark != usual && seen.numbers > 0 {
            plan.units.push(Noticed::ClockMark {
                column: self.column(column),
                mark: mark.char(),
            });
        }
        plan.decimal_marks[column] = mark;
    }

    /// The mark of a clock whose digits one mark groups and the other parts, where a person said the mark of the force and only one of
    /// them makes the sampling rate that is known, or a plausible one.
    fn plausible(&self, seen: &Column, unit: Option<TimeUnit>, answers: &Answers) -> Option<Mark> {
        const GROUP: f64 = 1000.0;
        const NEAR: f64 = 2.0;
        answers.decimal_mark?;
        let step = unit?.to_seconds(seen.step()?);
        let declared = self.preamble.rate.as_ref().map(|declared| declared.value);
        let known = answers.rate.map(Hertz::get).or(declared);
        let fits = |step: f64| match known {
            Some(rate) => (1.0 / NEAR..NEAR).contains(&(step * rate)),
            None => units::is_plausible_step(step),
        };
        match (fits(step), fits(step / GROUP)) {
            (true, false) => Some(seen.mark),
            (false, true) => Some(seen.mark.other()),
            _ => None,
        }
    }

    fn ask_clock_mark(&self, column: usize, plan: &mut Plan) {
        let asked = self.dialect.mark_open;
        if asked {
            return;
        }
        plan.questions.push(Question {
            ask: Ask::DecimalMark,
            doubt: Doubt::ClockMarkOpen {
                line: self.dialect.first_line,
                column: self.column(column),
                found: self.dialect.columns[column].found.clone(),
            },
        });
    }
}
