//! What the rows leave in doubt once all of them are read: other tables, short rows, runs, counts.

use crate::ingest::clock::instants::Clocked;
use crate::ingest::layout::preamble::Declared;
use crate::ingest::rows::table::{LostRow, Table, Why};
use crate::ingest::{Answers, Ask, Doubt, Kind, Noticed, Question, ReadError};

/// One short row in so many is often.
const OFTEN: usize = 10;

/// What many rows leave in doubt: other heads, too few or too many cells, no instants.
pub(in crate::ingest) fn of_rows(
    table: &mut Table,
    width: usize,
    answers: &Answers,
) -> Vec<Question> {
    let heads = other_heads(table, answers);
    let force = answers.force.is_none();
    let cells = [short_rows(table, width), wide_rows(table, width)];
    let cells = cells.into_iter().flatten().filter(|_| force);
    let instants = lost_instants(table).filter(|_| answers.time.is_none());
    heads.into_iter().chain(cells).chain(instants).collect()
}

/// Many rows that blanks part in too few cells are no accident: which cell they lack must be said.
fn short_rows(table: &Table, width: usize) -> Option<Question> {
    let rows = table.short_rows;
    (rows > 1 && rows * OFTEN > table.forces.len()).then_some(Question {
        ask: Ask::ForceColumn,
        doubt: Doubt::ShortRows { rows, width },
    })
}

/// Many rows with more numbers than columns are no accident either.
fn wide_rows(table: &Table, width: usize) -> Option<Question> {
    let rows = table.wide_rows;
    (rows * OFTEN > table.forces.len()).then_some(Question {
        ask: Ask::ForceColumn,
        doubt: Doubt::WideRows { rows, width },
    })
}

/// Many rows whose instants cannot be read are no accident: the clock is written in a way that is not known.
fn lost_instants(table: &Table) -> Option<Question> {
    const FEW: usize = 3;
    let lost = table.lost.iter();
    let lost: Vec<&LostRow> = lost.filter(|row| row.why == Why::Instant).collect();
    let often = lost.len() > FEW && lost.len() * OFTEN > table.forces.len();
    lost.first().filter(|_| often).map(|first| Question {
        ask: Ask::TimeColumn,
        doubt: Doubt::InstantsUnreadable {
            rows: lost.len(),
            line: first.line,
            found: first.text.clone(),
        },
    })
}

/// Other heads between the rows begin another table: asked, or told where a person said which run to read.
fn other_heads(table: &mut Table, answers: &Answers) -> Option<Question> {
    let (line, found) = table.other_heads.take()?;
    if answers.run.is_some() {
        let fact = || Noticed::OtherHeads { found };
        table.notices.add(Kind::Head, Some(line), fact);
        return None;
    }
    Some(Question {
        ask: Ask::Run,
        doubt: Doubt::OtherHeads { line, found },
    })
}

/// Holds the number of rows against the number that the log declares, which may be that of its first run or of a block of several.
pub(in crate::ingest) fn count(declared: &Declared<u64>, clocked: &Clocked, table: &mut Table) {
    let rows = (table.forces.len() + table.lost.len()) as u64;
    let first = clocked.bounds.get(1).copied().unwrap_or(0) as u64;
    let blocks = declared.value > 1 && rows.is_multiple_of(declared.value);
    if !blocks && declared.value != rows && declared.value != first {
        let found = declared.text.clone();
        let fact = || match declared.value.checked_sub(rows) {
            Some(missing) => Noticed::RowsMissing {
                found,
                rows,
                missing,
            },
            None => Noticed::OtherCount {
                found,
                declared: declared.value,
                rows,
            },
        };
        table.notices.add(Kind::Count, Some(declared.line), fact);
    }
}

/// Makes one run of all rows, as a person said.
pub(in crate::ingest) fn join_runs(clocked: &mut Clocked, table: &Table) -> Result<(), ReadError> {
    let falls = |at: &&usize| **at > 0 && clocked.times[**at] <= clocked.times[**at - 1];
    let inside = &clocked.bounds[..clocked.bounds.len() - 1];
    if let Some(at) = inside.iter().find(falls) {
        return Err(ReadError::RunsApart {
            line: table.line(*at),
        });
    }
    clocked.bounds = vec![0, clocked.times.len()];
    Ok(())
}

/// The run that a person chose, from 0.
pub(in crate::ingest) fn chosen_run(
    asked: usize,
    runs: usize,
    first_line: u64,
) -> Result<usize, ReadError> {
    if asked == 0 || asked > runs {
        return Err(ReadError::NoSuchRun {
            line: first_line,
            asked,
            runs,
        });
    }
    Ok(asked - 1)
}

/// Several runs: which is the record?
pub(in crate::ingest) fn several_runs(bounds: &[usize], table: &Table) -> Option<Question> {
    const SHOWN: usize = 8;
    let runs = bounds.len() - 1;
    let starts = bounds[1..runs].iter().take(SHOWN);
    let lines: Vec<u64> = starts.map(|at| table.line(*at)).collect();
    (runs > 1).then(|| Question {
        ask: Ask::Run,
        doubt: Doubt::SeveralRuns {
            runs,
            more: runs - 1 - lines.len(),
            lines,
        },
    })
}
