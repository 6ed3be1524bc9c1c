//! Which column is what: from its head and its unit, or from what a person said; never from its numbers.

use super::dialect::Dialect;
use super::heads::{self, Head};
use super::preamble::Preamble;
use super::words::{self, Named};
use crate::ingest::tokens::delimiter::Mark;
use crate::ingest::tokens::units::Measured;
use crate::ingest::{Answers, Ask, Channel, Doubt, Noticed, Question, ReadError, Role};
use crate::quantity::{ForceUnit, TimeUnit};
use crate::trace::{self, Column};

/// Where the instants come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) enum Instants {
    /// A column of numbers, in a unit if it is known.
    Numbers(usize, Option<TimeUnit>),
    /// A column of clock stamps.
    Stamps(usize),
    /// A column that counts samples; the rate makes instants of it.
    Count(usize),
    /// The order of the rows; the rate makes instants of it.
    Rows,
}

impl Instants {
    /// Whether no clock stands in the rows, but their order or a count of them.
    pub(in crate::ingest) const fn are_counted(self) -> bool {
        matches!(self, Self::Rows | Self::Count(_))
    }

    /// The column of the clock or the count.
    pub(in crate::ingest) const fn column(self) -> Option<usize> {
        match self {
            Self::Numbers(column, _) | Self::Stamps(column) | Self::Count(column) => Some(column),
            Self::Rows => None,
        }
    }
}

/// A column that goes into the record beside time and force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) struct Extra {
    pub(in crate::ingest) column: usize,
    pub(in crate::ingest) role: Role,
    /// What one of the log's unit is in mm, mm/s or A.
    pub(in crate::ingest) factor: f64,
}

/// A column with the digits after the seconds of the clock, and the unit of its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) struct Fraction {
    pub(in crate::ingest) column: usize,
    pub(in crate::ingest) unit: TimeUnit,
}

/// A force column and the unit its numbers are in, where it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::ingest) struct Force {
    pub(in crate::ingest) column: usize,
    pub(in crate::ingest) unit: Option<ForceUnit>,
    /// The column beside it with the unit of each of its numbers.
    pub(in crate::ingest) unit_in: Option<usize>,
    /// What the numbers are multiplied by, besides.
    pub(in crate::ingest) scale: f64,
}

impl Force {
    /// What one of its numbers is in newtons.
    pub(in crate::ingest) fn factor(&self) -> f64 {
        self.unit.map_or(1.0, ForceUnit::newtons) * self.scale
    }
}

/// What to read from each row.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Plan {
    /// Columns whose sum is the force; empty where it has to be asked.
    pub(in crate::ingest) forces: Vec<Force>,
    pub(in crate::ingest) instants: Instants,
    pub(in crate::ingest) extras: Vec<Extra>,
    pub(in crate::ingest) quality: Option<usize>,
    /// Whether a person said the unit of the force.
    pub(in crate::ingest) unit_answered: bool,
    /// The mark that most of the first rows have in the column of quality.
    pub(in crate::ingest) usual_mark: Option<String>,
    /// The column with the direction of the force.
    pub(in crate::ingest) direction: Option<usize>,
    /// The column with the digits after the seconds, where the clock is parted in two.
    pub(in crate::ingest) fraction: Option<Fraction>,
    /// The column with the number of the run.
    pub(in crate::ingest) run: Option<usize>,
    /// The decimal mark of each column.
    pub(in crate::ingest) decimal_marks: Vec<Mark>,
    pub(in crate::ingest) channels: Vec<Channel>,
    pub(in crate::ingest) questions: Vec<Question>,
    /// Remarks on units, as notices.
    pub(in crate::ingest) units: Vec<Noticed>,
}

/// Assigns the columns.
pub(in crate::ingest) fn assign(
    dialect: &Dialect,
    preamble: &Preamble,
    answers: &Answers,
) -> Result<Plan, ReadError> {
    let table = Table { dialect, preamble };
    let mut plan = Plan {
        forces: Vec::new(),
        instants: Instants::Rows,
        extras: Vec::new(),
        quality: None,
        unit_answered: answers.force_unit.is_some(),
        usual_mark: None,
        direction: None,
        fraction: None,
        run: None,
        decimal_marks: dialect.columns.iter().map(|column| column.mark).collect(),
        channels: table.channels(),
        questions: Vec::new(),
        units: Vec::new(),
    };
    table.forces(answers, &mut plan)?;
    table.instants(answers, &mut plan)?;
    table.beside(&mut plan);
    table.marks(&mut plan);
    table.direction(answers, &mut plan);
    table.decimal_marks(answers, &mut plan);
    table.roles(&mut plan);
    Ok(plan)
}

