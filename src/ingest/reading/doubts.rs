//! What the rows leave in doubt once all of them are read: other tables, short rows, runs, counts.

use super::super::clock::Clocked;
use super::super::{Answers, Ask, Question, ReadError};
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
                text: format!(
                    "{short} rows have fewer cells between their blanks than the {} columns; which one is missing cannot be seen",
                    self.proposal.dialect.width
                ),
                answer_with: "--force COLUMN (the last cells are then taken as missing)".to_owned(),
            });
        }
    }

    /// Many rows with more numbers than columns are no accident either.
    pub(super) fn wide_rows(&mut self, answers: &Answers) {
        let (wide, rows) = (self.table.wide_rows, self.table.forces.len());
        if answers.force.is_none() && wide * OFTEN > rows {
            self.questions.push(Question {
                ask: Ask::ForceColumn,
                text: format!(
                    "{wide} of the rows have more numbers than the {} columns; which of them is the force cannot be seen",
                    self.proposal.dialect.width
                ),
                answer_with: "--force COLUMN (these rows are then lost)".to_owned(),
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
                text: format!(
                    "{} rows have no instant that can be read, the first on line {}: `{}`",
                    lost.len(),
                    first.line,
                    first.text
                ),
                answer_with: "--time COLUMN (these rows are then lost)".to_owned(),
            });
        }
    }

    /// Other heads between the rows begin another table: asked, or told where a person said which run to read.
    pub(super) fn other_heads(&mut self, answers: &Answers) {
        let Some((line, text)) = self.table.other_heads.take() else {
            return;
        };
        let seen = format!("line {line}: other heads begin another table: `{text}`");
        if answers.run.is_some() {
            let words = format!("{seen}; nothing from there on is read");
            self.table.notices.add("head", Some(line), || words);
            return;
        }
        self.questions.push(Question {
            ask: Ask::Run,
            text: seen,
            answer_with: "--run 1 (the rows before them alone)".to_owned(),
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
            let (line, text) = (declared.line, declared.text.clone());
            self.table.notices.add("count", Some(line), || {
                format!(
                    "`{text}` declares {} rows, but there are {rows}",
                    declared.value
                )
            });
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
            let lines: Vec<String> = bounds[1..runs]
                .iter()
                .take(SHOWN)
                .map(|at| self.table.line(*at).to_string())
                .collect();
            let more = if runs - 1 > SHOWN { " …" } else { "" };
            self.questions.push(Question {
                ask: Ask::Run,
                text: format!(
                    "the log holds {runs} runs: another one begins on line {}{more}",
                    lines.join(", ")
                ),
                answer_with: format!("--run N (1 to {runs})"),
            });
            return Ok(None);
        }
        Ok(Some(0))
    }
}
