//! Lines of text between rows: what they are is known only when it is known what follows.

use super::{MOST_PENDING, Pending, Slow};
use crate::ingest::layout::columns::Instants;
use crate::ingest::layout::words;
use crate::ingest::rows::table::{LostRow, Table, Why};
use crate::ingest::tokens::cells::{Line, shown};
use crate::ingest::tokens::number;
use crate::ingest::{Kind, Noticed};

impl Slow<'_> {
    /// Puts a line of text by until it is known what follows.
    pub(super) fn wait(&mut self, line: Line<'_>, damaged: bool, table: &mut Table) {
        if self.pending.len() == MOST_PENDING {
            let first = self.pending.remove(0);
            self.inside(first, table);
        }
        let trimmed = number::trim(line.text);
        let text = shown(trimmed);
        let row = damaged || number::begins_one(trimmed) || self.dialect.width == 1;
        let damaged = row && !words::names_run(&text) && !self.is_label(&text);
        if damaged && self.plan.instants == Instants::Rows {
            table.next_row();
        }
        self.pending.push(Pending {
            line: line.number,
            text,
            damaged,
            samples_before: table.times.len(),
        });
    }

    /// Whether a line stands right below a blank one, or below one that was put by.
    pub(super) fn is_below(&self, line: Line<'_>) -> bool {
        let after_pending = self.pending.last().map(|pending| pending.line + 1);
        self.after_blank == line.number || after_pending == Some(line.number)
    }

    /// Rows follow: the lines put by are no footer.
    pub(in crate::ingest) fn data_goes_on(&mut self, table: &mut Table) {
        for pending in std::mem::take(&mut self.pending) {
            self.inside(pending, table);
        }
    }

    /// A line of text between rows: a lost row if it is a damaged one, else a remark.
    fn inside(&mut self, pending: Pending, table: &mut Table) {
        let no_clock = self.plan.instants.are_counted();
        if pending.damaged {
            let found = || pending.text.clone();
            table.notices.add(Kind::Cell, Some(pending.line), || {
                if no_clock {
                    Noticed::NoRow { found: found() }
                } else {
                    Noticed::NoInstantInLine { found: found() }
                }
            });
            table.lost.push(LostRow {
                samples_before: pending.samples_before,
                line: pending.line,
                text: pending.text,
                why: if no_clock { Why::Force } else { Why::Instant },
            });
        } else {
            self.name_run(&pending.text, pending.samples_before, table);
            table
                .notices
                .add(Kind::Remark, Some(pending.line), || Noticed::Remark {
                    found: pending.text,
                });
        }
    }

    /// Notes that a line between rows names a run: by a word for one, or by the label of the rows before with another number.
    pub(super) fn name_run(&mut self, text: &str, samples: usize, table: &mut Table) {
        if self.is_label(text) || words::names_run(text) {
            table.named_runs.push(samples);
        }
        if let Some((words, number)) = label(text) {
            self.labels.retain(|(known, _)| *known != words);
            self.labels.push((words, number));
        }
    }

    /// Whether a text is the label of the rows before with another number.
    fn is_label(&self, text: &str) -> bool {
        label(text).is_some_and(|(words, number)| {
            self.labels
                .iter()
                .any(|(known, last)| *known == words && *last != number)
        })
    }

    /// The end of the log: the lines put by are its footer.
    pub(in crate::ingest) fn end(&mut self, table: &mut Table) {
        for pending in std::mem::take(&mut self.pending) {
            table
                .notices
                .add(Kind::Footer, Some(pending.line), || Noticed::Footer {
                    found: pending.text,
                });
        }
    }
}

/// A text of few words with one whole number, as its words and the number: `Test point P2`, `Hit;3`.
fn label(text: &str) -> Option<(String, u64)> {
    const LONGEST: usize = 60;
    if text.len() > LONGEST {
        return None;
    }
    let mut numbers = text
        .split(|c: char| !c.is_ascii_digit())
        .filter(|it| !it.is_empty());
    let (number, None) = (numbers.next()?.parse().ok()?, numbers.next()) else {
        return None;
    };
    let words: String = text
        .chars()
        .filter(|c| !c.is_ascii_digit())
        .flat_map(char::to_lowercase)
        .collect();
    (!words.contains(['.', '°', '%']) && words.contains(char::is_alphabetic))
        .then_some((words, number))
}

/// The labels of the last lines above the rows.
pub(super) fn labels(above: &[u8]) -> Vec<(String, u64)> {
    const LINES: usize = 4;
    let lines = above
        .rsplit(|byte| *byte == b'\n')
        .filter(|line| !number::trim(line).is_empty());
    lines
        .take(LINES)
        .filter_map(|line| label(&shown(number::trim(line))))
        .collect()
}
