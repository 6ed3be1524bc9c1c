//! The gate file: what a person writes down about a gate, its drive, the gauge and the visit, and where the logs are.
//!
//! A new section is a struct in `sections`, a field of [`GateFile`] and, where its keys hang together with others, a
//! function in `check`. Its form (keys, kinds, words, bounds) is checked from the struct itself.

mod check;
mod form;
mod gaps;
mod handover;
mod history;
mod likely;
mod pattern;
mod place;
mod problem;
mod readiness;
mod schema;
#[cfg(feature = "schema")]
mod schema_of_structs;
mod sections;
mod warning;

pub mod names;

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::limits::Direction;
use crate::measure::{GaugeFacts, Zeroing};
use crate::toml_tree::Tree;

pub use crate::toml_tree::Spot;
pub use gaps::Gap;
pub use handover::{HandoverSection, Shown};
pub use history::{DatedCertificate, EventKind, EventOrder, EventSection};
pub use likely::Slip;
pub use pattern::{Field, Pattern, PatternError};
pub use place::Place;
pub use problem::{Bounds, Found, GateError, Kind, MOST_PROBLEMS, Problem, Wanted};
pub use readiness::ReadinessSection;
pub use schema::schema;
#[cfg(feature = "schema")]
pub use schema_of_structs::schema_of_structs;
pub use sections::{
    AssessmentSection, Certificate, ChosenPoint, Decision, DriveSection, EdgeSection, GateSection,
    GaugeSection, ListedLog, LogsSection, OpeningSide, Schema, Setting, VisitSection, VoidLog,
};
pub use warning::Warning;

/// A commented gate file of an invented gate, to start from.
pub const TEMPLATE: &str = include_str!("template.toml");

/// A gate file, as it is written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", schemars(title = "relent gate file"))]
pub struct GateFile {
    /// Version of the keys of this file.
    pub schema: Schema,
    /// The leaf and its surroundings.
    pub gate: GateSection,
    /// The drive and how it is set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drive: Option<DriveSection>,
    /// The edge or bumper on the leaf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge: Option<EdgeSection>,
    /// The force gauge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge: Option<GaugeSection>,
    /// The visit on which the hits were logged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub visit: Option<VisitSection>,
    /// Against what and by which rule the findings are decided.
    pub assessment: AssessmentSection,
    /// What was changed on the gate or the gauge, with its day: a change after the visit makes its findings not current.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub events: Vec<EventSection>,
    /// Test points that the tester has chosen, besides those that the profile prescribes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<ChosenPoint>,
    /// Where the logs are and which hit each one holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub logs: Option<LogsSection>,
    /// What was found on the gate before it was driven.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub readiness: Option<ReadinessSection>,
    /// What the owner was shown and given, and what comes next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handover: Option<HandoverSection>,
}

/// A gate file that was read, with what looks odd in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// The gate file.
    pub file: GateFile,
    /// What looks odd, though it can be worked with.
    pub warnings: Vec<(Warning, Spot)>,
}

/// Reads a gate file from its bytes.
///
/// # Errors
/// [`GateError`] with the problems that could be found in one go, each with its place.
///
/// # Example
/// ```
/// let read = relent::gate::read(relent::gate::TEMPLATE.as_bytes()).unwrap();
/// assert_eq!(read.file.assessment.profile, "en12453-2017");
/// ```
pub fn read(bytes: &[u8]) -> Result<Read, GateError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|error| GateError::not_utf8(bytes, &error))?;
    let tree = Tree::parse(text).map_err(|faults| GateError::syntax(text, faults))?;
    let form = form::Form::of(tree.root(), schema());
    let (mut problems, mut warnings) = (form.problems, form.warnings);
    let file = match tree.read() {
        Ok(file) => file,
        Err(fault) if problems.is_empty() => return Err(GateError::syntax(text, vec![fault])),
        Err(_) => return Err(GateError::new(text, problems)),
    };
    check::check(&file, &tree, &mut problems, &mut warnings);
    if !problems.is_empty() {
        return Err(GateError::new(text, problems));
    }
    warnings.sort_by_key(|(_, span)| span.start);
    let warnings = warnings
        .into_iter()
        .take(MOST_PROBLEMS)
        .map(|(warning, span)| (warning, Spot::new(text, span)))
        .collect();
    Ok(Read { file, warnings })
}

impl GateFile {
    /// The folder of the logs of a gate that lies in this folder.
    #[must_use]
    pub fn logs_folder(&self, gate_folder: &Path) -> PathBuf {
        let section = self.logs.as_ref();
        match section.and_then(|logs| logs.folder.as_deref()) {
            Some(folder) => gate_folder.join(folder),
            None => gate_folder.to_owned(),
        }
    }

    /// What the gauge and the drive say that a measure of a hit in this direction needs.
    #[must_use]
    pub fn gauge_facts(&self, direction: Direction) -> GaugeFacts {
        let gauge = self.gauge.as_ref();
        GaugeFacts {
            spring_rate: gauge.and_then(|gauge| gauge.spring_rate),
            zeroing: match gauge.and_then(|gauge| gauge.zeroes_itself) {
                Some(true) => Zeroing::BySelf,
                Some(false) | None => Zeroing::NotDeclared,
            },
            declared_speed: self.drive.as_ref().and_then(|drive| match direction {
                Direction::Closing => drive.closing_speed,
                Direction::Opening => drive.opening_speed,
            }),
        }
    }
}
