//! A check as data, and the lists of them.

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use thiserror::Error;

use super::unit::Unit;
use crate::fact::Fact;
use crate::limits::{Motion, SourceKind};
use crate::toml_tree::{self, Fault};

const BUILT_IN: &str = include_str!("checks.toml");
const PAPERS: &str = include_str!("papers.toml");

/// One thing to look at before the gate is driven.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// The key under which the gate file answers it.
    pub name: String,
    /// Leaves it is for.
    #[serde(default = "every_motion")]
    pub motions: Vec<Motion>,
    /// What a check of the user's own asks, so that "yes" is right; a built-in one is asked by the message of its name.
    #[serde(default)]
    pub question: Option<String>,
    /// Unit of a measured check; a check without one is seen with the eye.
    #[serde(default)]
    pub unit: Option<Unit>,
    /// The least value that is permitted, in that unit.
    #[serde(default)]
    pub at_least: Option<f64>,
    /// The greatest value that is permitted, in that unit.
    #[serde(default)]
    pub at_most: Option<f64>,
    /// The rating up to which a value is permitted, itself included.
    #[serde(default)]
    pub at_most_of: Option<Rating>,
    /// The rating below which a value is permitted.
    #[serde(default)]
    pub below_of: Option<Rating>,
    /// Share of the drive's rated mass, as a weight, that stands in for a rated pull that is not given.
    #[serde(default)]
    pub share_of_rated_mass: Option<f64>,
    /// The key of the gate file that answers it by itself.
    #[serde(default)]
    pub given_by: Option<GivenBy>,
    /// Where it comes from: the code of a built-in source, or the user's text.
    pub reference: String,
    /// How that is known.
    pub source: SourceKind,
    /// What goes wrong otherwise, of a check of the user's own.
    #[serde(default)]
    pub why: Option<String>,
}

impl Check {
    /// Where it comes from.
    #[must_use]
    pub fn reference(&self) -> Reference<'_> {
        Reference {
            reference: &self.reference,
            source: self.source,
        }
    }
}

/// The question: the message of a built-in check, or the text of one of the user's own.
impl Fact for Check {
    const FAMILY: &'static str = "check";

    fn fields(&self) -> Value {
        match &self.question {
            None => json!(self.name),
            Some(question) => json!({ "code": "own", "question": question, "why": self.why }),
        }
    }
}

/// Where a check or a document comes from.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Reference<'a> {
    reference: &'a str,
    source: SourceKind,
}

impl Fact for Reference<'_> {
    const FAMILY: &'static str = "check-reference";
}

fn every_motion() -> Vec<Motion> {
    Motion::ALL.to_vec()
}

/// A rating of the drive that a value is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rating {
    /// Greatest mass of the leaf.
    RatedMass,
    /// Greatest force to move the leaf by hand.
    RatedPull,
}

/// A key of the gate file that answers a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum GivenBy {
    /// `gate.leaf_mass_kg`
    LeafMass,
}

/// Why a list of checks cannot be used.
#[derive(Clone, Debug, Error)]
pub enum CheckError {
    /// It is no TOML, or not of the form.
    #[error("{file}: {source}")]
    Form {
        /// The file.
        file: String,
        /// What is wrong, and where.
        source: Box<Fault>,
    },
    /// Two checks of one name.
    #[error("{file}: two checks are named {name:?}: a name answers one check")]
    Twice {
        /// The file.
        file: String,
        /// The name.
        name: String,
    },
    /// A check of the user's own that asks nothing.
    #[error("{file}: check {name:?} has no question")]
    NoQuestion {
        /// The file.
        file: String,
        /// The name.
        name: String,
    },
    /// A limit without a unit, or a unit without a limit.
    #[error(
        "{file}: check {name:?} needs a unit and a limit (at_least, at_most, at_most_of or below_of), or neither"
    )]
    HalfMeasured {
        /// The file.
        file: String,
        /// The name.
        name: String,
    },
    /// A limit that is no number.
    #[error("{file}: check {name:?} has a limit that is no finite number")]
    NotFinite {
        /// The file.
        file: String,
        /// The name.
        name: String,
    },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    check: Vec<Check>,
}

/// The built-in checks. The file is part of the crate and tests read it; a fault in it shows there as an empty list.
#[must_use]
pub fn built_in() -> Vec<Check> {
    more("checks.toml", BUILT_IN, Vec::new()).unwrap_or_default()
}

/// The checks of a file of one's own, after those already there.
///
/// # Errors
/// [`CheckError`]
pub fn parse(file: &str, text: &str, before: Vec<Check>) -> Result<Vec<Check>, CheckError> {
    let known = before.len();
    let checks = more(file, text, before)?;
    let mute = checks[known..]
        .iter()
        .find(|check| check.question.is_none());
    match mute {
        Some(check) => Err(CheckError::NoQuestion {
            file: file.to_owned(),
            name: check.name.clone(),
        }),
        None => Ok(checks),
    }
}

fn more(file: &str, text: &str, before: Vec<Check>) -> Result<Vec<Check>, CheckError> {
    let list: List = toml_tree::read(text).map_err(|source| CheckError::Form {
        file: file.to_owned(),
        source: Box::new(source),
    })?;
    let mut checks = before;
    for check in list.check {
        let (file, name) = (file.to_owned(), check.name.clone());
        if checks.iter().any(|known| known.name == name) {
            return Err(CheckError::Twice { file, name });
        }
        let numbers = [check.at_least, check.at_most, check.share_of_rated_mass];
        if numbers.iter().flatten().any(|number| !number.is_finite()) {
            return Err(CheckError::NotFinite { file, name });
        }
        let limited = check.at_least.is_some()
            || check.at_most.is_some()
            || check.at_most_of.is_some()
            || check.below_of.is_some();
        if limited != check.unit.is_some() {
            return Err(CheckError::HalfMeasured { file, name });
        }
        checks.push(check);
    }
    Ok(checks)
}

/// A document that belongs to a powered gate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Paper {
    /// Its name.
    pub name: String,
    reference: String,
    source: SourceKind,
}

impl Paper {
    /// Where it comes from that it is wanted.
    #[must_use]
    pub fn reference(&self) -> Reference<'_> {
        Reference {
            reference: &self.reference,
            source: self.source,
        }
    }
}

impl Fact for Paper {
    const FAMILY: &'static str = "paper";

    fn fields(&self) -> Value {
        json!(self.name)
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Papers {
    paper: Vec<Paper>,
}

/// The documents that belong to a powered gate. As with [`built_in`], a fault in the file shows as an empty list in the tests.
#[must_use]
pub fn papers() -> Vec<Paper> {
    toml_tree::read::<Papers>(PAPERS).map_or_else(|_| Vec::new(), |papers| papers.paper)
}
