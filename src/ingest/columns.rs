//! Which column is what: from its head and its unit, or from what a person said; never from its numbers.

use super::dialect::Dialect;
use super::heads::Head;
use super::preamble::Preamble;
use super::units::Measured;
use super::words::{self, Named};
use super::{Answers, Ask, Channel, Question, ReadError, Role};
use crate::quantity::{ForceUnit, TimeUnit};

/// Where the instants come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Instants {
    /// A column of numbers, in a unit if it is known.
    Numbers(usize, Option<TimeUnit>),
    /// A column of clock stamps.
    Stamps(usize),
    /// A column that counts samples; the rate makes instants of it.
    Count(usize),
    /// The order of the rows; the rate makes instants of it.
    Rows,
}

/// A column that goes into the record beside time and force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Extra {
    pub(super) column: usize,
    pub(super) role: Role,
    /// What one of the log's unit is in mm, mm/s or A.
    pub(super) factor: f64,
}

/// A force column and the unit its numbers are in, where it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Force {
    pub(super) column: usize,
    pub(super) unit: Option<ForceUnit>,
}

/// What to read from each row.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    /// Columns whose sum is the force; empty where it has to be asked.
    pub(super) forces: Vec<Force>,
    pub(super) instants: Instants,
    pub(super) extras: Vec<Extra>,
    pub(super) quality: Option<usize>,
    pub(super) channels: Vec<Channel>,
    pub(super) questions: Vec<Question>,
    /// Remarks on units, as notices.
    pub(super) units: Vec<String>,
}

