//! Checks and answers → what is in order, what is not, and what nobody looked at.

use serde::{Deserialize, Serialize};

use super::check::{Check, GivenBy, Rating, built_in};
use super::unit::Unit;
use crate::fact::Fact;
use crate::gate::{GateFile, Setting};
use crate::limits::{Bound, Motion};
use crate::quantity::Newton;
use crate::verdict::{self, Verdict};

/// What a gate file answers to a check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Answer {
    /// Nothing.
    None,
    /// Seen: right.
    Yes {
        /// What was remarked.
        remark: Option<String>,
    },
    /// Seen: not right.
    No {
        /// What was remarked.
        remark: Option<String>,
    },
    /// Measured.
    Value {
        /// The number.
        value: f64,
        /// Its unit.
        unit: Unit,
        /// The same in the unit of the check, where that is another.
        converted: Option<Converted>,
    },
    /// It does not apply here.
    NotApplicable {
        /// Why.
        reason: String,
    },
}

/// A value in the unit of its check.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Converted {
    /// The number.
    pub value: f64,
    /// The unit.
    pub unit: Unit,
}

/// An answer that is none.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum AnswerError {
    /// No check has this name.
    NoSuchCheck {
        /// The name.
        name: String,
        /// The answer.
        found: String,
    },
    /// The check is not for this leaf.
    OtherLeaf {
        /// Name of the check.
        name: String,
        /// The answer.
        found: String,
        /// How the leaf moves.
        motion: Motion,
    },
    /// The check takes a value with a unit.
    NoValue {
        /// Name of the check.
        name: String,
        /// What was found.
        found: String,
        /// The unit of the check.
        unit: Unit,
        /// The units that will do.
        units: Vec<Unit>,
    },
    /// The check takes yes or no.
    NeitherYesNorNo {
        /// Name of the check.
        name: String,
        /// What was found.
        found: String,
    },
}

impl AnswerError {
    /// The name under which the answer stands.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::NoSuchCheck { name, .. }
            | Self::OtherLeaf { name, .. }
            | Self::NoValue { name, .. }
            | Self::NeitherYesNorNo { name, .. } => name,
        }
    }
}

impl Fact for AnswerError {
    const FAMILY: &'static str = "answer-error";
}

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum CheckState {
    /// Seen and right, or measured and within what is permitted.
    InOrder,
    /// Seen and wrong, or measured and outside what is permitted.
    NotInOrder,
    /// No answer, or none that could be held against anything.
    NotChecked,
    /// Said not to apply, with the reason.
    NotApplicable,
}

impl Fact for CheckState {
    const FAMILY: &'static str = "check-state";
}

/// What an answer may be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Permitted {
    /// Yes.
    Yes,
    /// A value, in the unit of the check.
    Value {
        /// The least.
        at_least: Option<f64>,
        /// The greatest, itself permitted.
        at_most: Option<f64>,
        /// The value that is itself no longer permitted.
        below: Option<f64>,
        /// The unit of the check.
        unit: Unit,
    },
    /// It is not known: the rating that it goes by is not.
    Unknown {
        /// Why.
        no_rating: NoRating,
    },
}

/// Why a rating of the drive is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum NoRating {
    /// The gate file does not give `drive.rated_mass_kg`.
    NoMass,
    /// It does not give `drive.rated_pull_n`.
    NoPull,
    /// It gives neither.
    NoMassNorPull,
    /// The rating is in a unit that the unit of the check cannot be held against.
    OtherUnit {
        /// The unit of the rating.
        rating_unit: Unit,
        /// The unit of the check.
        unit: Unit,
    },
}

/// A check with its answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Checked {
    /// The check.
    #[serde(skip)]
    pub check: Check,
    /// The answer.
    pub answer: Answer,
    /// What it may be.
    pub permitted: Permitted,
}

/// The answer with what is permitted.
impl Fact for Checked {
    const FAMILY: &'static str = "checked";
}

/// The checks of a gate with their answers. How they stand follows from them and is stored nowhere.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Readiness {
    /// The checks that are for this leaf, in the order of the list.
    pub checks: Vec<Checked>,
    /// Answers that are none: each counts as not given.
    pub errors: Vec<AnswerError>,
}

