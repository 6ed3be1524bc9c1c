//! The slow path: one line at a time, with everything that the fast path does not take, and a word about each oddity.

use std::borrow::Cow;

use super::table::{Table, Why};
use crate::ingest::layout::columns::{Force, Instants, Plan};
use crate::ingest::layout::dialect::Dialect;
use crate::ingest::layout::heads::Head;
use crate::ingest::layout::sample;
use crate::ingest::layout::shape;
use crate::ingest::layout::words::Named;
use crate::ingest::tokens::cells::{self, Cells, Line, Lines, Quotes, shown};
use crate::ingest::tokens::number;
use crate::ingest::tokens::units::{self, Measured};
use crate::ingest::{Kind, Noticed, Role};
use crate::quantity::ForceUnit;

mod force;
mod row;
mod unit;
mod waiting;

/// What one row gives.
enum Cell {
    Number(f64),
    /// Empty, or a word for nothing.
    Missing,
    NotFinite(String),
    Bad(String),
}

/// The slow path over one log.
pub(in crate::ingest) struct Slow<'a> {
    text: &'a [u8],
    dialect: &'a Dialect,
    plan: &'a Plan,
    factors: Vec<f64>,
    /// The unit of the force in the rows before.
    unit: Option<ForceUnit>,
    /// Lines of text since the last row: remarks if more rows follow, a footer if not.
    pending: Vec<Pending>,
    wide: usize,
    doubts: usize,
    /// Whether the row has more numbers than columns, so that none of them is known to be the force.
    damaged: bool,
    /// Number of the line after the last blank one.
    after_blank: u64,
    /// Labels with a number that stood above rows, and that number.
    labels: Vec<(String, u64)>,
    /// The digits after the seconds of the row, where they have a column of their own.
    fraction: Option<f64>,
    /// The run of the last row, as the column of the runs has it.
    run: Option<Cow<'a, [u8]>>,
}

/// A line of text whose meaning depends on what follows.
struct Pending {
    line: u64,
    text: String,
    /// Whether it is a damaged row rather than words: it has a force where the others have theirs, or as many cells as they
    /// have, or it begins like a number. Its place in the order of the rows is kept for it.
    damaged: bool,
    /// Samples before it.
    samples_before: usize,
}

/// Most lines that wait for what follows.
const MOST_PENDING: usize = 64;

/// How many lines after other heads are looked at for rows.
const SOON: usize = 8;

/// Most lines that one quoted cell may go over.
const QUOTED_LINES: usize = 16;

impl<'a> Slow<'a> {
    pub(in crate::ingest) fn new(text: &'a [u8], dialect: &'a Dialect, plan: &'a Plan) -> Self {
        Self {
            text,
            dialect,
            plan,
            unit: plan.forces.first().and_then(|force| force.unit),
            factors: plan.forces.iter().map(Force::factor).collect(),
            pending: Vec::new(),
            wide: 0,
            doubts: 0,
            damaged: false,
            after_blank: 0,
            labels: waiting::labels(&text[..dialect.first_byte]),
            fraction: None,
            run: None,
        }
    }

    /// Reads one line; returns how many lines after it belonged to it.
    pub(in crate::ingest) fn line(&mut self, line: Line<'a>, table: &mut Table) -> usize {
        let trimmed = number::trim(line.text);
        if trimmed.is_empty() {
            table.blank_line();
            self.after_blank = line.number + 1;
            return 0;
        }
        let mut cells: Cells<'a> = Vec::with_capacity(self.dialect.width);
        let quotes = cells::split(line.text, self.dialect.delimiter, &mut cells);
        if self.is_head(&cells) {
            self.data_goes_on(table);
            table.heads_again.push(table.times.len());
            table
                .notices
                .add(Kind::Head, Some(line.number), || Noticed::HeadsAgain {
                    found: shown(trimmed),
                });
            return 0;
        }
        if let Some((unit, sure)) = self.other_unit(trimmed, &cells) {
            self.data_goes_on(table);
            self.change_unit(line.number, shown(trimmed), (unit, sure), table);
            return 0;
        }
        if self.is_unit_row(&cells) {
            return 0;
        }
        if self.is_other_head(&cells) && self.rows_follow(line) {
            table.other_heads = Some((line.number, shown(trimmed)));
            return 0;
        }
        if shape::is_remark(trimmed, self.dialect.delimiter) {
            self.name_run(&shown(trimmed), table.times.len(), table);
            table
                .notices
                .add(Kind::Remark, Some(line.number), || Noticed::Remark {
                    found: shown(trimmed),
                });
            return 0;
        }
        let mut more = 0;
        if quotes == Quotes::Open
            && let Some((joined, lines)) = self.over_lines(line)
        {
            cells = joined;
            more = lines;
            table
                .notices
                .add(Kind::Cell, Some(line.number), || Noticed::CellOverLines {
                    lines: lines + 1,
                });
        }
        self.row(line, cells, table);
        more
    }

    /// A record whose quoted cell goes over several lines, unless one of them is a row by itself.
    fn over_lines(&self, line: Line<'a>) -> Option<(Cells<'a>, usize)> {
        let mut cells = Vec::new();
        for next in Lines::new(self.text, line.start, line.number)
            .skip(1)
            .take(QUOTED_LINES)
        {
            let end = next.start + next.text.len();
            if end - line.start > 1 << 16 {
                return None;
            }
            cells::split(next.text, self.dialect.delimiter, &mut cells);
            let numbers = cells
                .iter()
                .filter(|cell| shape::kind(cell) != shape::Kind::Text);
            if numbers.count() * 2 > self.dialect.width && cells.len() == self.dialect.width {
                return None;
            }
            let record = &self.text[line.start..end];
            if cells::split(record, self.dialect.delimiter, &mut cells) == Quotes::Closed {
                let lines = usize::try_from(next.number - line.number).ok()?;
                return (cells.len() <= self.dialect.width).then_some((cells, lines));
            }
        }
        None
    }

