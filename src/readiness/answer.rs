//! Checks and answers → what is in order, what is not, and what nobody looked at.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::check::{Check, GivenBy, Rating, built_in};
use super::unit::Unit;
use crate::fact::Fact;
use crate::gate::{GateFile, Setting};
use crate::limits::{Bound, Motion};
use crate::quantity::Newton;
use crate::verdict::{self, Verdict};

/// What a gate file answers to a check.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Nothing.
    None,
    /// Seen: right, with a remark.
    Yes(Option<String>),
    /// Seen: not right, with a remark.
    No(Option<String>),
    /// Measured.
    Value(f64, Unit),
    /// It does not apply here, and why.
    NotApplicable(String),
}

/// An answer that is none.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("readiness.answers.{name} is {found}: expected {expected}")]
pub struct AnswerError {
    /// Name of the check.
    pub name: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
}

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
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

impl CheckState {
    /// The words of every output.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::InOrder => "in order",
            Self::NotInOrder => "not in order",
            Self::NotChecked => "not checked",
            Self::NotApplicable => "not applicable",
        }
    }
}

/// What a measured value may be, in the unit of its check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Permitted {
    /// The least.
    pub at_least: Option<f64>,
    /// The greatest, and whether it is itself permitted.
    pub most: Option<(f64, Bound)>,
}

/// A check with its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// The check.
    pub check: Check,
    /// The answer.
    pub answer: Answer,
    /// What is permitted, for a measured check; else why that is not known.
    pub permitted: Result<Option<Permitted>, String>,
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
            let expected = match known {
                Some(check) if check.motions.contains(&motion) => return None,
                Some(_) => format!("no answer, because the check is not for a {motion} leaf"),
                None => "the name of a check".to_owned(),
            };
            Some(AnswerError {
                name: name.clone(),
                found: format!("`{found}`"),
                expected,
            })
        })
        .collect()
}

fn answer(gate: &GateFile, check: &Check) -> Result<Answer, AnswerError> {
    let section = gate.readiness.as_ref();
    let Some(given) = section.and_then(|section| section.answers.get(&check.name)) else {
        return Ok(match check.given_by {
            Some(GivenBy::LeafMass) => gate.gate.leaf_mass.map_or(Answer::None, |mass| {
                Answer::Value(mass.get(), Unit::Kilogram)
            }),
            None => Answer::None,
        });
    };
    let wrong = |found: String| {
        AnswerError {
        name: check.name.clone(),
        found,
        expected: match check.unit {
            Some(unit) => format!(
                "a number of 0 or more with its unit ({}), as \"4 {unit}\", or \"not applicable: \" with the reason",
                unit.alike()
            ),
            None => "true or false, \"yes\" or \"no\" (a remark after a colon), or \"not applicable: \" with the reason"
                .to_owned(),
        },
    }
    };
    match (given, check.unit) {
        (Setting::Switch(true), None) => Ok(Answer::Yes(None)),
        (Setting::Switch(false), None) => Ok(Answer::No(None)),
        (Setting::Text(text), unit) => {
            in_words(text, unit).ok_or_else(|| wrong(format!("\"{text}\"")))
        }
        (other, _) => Err(wrong(other.to_string())),
    }
}

fn in_words(text: &str, unit: Option<Unit>) -> Option<Answer> {
    let (word, remark) = match text.split_once(':') {
        Some((word, remark)) => (word.trim(), Some(remark.trim()).filter(|it| !it.is_empty())),
        None => (text.trim(), None),
    };
    let remark = remark.map(str::to_owned);
    match (word, unit) {
        ("not applicable", _) => remark.map(Answer::NotApplicable),
        ("yes", None) => Some(Answer::Yes(remark)),
        ("no", None) => Some(Answer::No(remark)),
        (_, Some(unit)) => {
            let (number, given) = Unit::read(text)?;
            given.convert(number, unit).filter(|it| *it >= 0.0)?;
            Some(Answer::Value(number, given))
        }
        (_, None) => None,
    }
}

fn permitted(gate: &GateFile, check: &Check) -> Result<Option<Permitted>, String> {
    let Some(unit) = check.unit else {
        return Ok(None);
    };
    let mut most = check.at_most.map(|most| (most, Bound::AtMost));
    let rated = [
        (check.at_most_of, Bound::AtMost),
        (check.below_of, Bound::Below),
    ];
    for (rating, bound) in rated {
        if let Some(rating) = rating {
            most = Some((rated_value(gate, check, rating, unit)?, bound));
        }
    }
    Ok(Some(Permitted {
        at_least: check.at_least,
        most,
    }))
}