/// Holds checks against the answers of a gate file.
#[must_use]
pub fn readiness(gate: &GateFile, checks: Vec<Check>) -> Readiness {
    let motion = gate.gate.motion;
    let mut errors = strangers(gate, &checks, motion);
    let checks = checks
        .into_iter()
        .filter(|check| check.motions.contains(&motion))
        .map(|check| {
            let answer = answer(gate, &check).unwrap_or_else(|error| {
                errors.push(error);
                Answer::None
            });
            let permitted = permitted(gate, &check);
            Checked {
                check,
                answer,
                permitted,
            }
        })
        .collect();
    Readiness { checks, errors }
}

/// Answers to checks that this leaf does not have.
fn strangers(gate: &GateFile, checks: &[Check], motion: Motion) -> Vec<AnswerError> {
    let answers = gate.readiness.iter().flat_map(|section| &section.answers);
    answers
        .filter_map(|(name, found)| {
            let known = checks.iter().find(|check| check.name == *name);
            let (name, found) = (name.clone(), found.to_string());
            match known {
                Some(check) if check.motions.contains(&motion) => None,
                Some(_) => Some(AnswerError::OtherLeaf {
                    name,
                    found,
                    motion,
                }),
                None => Some(AnswerError::NoSuchCheck { name, found }),
            }
        })
        .collect()
}

fn answer(gate: &GateFile, check: &Check) -> Result<Answer, AnswerError> {
    let section = gate.readiness.as_ref();
    let Some(given) = section.and_then(|section| section.answers.get(&check.name)) else {
        let given = check.given_by.zip(check.unit);
        let answer = given.and_then(|(GivenBy::LeafMass, own)| {
            value(gate.gate.leaf_mass?.get(), Unit::Kilogram, own)
        });
        return Ok(answer.unwrap_or(Answer::None));
    };
    let read = match (given, check.unit) {
        (Setting::Switch(true), None) => Some(Answer::Yes { remark: None }),
        (Setting::Switch(false), None) => Some(Answer::No { remark: None }),
        (Setting::Text(text), unit) => of_text(text, unit),
        _ => None,
    };
    read.ok_or_else(|| {
        let (name, found) = (check.name.clone(), given.to_string());
        match check.unit {
            Some(unit) => AnswerError::NoValue {
                name,
                found,
                unit,
                units: unit.alike(),
            },
            None => AnswerError::NeitherYesNorNo { name, found },
        }
    })
}

/// A value that can be held against a unit; `None` where the two do not measure the same, and for a value below 0.
fn value(value: f64, unit: Unit, own: Unit) -> Option<Answer> {
    let in_own = unit.convert(value, own).filter(|value| *value >= 0.0)?;
    let converted = (unit != own).then_some(Converted {
        value: in_own,
        unit: own,
    });
    Some(Answer::Value {
        value,
        unit,
        converted,
    })
}

fn of_text(text: &str, unit: Option<Unit>) -> Option<Answer> {
    let (word, remark) = match text.split_once(':') {
        Some((word, remark)) => (word.trim(), Some(remark.trim()).filter(|it| !it.is_empty())),
        None => (text.trim(), None),
    };
    let remark = remark.map(str::to_owned);
    match (word, unit) {
        ("not applicable", _) => remark.map(|reason| Answer::NotApplicable { reason }),
        ("yes", None) => Some(Answer::Yes { remark }),
        ("no", None) => Some(Answer::No { remark }),
        (_, Some(own)) => {
            let (number, given) = Unit::read(text)?;
            value(number, given, own)
        }
        (_, None) => None,
    }
}

fn permitted(gate: &GateFile, check: &Check) -> Permitted {
    let Some(unit) = check.unit else {
        return Permitted::Yes;
    };
    let rated = |rating: Option<Rating>| {
        let value = rating.map(|rating| rated_value(gate, check, rating, unit));
        value.transpose()
    };
    match (rated(check.at_most_of), rated(check.below_of)) {
        (Ok(at_most), Ok(below)) => Permitted::Value {
            at_least: check.at_least,
            at_most: at_most.or(check.at_most),
            below,
            unit,
        },
        (Err(no_rating), _) | (_, Err(no_rating)) => Permitted::Unknown { no_rating },
    }
}

