//! Which columns are the force, and in which unit.

use super::{
    Answers, Ask, Claim, Column, Force, ForceUnit, Head, Measured, Named, Plan, Question,
    ReadError, Table,
};
use crate::ingest::layout::sample;
use crate::ingest::{Doubt, Noticed, UnclearColumn};

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
                .and_then(sample::Column::unit_of_the_one_before)
                .map(|_| column + 1);
            plan.forces.push(Force {
                column,
                unit,
                unit_in,
                scale: answers.scale.unwrap_or(1.0),
            });
            if answers.scale.is_none() && self.head(column).is_some_and(|head| head.scaled) {
                plan.questions.push(Question {
                    ask: Ask::Scale,
                    doubt: Doubt::FactorBesideUnit {
                        column: self.column(column),
                    },
                });
            }
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
        let doubt = if self.dialect.heads.is_empty() {
            Doubt::NoHeads {
                width: self.dialect.width,
            }
        } else if !self.heads_fit() {
            Doubt::HeadsDoNotFit {
                heads: self.dialect.heads.len(),
                width: self.dialect.width,
                columns: self.columns(),
            }
        } else {
            match claims {
                [] => Doubt::NoForceNamed {
                    columns: self.columns(),
                },
                [(column, _)] => Doubt::HeadSaysTooLittle {
                    column: self.column(*column),
                },
                several => Doubt::SeveralForces {
                    columns: several.iter().map(|(at, _)| self.column(*at)).collect(),
                },
            }
        };
        Question {
            ask: Ask::ForceColumn,
            doubt,
        }
    }

    /// The columns, the first of them where there are very many.
    pub(super) fn columns(&self) -> Vec<Column> {
        const MOST: usize = 30;
        let shown = 0..self.dialect.width.min(MOST);
        shown.map(|at| self.column(at)).collect()
    }

    /// The columns by number and name, for a complaint.
    pub(super) fn listed(&self) -> String {
        let named = self.columns().into_iter().map(|column| match column.name {
            Some(name) => format!("{} `{name}`", column.number),
            None => column.number.to_string(),
        });
        let mut names: Vec<String> = named.collect();
        if self.dialect.width > names.len() {
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
                plan.units.push(Noticed::UnitOfMass {
                    column: self.column(column),
                    found: head.unit.clone().unwrap_or_default(),
                    force_unit: unit,
                    unit_n: unit.newtons(),
                });
                Some(unit)
            }
            _ => None,
        });
        let declared = self.preamble.force_unit.as_ref();
        if let Some(answered) = answers.force_unit {
            let says = own.or(declared.map(|declared| declared.value));
            if let Some(logged) = says.filter(|says| *says != answered) {
                // A recipe is for a logger; of this log the log knows more.
                if answers.recipe.is_some() {
                    plan.questions.push(Question {
                        ask: Ask::ForceUnit,
                        doubt: Doubt::UnitContradicted {
                            column: self.column(column),
                            logged,
                            answered,
                        },
                    });
                }
                plan.units.push(Noticed::ForceUnitAnswered {
                    column: self.column(column),
                    logged,
                    force_unit: answered,
                });
            }
            return Some(answered);
        }
        let blank = head.is_none_or(|head| head.unit.is_none());
        own.or_else(|| {
            let declared = declared.filter(|_| blank)?;
            plan.units.push(Noticed::UnitDeclared {
                column: self.column(column),
                force_unit: declared.value,
                declared_line: declared.line,
            });
            Some(declared.value)
        })
    }

    /// Whether the log names a unit of force anywhere.
    fn has_force_unit(&self) -> bool {
        self.preamble.force_unit.is_some() || self.dialect.heads.iter().any(Head::has_force_unit)
    }

    fn ask_force_unit(&self, plan: &Plan) -> Question {
        let without = plan.forces.iter().filter(|force| force.unit.is_none());
        let unclear_columns: Vec<UnclearColumn> = without
            .map(|force| {
                let Column { number, name } = self.column(force.column);
                let unit = self.head(force.column).and_then(|head| head.unit.clone());
                UnclearColumn { number, name, unit }
            })
            .collect();
        Question {
            ask: Ask::ForceUnit,
            doubt: if unclear_columns.is_empty() {
                Doubt::NoForceUnit
            } else {
                Doubt::ForceUnitUnclear { unclear_columns }
            },
        }
    }
}