/// Assigns the columns.
pub(super) fn assign(
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
        channels: table.channels(),
        questions: Vec::new(),
        units: Vec::new(),
    };
    table.forces(answers, &mut plan)?;
    table.instants(answers, &mut plan)?;
    table.beside(&mut plan);
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

    /// What the heads are worth: their number must be that of the columns, but for remarks at the end of either.
    fn heads_fit(&self) -> bool {
        let (heads, width) = (self.dialect.heads.len(), self.dialect.width);
        match heads.cmp(&width) {
            std::cmp::Ordering::Equal => true,
            std::cmp::Ordering::Less => {
                heads > 0
                    && self.dialect.columns[heads..]
                        .iter()
                        .all(|column| !column.has_values())
            }
            std::cmp::Ordering::Greater => self.dialect.heads[width..].iter().all(|head| {
                head.text.is_empty()
                    || words::named(&head.name) == Named::Role(Role::Quality)
                    || head.text.chars().any(|letter| letter.is_ascii_digit())
            }),
        }
    }

    fn claim(&self, column: usize) -> Claim {
        let Some(head) = self.head(column) else {
            return Claim::None;
        };
        let named = words::named(&head.name);
        if matches!(named, Named::Torque | Named::Derived | Named::Date) {
            return Claim::None;
        }
        let other = matches!(named, Named::Role(role) if role != Role::Force);
        match (head.measured, named) {
            (Some(Measured::Force(_)), _) if !other => Claim::Unit,
            (Some(Measured::Weight(_) | Measured::Doubtful), Named::Role(Role::Force)) => {
                Claim::Unit
            }
            (Some(Measured::Weight(_)), Named::LetterF | Named::Unknown) => Claim::Weak,
            (None, Named::Role(Role::Force)) => Claim::Name,
            (None, Named::LetterF) => Claim::Weak,
            _ => Claim::None,
        }
    }

    fn forces(&self, answers: &Answers, plan: &mut Plan) -> Result<(), ReadError> {
        let columns = match &answers.force {
            Some(answer) => self.answered(answer)?,
            None => self.force_by_head(plan),
        };
        for column in columns {
            let unit = self.force_unit(column, answers, plan);
            plan.forces.push(Force { column, unit });
        }
        let unknown = plan.forces.iter().any(|force| force.unit.is_none());
        if unknown
            || (plan.forces.is_empty() && answers.force_unit.is_none() && !self.has_force_unit())
        {
            plan.questions.push(self.ask_force_unit(plan));
        }
        Ok(())
    }

    /// The one force column that the heads name, or a question.
    fn force_by_head(&self, plan: &mut Plan) -> Vec<usize> {
        let width = self.dialect.width;
        if width == 1 {
            let plain = self.head(0).is_none_or(|head| {
                matches!(words::named(&head.name), Named::Unknown | Named::LetterF)
                    && head.measured.is_none()
            });
            if plain || self.claim(0) != Claim::None {
                return vec![0];
            }
        }
        let claims: Vec<(usize, Claim)> = (0..width)
            .map(|column| (column, self.claim(column)))
            .filter(|(_, claim)| *claim != Claim::None)
            .collect();
        if self.heads_fit()
            && let [(column, claim)] = claims.as_slice()
        {
            if *claim == Claim::Weak {
                plan.questions.push(self.ask_force(&claims));
            }
            return vec![*column];
        }
        plan.questions.push(self.ask_force(&claims));
        Vec::new()
    }

    fn ask_force(&self, claims: &[(usize, Claim)]) -> Question {
        let text = if self.dialect.heads.is_empty() {
            format!("the log has {} columns without heads", self.dialect.width)
        } else if !self.heads_fit() {
            format!(
                "the log has {} heads over {} columns ({})",
                self.dialect.heads.len(),
                self.dialect.width,
                self.listed()
            )
        } else {
            match claims {
                [] => format!(
                    "no head names a measured force with a unit of force: {}",
                    self.listed()
                ),
                [(column, _)] => format!(
                    "the head `{}` alone does not say that column {} is a force",
                    self.text(*column),
                    column + 1
                ),
                several => {
                    let names: Vec<String> = several
                        .iter()
                        .map(|(column, _)| format!("{} `{}`", column + 1, self.text(*column)))
                        .collect();
                    format!(
                        "{} columns may be the force: {}",
                        several.len(),
                        names.join(", ")
                    )
                }
            }
        };
        Question {
            ask: Ask::ForceColumn,
            text,
            answer_with: "--force COLUMN (a name or a number from 1; A+B adds two)".to_owned(),
        }
    }

    fn text(&self, column: usize) -> &str {
        self.head(column).map_or("", |head| head.text.as_str())
    }

    /// The columns by number and name, for a message.
    fn listed(&self) -> String {
        const MOST: usize = 30;
        let mut names: Vec<String> = (0..self.dialect.width.min(MOST))
            .map(|column| match self.text(column) {
                "" => format!("{}", column + 1),
                text => format!("{} `{text}`", column + 1),
            })
            .collect();
        if self.dialect.width > MOST {
            names.push(format!("… {}", self.dialect.width));
        }
        names.join(", ")
    }

    /// The column or columns that a person named: a head as it stands, or a number from 1, or several joined by `+`.
    fn answered(&self, answer: &str) -> Result<Vec<usize>, ReadError> {
        if let Some(column) = self.one(answer)? {
            return Ok(vec![column]);
        }
        let mut columns = Vec::new();
        for part in answer.split('+') {
            let column = self.one(part)?.ok_or_else(|| ReadError::NoSuchColumn {
                line: self.dialect.first_line,
                asked: part.trim().to_owned(),
                columns: self.listed(),
            })?;
            if columns.contains(&column) {
                return Err(ReadError::ColumnTwice {
                    line: self.dialect.first_line,
                    asked: answer.to_owned(),
                });
            }
            columns.push(column);
        }
        Ok(columns)
    }

    fn one(&self, answer: &str) -> Result<Option<usize>, ReadError> {
        let answer = answer.trim();
        let exact = |head: &Head| head.text == answer;
        let name = |head: &Head| !head.name.is_empty() && head.name == answer;
        let lower = answer.to_lowercase();
        let any_case = |head: &Head| {
            head.text.to_lowercase() == lower
                || (!head.name.is_empty() && head.name.to_lowercase() == lower)
        };
        let tests: [&dyn Fn(&Head) -> bool; 3] = [&exact, &name, &any_case];
        for test in tests {
            let found: Vec<usize> = (0..self.dialect.width)
                .filter(|column| self.head(*column).is_some_and(test))
                .collect();
            match found.as_slice() {
                [] => {}
                [column] if self.heads_fit() => return Ok(Some(*column)),
                [column] => {
                    return Err(ReadError::HeadsDoNotFit {
                        line: self.dialect.first_line,
                        asked: answer.to_owned(),
                        heads: self.dialect.heads.len(),
                        width: self.dialect.width,
                        column: column + 1,
                    });
                }
                several => {
                    return Err(ReadError::ColumnNotUnique {
                        line: self.dialect.first_line,
                        asked: answer.to_owned(),
                        columns: several.iter().map(|column| column + 1).collect(),
                    });
                }
            }
        }
        Ok(answer
            .parse::<usize>()
            .ok()
            .filter(|number| (1..=self.dialect.width).contains(number))
            .map(|number| number - 1))
    }

    fn force_unit(&self, column: usize, answers: &Answers, plan: &mut Plan) -> Option<ForceUnit> {
        let head = self.head(column).filter(|_| self.heads_fit());
        let own = head.and_then(|head| match head.measured {
            Some(Measured::Force(unit)) => Some(unit),
            Some(Measured::Weight(unit)) => {
                let written = head.unit.clone().unwrap_or_default();
                plan.units.push(format!(
                    "column {} `{}`: `{written}` is read as {} (1 {written} = {} N)",
                    column + 1,
                    head.text,
                    unit.symbol(),
                    unit.newtons()
                ));
                Some(unit)
            }
            _ => None,
        });
        let declared = self.preamble.force_unit.as_ref();
        if let Some(answered) = answers.force_unit {
            let says = own.or(declared.map(|declared| declared.value));
            if says.is_some_and(|says| says != answered) {
                plan.units.push(format!(
                    "column {} `{}`: the log says {}, read as {} as answered by hand",
                    column + 1,
                    self.text(column),
                    says.map_or("", ForceUnit::symbol),
                    answered.symbol()
                ));
            }
            return Some(answered);
        }
        let blank = head.is_none_or(|head| head.unit.is_none());
        own.or_else(|| {
            let declared = declared.filter(|_| blank)?;
            plan.units.push(format!(
                "column {}: read in {}, which line {} declares",
                column + 1,
                declared.value.symbol(),
                declared.line
            ));
            Some(declared.value)
        })
    }

    /// Whether the log names a unit of force anywhere.
    fn has_force_unit(&self) -> bool {
        let of_force = |head: &Head| {
            matches!(
                head.measured,
                Some(Measured::Force(_) | Measured::Weight(_))
            )
        };
        self.preamble.force_unit.is_some() || self.dialect.heads.iter().any(of_force)
    }

    fn ask_force_unit(&self, plan: &Plan) -> Question {
        let without: Vec<String> = plan
            .forces
            .iter()
            .filter(|force| force.unit.is_none())
            .map(|force| {
                let unit = self
                    .head(force.column)
                    .and_then(|head| head.unit.as_deref());
                let found = unit.map_or_else(
                    || "has no unit".to_owned(),
                    |unit| format!("has the unit `{unit}`, which is not one unit of force"),
                );
                format!(
                    "column {} `{}` {found}",
                    force.column + 1,
                    self.text(force.column)
                )
            })
            .collect();
        let all: Vec<&str> = ForceUnit::ALL.iter().map(|unit| unit.symbol()).collect();
        Question {
            ask: Ask::ForceUnit,
            text: if without.is_empty() {
                "no head and no line names a unit of force".to_owned()
            } else {
                without.join(", ")
            },
            answer_with: format!("--force-unit UNIT ({})", all.join(", ")),
        }
    }
}