struct Table<'a> {
    dialect: &'a Dialect,
    preamble: &'a Preamble,
}

/// How well a head says that its column is a force.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Claim {
    /// Its unit is one of force.
    Unit,
    /// Its name is a word for force, and no unit speaks against it.
    Name,
    /// Only the letter F, or a unit of mass under an unknown name.
    Weak,
    None,
}

impl Table<'_> {
    fn head(&self, column: usize) -> Option<&Head> {
        self.dialect.heads.get(column)
    }

    fn column(&self, at: usize) -> Column {
        heads::column(&self.dialect.heads, at)
    }

    fn channels(&self) -> Vec<Channel> {
        (0..self.dialect.width)
            .map(|column| Channel {
                column: column + 1,
                name: self.head(column).map_or_else(String::new, |head| {
                    if head.name.is_empty() {
                        head.text.clone()
                    } else {
                        head.name.clone()
                    }
                }),
                unit: self.head(column).and_then(|head| head.unit.clone()),
                role: Role::Other,
            })
            .collect()
    }

    /// What the heads are worth: their number must be that of the columns, but for remarks at the end of either. Where a
    /// delimiter may stand inside a number, words beyond the heads may have been pushed there.
    fn heads_fit(&self) -> bool {
        let (heads, width) = (self.dialect.heads.len(), self.dialect.width);
        match heads.cmp(&width) {
            std::cmp::Ordering::Equal => true,
            std::cmp::Ordering::Less => {
                let shifts = self.dialect.may_group();
                heads > 0
                    && self.dialect.columns[heads..]
                        .iter()
                        .all(|column| !(column.has_values() || shifts && column.texts > 0))
            }
            std::cmp::Ordering::Greater => self.dialect.heads[width..].iter().all(|head| {
                head.text.is_empty()
                    || head.named == Named::Role(Role::Quality)
                    || head.text.chars().any(|letter| letter.is_ascii_digit())
            }),
        }
    }

    fn claim(&self, column: usize) -> Claim {
        let Some(head) = self.head(column) else {
            return Claim::None;
        };
        let named = head.named;
        if matches!(named, Named::Torque | Named::Derived | Named::Date) {
            return Claim::None;
        }
        let other = matches!(named, Named::Role(role) if role != Role::Force);
        match (head.measured, named) {
            (Some(Measured::Force(_)), _) if !other => Claim::Unit,
            (Some(Measured::Weight(_) | Measured::Doubtful), Named::Role(Role::Force))
            | (Some(Measured::Weight(_)), Named::LetterF) => Claim::Unit,
            (Some(Measured::Weight(_)), Named::Unknown) => Claim::Weak,
            (None, Named::Role(Role::Force)) => Claim::Name,
            (None, Named::LetterF) => Claim::Weak,
            (None, Named::Unknown) if head.unit.is_none() && words::names_gauge(&head.name) => {
                Claim::Weak
            }
            _ => Claim::None,
        }
    }
}

mod beside;
mod decimal_marks;
mod force;
mod time;

impl Plan {
    /// The decimal mark of a column.
    pub(in crate::ingest) fn decimal_mark(&self, column: usize) -> Mark {
        self.decimal_marks
            .get(column)
            .copied()
            .unwrap_or(Mark::Point)
    }

    /// A column as the record names it.
    pub(in crate::ingest) fn column(&self, at: usize) -> Column {
        let name = Some(self.channels[at].name.clone());
        Column {
            number: at + 1,
            name: name.filter(|name| !name.is_empty()),
        }
    }

    /// The force columns with their units, as the record names them.
    pub(in crate::ingest) fn force_columns(&self) -> Vec<trace::ForceColumn> {
        let known = |force: &Force| {
            let unit = force.unit?;
            Some(trace::ForceColumn {
                column: self.column(force.column),
                unit,
                unit_n: unit.newtons(),
            })
        };
        self.forces.iter().filter_map(known).collect()
    }
}
