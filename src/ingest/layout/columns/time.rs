//! Which column is the clock.

use super::{
    Answers, Ask, Doubt, Fraction, Instants, Measured, Named, Noticed, Plan, Question, ReadError,
    Role, Table, TimeUnit,
};

/// How well a column claims to be the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Claim {
    None,
    /// A name, without a unit.
    Name,
    /// A unit of time, or stamps.
    Sure,
}

impl Table<'_> {
    fn time_claim(&self, column: usize, plan: &Plan) -> Claim {
        let taken = plan.forces.iter().any(|force| force.column == column);
        let Some(seen) = self
            .dialect
            .columns
            .get(column)
            .filter(|seen| seen.has_values() && !taken)
        else {
            return Claim::None;
        };
        let Some(head) = self.head(column).filter(|_| self.heads_fit()) else {
            return if seen.is_stamps() {
                Claim::Sure
            } else {
                Claim::None
            };
        };
        let named = head.named;
        match (head.measured, named) {
            _ if seen.is_stamps() && named != Named::Date => Claim::Sure,
            (Some(Measured::Time(_)), Named::Role(Role::Time) | Named::Unknown | Named::Index) => {
                Claim::Sure
            }
            (None | Some(Measured::Doubtful), Named::Role(Role::Time)) => Claim::Name,
            _ => Claim::None,
        }
    }

    /// Chooses the clock, or asks.
    pub(super) fn instants(&self, answers: &Answers, plan: &mut Plan) -> Result<(), ReadError> {
        if let Some(answer) = &answers.time {
            let column = self.one(answer)?.ok_or_else(|| ReadError::NoSuchColumn {
                line: self.dialect.first_line,
                asked: answer.clone(),
                columns: self.listed(),
            })?;
            if plan.forces.iter().any(|force| force.column == column) {
                return Err(ReadError::ColumnTwice {
                    line: self.dialect.first_line,
                    asked: answer.clone(),
                });
            }
            plan.instants = self.clock(column, answers, plan);
            plan.fraction = self
                .parted(plan)
                .filter(|(whole, _)| *whole == column)
                .map(|it| it.1);
            return Ok(());
        }
        if let Some((whole, fraction)) = self.parted(plan) {
            plan.instants = self.clock(whole, answers, plan);
            plan.fraction = Some(fraction);
            return Ok(());
        }
        let claims: Vec<(usize, Claim)> = (0..self.dialect.width)
            .map(|column| (column, self.time_claim(column, plan)))
            .filter(|(_, claim)| *claim != Claim::None)
            .collect();
        let sure: Vec<usize> = claims
            .iter()
            .filter(|(_, claim)| *claim == Claim::Sure)
            .map(|(column, _)| *column)
            .collect();
        let chosen = match (sure.as_slice(), claims.as_slice()) {
            ([one], _) => Some(*one),
            ([], [(one, _)]) => Some(*one),
            (several, _) => self.elapsed(several),
        };
        match chosen {
            Some(column) => plan.instants = self.clock(column, answers, plan),
            None if claims.is_empty() => self.without_clock(answers, plan),
            None => plan.questions.push(Question {
                ask: Ask::TimeColumn,
                doubt: Doubt::SeveralTimes {
                    columns: claims.iter().map(|(at, _)| self.column(*at)).collect(),
                },
            }),
        }
        Ok(())
    }

    /// A column of whole seconds and the column beside it with the digits after them: `10:15:02`, `480`.
    fn parted(&self, plan: &Plan) -> Option<(usize, Fraction)> {
        let found = |column: usize| {
            let head = self.head(column + 1)?;
            let Some(Measured::Time(unit)) = head.measured else {
                return None;
            };
            let digits = head.name.is_empty() || head.named == Named::Role(Role::Time);
            let most = (1.0 / unit.seconds()).round();
            let clock = match self.head(column)?.measured {
                Some(Measured::Time(unit)) => unit == TimeUnit::Second,
                _ => true,
            };
            let (whole, fraction) = (
                &self.dialect.columns[column],
                &self.dialect.columns[column + 1],
            );
            (clock
                && digits
                && most > 1.0
                && self.time_claim(column, plan) != Claim::None
                && whole.is_whole_seconds()
                && fraction.is_below(most))
            .then_some((
                column,
                Fraction {
                    column: column + 1,
                    unit,
                },
            ))
        };
        let mut all = (0..self.dialect.width.saturating_sub(1)).filter_map(found);
        all.next().filter(|_| self.heads_fit())
    }

    /// The one column of numbers that rise beside columns of stamps: the time elapsed beside the time of day.
    fn elapsed(&self, sure: &[usize]) -> Option<usize> {
        let seen = |column: &usize| &self.dialect.columns[*column];
        let mut numbers = sure.iter().filter(|column| !seen(column).is_stamps());
        match (numbers.next(), numbers.next()) {
            (Some(only), None) if sure.len() > 1 && seen(only).rises => Some(*only),
            _ => None,
        }
    }

    fn clock(&self, column: usize, answers: &Answers, plan: &mut Plan) -> Instants {
        if self.dialect.columns[column].is_stamps() {
            return Instants::Stamps(column);
        }
        let head = self.head(column).filter(|_| self.heads_fit());
        let own = head.and_then(|head| match head.measured {
            Some(Measured::Time(unit)) => Some(unit),
            _ => None,
        });
        let says = own.or(self
            .preamble
            .time_unit
            .as_ref()
            .map(|declared| declared.value));
        if let (Some(says), Some(answered)) = (says, answers.time_unit)
            && says != answered
        {
            plan.units.push(Noticed::TimeUnitAnswered {
                column: self.column(column),
                logged: says,
                time_unit: answered,
            });
        }
        Instants::Numbers(column, answers.time_unit.or(says))
    }

    /// No column claims to be the clock: a count of samples or the order of the rows, with a rate.
    fn without_clock(&self, answers: &Answers, plan: &mut Plan) {
        let count = (0..self.dialect.width).find(|column| {
            self.dialect.columns[*column].counts
                && self.heads_fit()
                && self
                    .head(*column)
                    .is_some_and(|head| head.named == Named::Index)
        });
        plan.instants = count.map_or(Instants::Rows, Instants::Count);
        if answers.rate.is_some() || self.preamble.rate.is_some() {
            return;
        }
        if self.dialect.width > 1 && (self.dialect.heads.is_empty() || !self.heads_fit()) {
            plan.questions.push(Question {
                ask: Ask::TimeColumn,
                doubt: Doubt::NoTimeNamed {
                    width: self.dialect.width,
                },
            });
        } else {
            let doubt = if self.dialect.width == 1 {
                Doubt::OneColumnWithoutRate
            } else {
                Doubt::NoClock {
                    columns: self.columns(),
                }
            };
            plan.questions.push(Question {
                ask: Ask::SamplingRate,
                doubt,
            });
        }
    }
}