mod time;

pub(super) use time::plausible_unit;

impl Table<'_> {
    /// Position, speed, current and quality: by head and unit, where exactly one column has them.
    fn beside(&self, plan: &mut Plan) {
        if !self.heads_fit() {
            return;
        }
        for role in [Role::Position, Role::Speed, Role::Current] {
            let found: Vec<Extra> = (0..self.dialect.width)
                .filter(|column| !plan.forces.iter().any(|force| force.column == *column))
                .filter_map(|column| self.extra(column, role))
                .collect();
            if let [extra] = found.as_slice() {
                plan.extras.push(*extra);
            }
        }
        let mut quality = (0..self.dialect.width).filter(|column| {
            self.head(*column)
                .is_some_and(|head| words::named(&head.name) == Named::Role(Role::Quality))
        });
        plan.quality = match (quality.next(), quality.next()) {
            (Some(column), None) => Some(column),
            _ => None,
        };
    }

    fn extra(&self, column: usize, role: Role) -> Option<Extra> {
        let head = self.head(column)?;
        let named = words::named(&head.name);
        let is = |wanted| named == Named::Role(wanted);
        let factor = match (role, head.measured?) {
            (Role::Position, Measured::Length(unit)) if is(Role::Position) => unit.millimetres(),
            (Role::Speed, Measured::Speed(way, span))
                if is(Role::Speed) || named == Named::Unknown =>
            {
                way.millimetres() / span.seconds()
            }
            (Role::Current, Measured::Current(amperes))
                if is(Role::Current) || named == Named::Unknown =>
            {
                amperes
            }
            _ => return None,
        };
        Some(Extra {
            column,
            role,
            factor,
        })
    }

    /// Writes the roles into the list of channels.
    fn roles(&self, plan: &mut Plan) {
        for force in &plan.forces {
            plan.channels[force.column].role = Role::Force;
        }
        if let Instants::Numbers(column, _) | Instants::Stamps(column) = plan.instants {
            plan.channels[column].role = Role::Time;
        }
        for extra in &plan.extras {
            plan.channels[extra.column].role = extra.role;
        }
        if let Some(column) = plan.quality {
            plan.channels[column].role = Role::Quality;
        }
    }
}

impl Plan {
    /// The clock column in words.
    pub(super) fn channel_of_time(&self) -> String {
        match self.instants {
            Instants::Numbers(column, _) | Instants::Stamps(column) | Instants::Count(column) => {
                format!("column {} `{}`", column + 1, self.channels[column].name)
            }
            Instants::Rows => "the order of the rows".to_owned(),
        }
    }

    /// The force columns and their units in words.
    pub(super) fn force_words(&self) -> String {
        let parts: Vec<String> = self
            .forces
            .iter()
            .map(|force| {
                let name = &self.channels[force.column].name;
                let unit = force.unit.map_or("no unit", ForceUnit::symbol);
                format!("column {} `{name}` in {unit}", force.column + 1)
            })
            .collect();
        format!("force from {}", parts.join(" plus "))
    }
}