    /// True for the heads of the log once more.
    fn is_head(&self, cells: &Cells<'_>) -> bool {
        let plain = |text: &str| {
            text.trim_start_matches(['#', '%', '!', '*'])
                .trim()
                .to_owned()
        };
        self.repeats(cells, |head, cell| head.text == plain(cell))
    }

    /// What one number of each force column is in newtons, from here on.
    pub(in crate::ingest) fn factors(&self) -> &[f64] {
        &self.factors
    }

    /// True for the row of the log's units once more.
    fn is_unit_row(&self, cells: &Cells<'_>) -> bool {
        self.repeats(cells, |head, cell| {
            head.unit.as_deref() == Some(units::bare(cell))
        })
    }

    /// Whether every cell that is not empty is the same as in the heads, and most heads have one.
    fn repeats(&self, cells: &Cells<'_>, same: impl Fn(&Head, &str) -> bool) -> bool {
        let heads = &self.dialect.heads;
        let filled = heads.iter().filter(|head| !head.text.is_empty()).count();
        let mut found = 0;
        for (cell, head) in cells.iter().zip(heads) {
            let text = String::from_utf8_lossy(number::trim(cell));
            if text.is_empty() {
                continue;
            }
            if !same(head, &text) {
                return false;
            }
            found += 1;
        }
        found * 2 > filled && filled > 0
    }

    /// True for heads that are not those of the log: words alone, with a time or a force among them.
    fn is_other_head(&self, cells: &Cells<'_>) -> bool {
        let filled = || cells.iter().filter(|cell| !number::trim(cell).is_empty());
        if self.dialect.width < 2
            || filled().count() < 2
            || filled().any(|cell| shape::kind(cell) != shape::Kind::Text)
        {
            return false;
        }
        filled().any(|cell| {
            let head = Head::new(&String::from_utf8_lossy(cell));
            let named = matches!(head.named, Named::Role(Role::Time | Role::Force));
            named || matches!(head.measured, Some(Measured::Time(_) | Measured::Force(_)))
        })
    }

    /// Whether rows of numbers follow soon after a line.
    fn rows_follow(&self, line: Line<'a>) -> bool {
        let mut cells = Vec::new();
        Lines::new(self.text, line.start, line.number)
            .skip(1)
            .take(SOON)
            .any(|next| {
                cells::split(next.text, self.dialect.delimiter, &mut cells);
                let values = |cell: &&Cow<'_, [u8]>| {
                    matches!(shape::kind(cell), shape::Kind::Number | shape::Kind::Stamp)
                };
                cells.iter().filter(values).count() >= 2
            })
    }

    fn row(&mut self, line: Line<'a>, mut cells: Cells<'a>, table: &mut Table) {
        self.damaged = false;
        self.fit_width(line, &mut cells, table);
        let torn = self.is_torn(line);
        let instant = self.whole_instant(&cells, table);
        let force = if self.damaged {
            Cell::Bad(shown(line.text))
        } else if torn {
            self.torn_force(line.number, &cells, table)
        } else {
            self.force(line.number, &cells, table)
        };
        self.extras(&cells, table);
        if self.is_words(&cells, &force) {
            self.wait(line, matches!(force, Cell::Number(_)), table);
            return;
        }
        match (instant, force) {
            (Cell::Number(time), Cell::Number(force)) => {
                self.data_goes_on(table);
                self.quality(line.number, &cells, table);
                self.change_run(&cells, table);
                let time = if self.plan.instants == Instants::Rows {
                    table.next_row()
                } else {
                    time
                };
                let sign = self.plan.direction.and_then(|column| cells.get(column));
                let force = match sign.and_then(|cell| sample::sign_of(cell)) {
                    Some(sign) => force.abs() * sign,
                    None => force,
                };
                table.fractions.extend(self.fraction);
                table.push(time, force, line.number);
            }
            (Cell::Number(_), bad) => {
                let full = cells.len() == self.dialect.width;
                let words = matches!(bad, Cell::Bad(_)) || !full;
                let counted = self.plan.instants.are_counted();
                if self.is_below(line) && (!full || words && counted || self.has_words(&cells)) {
                    self.wait(line, true, table);
                    return;
                }
                if self.plan.instants == Instants::Rows && words && self.only_text(&cells) {
                    self.wait(line, full, table);
                    return;
                }
                self.data_goes_on(table);
                self.lose_force(line.number, bad, table);
            }
            (Cell::Missing | Cell::NotFinite(_), Cell::Missing) => {}
            (Cell::Missing | Cell::NotFinite(_), Cell::Number(_)) => {
                self.data_goes_on(table);
                table
                    .notices
                    .add(Kind::Cell, Some(line.number), || Noticed::NoInstant {
                        column: self.plan.instants.column().map(|it| self.column(it)),
                    });
                table.lose(line.number, shown(line.text), Why::Instant);
            }
            (_, force) => self.wait(line, matches!(force, Cell::Number(_)), table),
        }
    }
}
