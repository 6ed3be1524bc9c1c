//! The channels beside time and force.

use super::{
    Answers, Ask, Doubt, Extra, Instants, Measured, Named, Noticed, Plan, Question, Role, Table,
    words,
};
use crate::ingest::layout::sample;

impl Table<'_> {
    /// Position, speed, current and quality: by head and unit, where exactly one column has them.
    pub(super) fn beside(&self, plan: &mut Plan) {
        if !self.heads_fit() {
            return;
        }
        let forces: Vec<usize> = plan.forces.iter().map(|force| force.column).collect();
        let clock = plan.instants.column();
        // What a person named as the clock or the force is not read as anything else, whatever its head says.
        let left: Vec<usize> = (0..self.dialect.width)
            .filter(|column| !forces.contains(column) && clock != Some(*column))
            .collect();
        for role in [Role::Position, Role::Speed, Role::Current] {
            let found: Vec<Extra> = left
                .iter()
                .filter_map(|column| self.extra(*column, role))
                .collect();
            if let [extra] = found.as_slice() {
                plan.extras.push(*extra);
            }
        }
        let mut runs = left.iter().copied().filter(|column| {
            self.head(*column)
                .is_some_and(|head| head.measured.is_none() && words::names_run(&head.name))
        });
        plan.run = match (runs.next(), runs.next()) {
            (Some(column), None) => Some(column),
            _ => None,
        };
        let mut quality = left.into_iter().filter(|column| {
            self.head(*column)
                .is_some_and(|head| head.named == Named::Role(Role::Quality))
        });
        plan.quality = match (quality.next(), quality.next()) {
            (Some(column), None) => Some(column),
            _ => None,
        };
    }

    /// The mark that most rows have.
    pub(super) fn marks(&self, plan: &mut Plan) {
        let column = plan
            .quality
            .and_then(|column| self.dialect.columns.get(column));
        plan.usual_mark = column.and_then(sample::Column::usual);
    }

    /// A column whose cells are words for push and pull: asked what they make of the sign.
    pub(super) fn direction(&self, answers: &Answers, plan: &mut Plan) {
        let mut seen = self.dialect.columns.iter();
        let Some(column) = seen.position(sample::Column::is_direction) else {
            return;
        };
        plan.direction = Some(column);
        plan.units.push(Noticed::SignByColumn {
            column: self.column(column),
        });
        if answers.sign.is_none() {
            plan.questions.push(Question {
                ask: Ask::Sign,
                doubt: Doubt::SignInColumn {
                    column: self.column(column),
                    found: self.dialect.columns[column]
                        .direction
                        .clone()
                        .unwrap_or_default(),
                },
            });
        }
    }

    fn extra(&self, column: usize, role: Role) -> Option<Extra> {
        let head = self.head(column)?;
        let named = head.named;
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
    pub(super) fn roles(&self, plan: &mut Plan) {
        for force in &plan.forces {
            plan.channels[force.column].role = Role::Force;
        }
        if let Instants::Numbers(column, _) | Instants::Stamps(column) = plan.instants {
            plan.channels[column].role = Role::Time;
        }
        if let Some(fraction) = plan.fraction {
            plan.channels[fraction.column].role = Role::Time;
        }
        for extra in &plan.extras {
            plan.channels[extra.column].role = extra.role;
        }
        if let Some(column) = plan.quality {
            plan.channels[column].role = Role::Quality;
        }
    }
}
