//! Which columns are the force, and in which unit.

use super::super::sample::Column;
use super::{
    Answers, Ask, Claim, Force, ForceUnit, Head, Measured, Named, Plan, Question, ReadError, Table,
};

impl Table<'_> {
    pub(super) fn forces(&self, answers: &Answers, plan: &mut Plan) -> Result<(), ReadError> {
        let columns = match &answers.force {
            Some(answer) => self.answered(answer)?,
            None => self.force_by_head(plan),
        };
        for column in columns {
            let unit = self.force_unit(column, answers, plan);
            let beside = self.dialect.columns.get(column + 1);
            let beside = beside.filter(|_| Head::holds_units(self.head(column + 1)));
            let unit_in = beside
                .and_then(Column::unit_of_the_one_before)
                .map(|_| column + 1);
            plan.forces.push(Force {
                column,
                unit,
                unit_in,
            });
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
                matches!(head.named, Named::Unknown | Named::LetterF) && head.measured.is_none()
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

    pub(super) fn text(&self, column: usize) -> &str {
        self.head(column).map_or("", |head| head.text.as_str())
    }

    /// The columns by number and name, for a message.
    pub(super) fn listed(&self) -> String {
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

    pub(super) fn one(&self, answer: &str) -> Result<Option<usize>, ReadError> {
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
        self.preamble.force_unit.is_some() || self.dialect.heads.iter().any(Head::has_force_unit)
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