fn rated_value(gate: &GateFile, check: &Check, rating: Rating, unit: Unit) -> Result<f64, String> {
    let drive = gate.drive.as_ref();
    let mass = drive.and_then(|drive| drive.rated_mass);
    let (value, of) = match rating {
        Rating::RatedMass => (
            mass.map(crate::quantity::Kilogram::get)
                .ok_or("the gate file does not give drive.rated_mass_kg")?,
            Unit::Kilogram,
        ),
        Rating::RatedPull => match (drive.and_then(|drive| drive.rated_pull), mass) {
            (Some(pull), _) => (pull.get(), Unit::Newton),
            (None, Some(mass)) => {
                let share = check
                    .share_of_rated_mass
                    .ok_or("the gate file does not give drive.rated_pull_n")?;
                (share * mass.get(), Unit::KilogramForce)
            }
            (None, None) => {
                return Err(
                    "the gate file gives neither drive.rated_pull_n nor drive.rated_mass_kg"
                        .to_owned(),
                );
            }
        },
    };
    of.convert(value, unit)
        .ok_or_else(|| format!("the rating is in {of} and the check in {unit}"))
}

/// A number with up to six decimals and no idle zeros, so that what is printed stays on its side of a limit.
fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The force to move the leaf by hand that the drive is rated for, and where that comes from: the gate file, else the share
/// of the rated weight that the built-in checks take. `None` where the gate file gives neither.
#[must_use]
pub fn rated_pull(gate: &GateFile) -> Option<(Newton, String)> {
    let given = gate.drive.as_ref().and_then(|drive| drive.rated_pull);
    let mut checks = built_in().into_iter();
    let check = checks.find(|check| check.below_of == Some(Rating::RatedPull))?;
    let force = rated_value(gate, &check, Rating::RatedPull, Unit::Newton).ok()?;
    let source = if given.is_some() {
        "drive.rated_pull_n of the gate file".to_owned()
    } else {
        check.source
    };
    Some((Newton(force), source))
}

impl Permitted {
    /// What is permitted, in words.
    #[must_use]
    pub fn words(&self, unit: Unit) -> String {
        let least = self
            .at_least
            .map(|least| format!("at least {least} {unit}"));
        let most = self.most.map(|(most, bound)| {
            let word = match bound {
                Bound::AtMost => "at most",
                Bound::Below => "below",
            };
            format!("{word} {} {unit}", plain(most))
        });
        least.into_iter().chain(most).collect::<Vec<_>>().join(", ")
    }
}

impl Checked {
    /// How it stands.
    #[must_use]
    pub fn state(&self) -> CheckState {
        match &self.answer {
            Answer::None => CheckState::NotChecked,
            Answer::Yes(_) => CheckState::InOrder,
            Answer::No(_) => CheckState::NotInOrder,
            Answer::NotApplicable(_) => CheckState::NotApplicable,
            Answer::Value(number, given) => {
                let (Ok(Some(permitted)), Some(unit)) = (&self.permitted, self.check.unit) else {
                    return CheckState::NotChecked;
                };
                let Some(value) = given.convert(*number, unit) else {
                    return CheckState::NotChecked;
                };
                match verdict::held_against(value, permitted.at_least, permitted.most) {
                    Verdict::Within => CheckState::InOrder,
                    Verdict::Over => CheckState::NotInOrder,
                    Verdict::Undecided => CheckState::NotChecked,
                }
            }
        }
    }

    /// The answer in words, with what is permitted.
    #[must_use]
    pub fn words(&self) -> String {
        let with = |word: &str, remark: &Option<String>| match remark {
            Some(remark) => format!("{word}: {remark}"),
            None => word.to_owned(),
        };
        let permitted = match (&self.permitted, self.check.unit) {
            (Ok(Some(permitted)), Some(unit)) => format!("permitted: {}", permitted.words(unit)),
            (Err(why), _) => format!("what is permitted is not known: {why}"),
            (Ok(_), _) => String::new(),
        };
        match &self.answer {
            Answer::None if permitted.is_empty() => "no answer".to_owned(),
            Answer::None => format!("no value; {permitted}"),
            Answer::Yes(remark) => with("yes", remark),
            Answer::No(remark) => with("no", remark),
            Answer::NotApplicable(why) => why.clone(),
            Answer::Value(number, unit) => {
                let same = self.check.unit.filter(|own| own != unit);
                let own = same.and_then(|own| Some((unit.convert(*number, own)?, own)));
                let own = own.map_or_else(String::new, |(value, own)| {
                    format!(" ({} {own})", plain(value))
                });
                format!("{number} {unit}{own}; {permitted}")
            }
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

    /// How many checks stand how, in a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let states = [
            CheckState::NotInOrder,
            CheckState::NotChecked,
            CheckState::InOrder,
            CheckState::NotApplicable,
        ];
        let parts: Vec<String> = states
            .iter()
            .map(|state| (self.of(*state).count(), state.words()))
            .filter(|(count, _)| *count > 0)
            .map(|(count, words)| format!("{count} {words}"))
            .collect();
        format!("Of {} checks: {}.", self.checks.len(), parts.join(", "))
    }
}
