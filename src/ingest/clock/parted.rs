//! A clock in two columns: whole seconds, and the digits after them.

use crate::ingest::layout::columns::{Instants, Plan};
use crate::ingest::rows::table::Table;
use crate::ingest::{Answers, Ask, Doubt, Kind, Noticed, Question};

/// Where the instants come from once the two columns are one. The second column holds the digits after the seconds if it falls only where the
/// seconds advance, and mostly there; a time of its own if it never falls; anything else is asked.
pub(super) fn whole(
    raw: &mut Vec<f64>,
    plan: &Plan,
    answers: &Answers,
    table: &mut Table,
) -> (Instants, Option<Question>) {
    let (Some(fraction), Some(column)) = (plan.fraction, plan.instants.column()) else {
        return (plan.instants, None);
    };
    let digits = &table.fractions;
    let both = raw.windows(2).zip(digits.windows(2));
    let steps = both.map(|(whole, digits)| (whole[1] != whole[0], digits[1] < digits[0]));
    let (mut falls, mut alone, mut advances_alone) = (0, 0, 0);
    for (advances, fall) in steps {
        falls += usize::from(fall);
        alone += usize::from(fall && !advances);
        advances_alone += usize::from(advances && !fall);
    }
    if falls == 0 && answers.time.is_none() {
        *raw = std::mem::take(&mut table.fractions);
        return (
            Instants::Numbers(fraction.column, Some(fraction.unit)),
            None,
        );
    }
    let seconds = raw.iter_mut().zip(digits);
    if alone == 0 && 2 * advances_alone < falls {
        for (time, digits) in seconds {
            *time += fraction.unit.to_seconds(*digits);
        }
        let fact = Noticed::ClockOfTwo {
            column: plan.column(column),
            fraction: plan.column(fraction.column),
        };
        table.notices.add(Kind::Clock, None, || fact);
        return (plan.instants, None);
    }
    let columns = [column, fraction.column].map(|at| plan.column(at));
    let doubt = Question {
        ask: Ask::TimeColumn,
        doubt: Doubt::SeveralTimes {
            columns: columns.into(),
        },
    };
    (
        plan.instants,
        Some(doubt).filter(|_| answers.time.is_none()),
    )
}