fn rated_value(
    gate: &GateFile,
    check: &Check,
    rating: Rating,
    unit: Unit,
) -> Result<f64, NoRating> {
    let drive = gate.drive.as_ref();
    let mass = drive.and_then(|drive| drive.rated_mass);
    let pull = drive.and_then(|drive| drive.rated_pull);
    let (value, rating_unit) = match (rating, pull, mass) {
        (Rating::RatedMass, _, Some(mass)) => (mass.get(), Unit::Kilogram),
        (Rating::RatedMass, _, None) => return Err(NoRating::NoMass),
        (Rating::RatedPull, Some(pull), _) => (pull.get(), Unit::Newton),
        (Rating::RatedPull, None, Some(mass)) => {
            let share = check.share_of_rated_mass.ok_or(NoRating::NoPull)?;
            (share * mass.get(), Unit::KilogramForce)
        }
        (Rating::RatedPull, None, None) => return Err(NoRating::NoMassNorPull),
    };
    let other = NoRating::OtherUnit { rating_unit, unit };
    rating_unit.convert(value, unit).ok_or(other)
}

/// Where the force comes from that the drive is rated for to move the leaf by hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum RatedBy {
    /// It is given on the command line.
    CommandLine,
    /// The gate file gives it.
    GateFile,
    /// It is the share of the rated weight that the built-in checks take.
    ShareOfRatedMass,
}

impl Fact for RatedBy {
    const FAMILY: &'static str = "rated-by";
}

/// The force to move the leaf by hand that the drive is rated for, and where that comes from: the gate file, else the share
/// of the rated weight that the built-in checks take. `None` where the gate file gives neither.
#[must_use]
pub fn rated_pull(gate: &GateFile) -> Option<(Newton, RatedBy)> {
    let given = gate.drive.as_ref().and_then(|drive| drive.rated_pull);
    let mut checks = built_in().into_iter();
    let check = checks.find(|check| check.below_of == Some(Rating::RatedPull))?;
    let force = rated_value(gate, &check, Rating::RatedPull, Unit::Newton).ok()?;
    let by = match given {
        Some(_) => RatedBy::GateFile,
        None => RatedBy::ShareOfRatedMass,
    };
    Some((Newton(force), by))
}

impl Checked {
    /// How it stands.
    #[must_use]
    pub fn state(&self) -> CheckState {
        match (&self.answer, &self.permitted) {
            (Answer::Yes { .. }, _) => CheckState::InOrder,
            (Answer::No { .. }, _) => CheckState::NotInOrder,
            (Answer::NotApplicable { .. }, _) => CheckState::NotApplicable,
            (
                Answer::Value {
                    value, converted, ..
                },
                Permitted::Value {
                    at_least,
                    at_most,
                    below,
                    ..
                },
            ) => {
                let at_most = at_most.map(|most| (most, Bound::AtMost));
                let most = below.map(|most| (most, Bound::Below)).or(at_most);
                match verdict::held_against(
                    converted.map_or(*value, |it| it.value),
                    *at_least,
                    most,
                ) {
                    Verdict::Within => CheckState::InOrder,
                    Verdict::Over => CheckState::NotInOrder,
                    Verdict::Undecided => CheckState::NotChecked,
                }
            }
            (Answer::None | Answer::Value { .. }, _) => CheckState::NotChecked,
        }
    }
}

impl Readiness {
    /// The checks that stand like this.
    pub fn of(&self, state: CheckState) -> impl Iterator<Item = &Checked> {
        self.checks
            .iter()
            .filter(move |checked| checked.state() == state)
    }

    /// How all of it stands: one that is not in order decides; else one that nobody looked at, or an answer that is none.
    #[must_use]
    pub fn overall(&self) -> CheckState {
        if self.of(CheckState::NotInOrder).next().is_some() {
            CheckState::NotInOrder
        } else if self.checks.is_empty()
            || !self.errors.is_empty()
            || self.of(CheckState::NotChecked).next().is_some()
        {
            CheckState::NotChecked
        } else {
            CheckState::InOrder
        }
    }
}
