//! What the rows leave in doubt once all of them are read: other tables, short rows, runs, counts.

use super::super::clock::Clocked;
use super::super::{Answers, Ask, Doubt, Kind, Noticed, Question, ReadError};
use super::{Log, LostRow, Why};

/// One short row in so many is often.
const OFTEN: usize = 10;

impl Log {
    /// Many rows that blanks part in too few cells are no accident: which cell they lack must be said.
    pub(super) fn short_rows(&mut self, answers: &Answers) {
        let (short, rows) = (self.table.short_rows, self.table.forces.len());
        if answers.force.is_none() && short > 1 && short * OFTEN > rows {
            self.questions.push(Question {
                ask: Ask::ForceColumn,
                doubt: Doubt::ShortRows {
                    rows: short,
                    width: self.proposal.dialect.width,
                },
            });
        }
    }

    /// Many rows with more numbers than columns are no accident either.
    pub(super) fn wide_rows(&mut self, answers: &Answers) {
        let (wide, rows) = (self.table.wide_rows, self.table.forces.len());
        if answers.force.is_none() && wide * OFTEN > rows {
            self.questions.push(Question {
                ask: Ask::ForceColumn,
                doubt: Doubt::WideRows {
                    rows: wide,
                    width: self.proposal.dialect.width,
                },
            });
        }
    }

    /// Many rows whose instants cannot be read are no accident: the clock is written in a way that is not known.
    pub(super) fn lost_instants(&mut self, answers: &Answers) {
        const FEW: usize = 3;
        let lost = self.table.lost.iter();
        let lost: Vec<&LostRow> = lost.filter(|row| row.why == Why::Instant).collect();
        let often = lost.len() > FEW && lost.len() * OFTEN > self.table.forces.len();
        if let Some(first) = lost.first().filter(|_| often && answers.time.is_none()) {
            self.questions.push(Question {
                ask: Ask::TimeColumn,
                doubt: Doubt::InstantsUnreadable {
                    rows: lost.len(),
                    line: first.line,
                    found: first.text.clone(),
                },
            });
        }
    }

    /// Other heads between the rows begin another table: asked, or told where a person said which run to read.
    pub(super) fn other_heads(&mut self, answers: &Answers) {
        let Some((line, found)) = self.table.other_heads.take() else {
            return;
        };
        if answers.run.is_some() {
            let fact = || Noticed::OtherHeads { found };
            self.table.notices.add(Kind::Head, Some(line), fact);
            return;
        }
        self.questions.push(Question {
            ask: Ask::Run,
            doubt: Doubt::OtherHeads { line, found },
        });
    }

    /// Holds the number of rows against the number that the log declares.
    pub(super) fn count(&mut self, clocked: &Clocked) {
        let Some(declared) = &self.proposal.preamble.rows else {
            return;
        };
        let rows = (self.table.forces.len() + self.table.lost.len()) as u64;
        let first = clocked.bounds.get(1).copied().unwrap_or(0) as u64;
        if declared.value != rows && declared.value != first {
            let fact = || Noticed::OtherCount {
                found: declared.text.clone(),
                declared: declared.value,
                rows,
            };
            self.table
                .notices
                .add(Kind::Count, Some(declared.line), fact);
        }
    }

    /// The run to read, or a question.
    pub(super) fn choose_run(
        &mut self,
        bounds: &[usize],
        answers: &Answers,
    ) -> Result<Option<usize>, ReadError> {
        let runs = bounds.len() - 1;
        if let Some(asked) = answers.run {
            if asked == 0 || asked > runs {
                return Err(ReadError::NoSuchRun {
                    line: self.proposal.dialect.first_line,
                    asked,
                    runs,
                });
            }
            return Ok(Some(asked - 1));
        }
        if runs > 1 {
            const SHOWN: usize = 8;
            let starts = bounds[1..runs].iter().take(SHOWN);
            let lines: Vec<u64> = starts.map(|at| self.table.line(*at)).collect();
            self.questions.push(Question {
                ask: Ask::Run,
                doubt: Doubt::SeveralRuns {
                    runs,
                    more: runs - 1 - lines.len(),
                    lines,
                },
            });
            return Ok(None);
        }
        Ok(Some(0))
    }
}
