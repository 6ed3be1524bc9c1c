//! Hazards of a powered leaf that have no reading, and the smallest gaps that do not crush: data for the report.

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::{Motion, SourceKind};
use crate::fact::Fact;
use crate::toml_tree;

const TEXT: &str = include_str!("hazards.toml");

/// A hazard that a force gauge cannot read, or cannot read reliably.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnreadHazard {
    /// Its name. The message says what it is; its `.instead` why there is no reading, and what to do.
    pub name: String,
    /// Leaves that have it.
    pub motions: Vec<Motion>,
    /// How it is known.
    pub source: SourceKind,
}

impl Fact for UnreadHazard {
    const FAMILY: &'static str = "unread-hazard";

    fn fields(&self) -> Value {
        json!({ "code": self.name })
    }
}

/// A gap at which a part of the body is not crushed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MinimumGap {
    /// The part of the body.
    pub part: String,
    /// The gap in mm.
    pub gap_mm: f64,
    /// The document.
    pub reference: String,
    /// How it is known.
    pub source: SourceKind,
}

impl Fact for MinimumGap {
    const FAMILY: &'static str = "minimum-gap";
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tables {
    hazard: Vec<UnreadHazard>,
    minimum_gap: Vec<MinimumGap>,
}

/// The file is part of the crate and a test reads it; a fault in it shows as empty lists there.
fn tables() -> Tables {
    toml_tree::read(TEXT).unwrap_or(Tables {
        hazard: Vec::new(),
        minimum_gap: Vec::new(),
    })
}

/// The hazards without a reading of a leaf that moves like this.
#[must_use]
pub fn unread_hazards(motion: Motion) -> Vec<UnreadHazard> {
    let mut hazards = tables().hazard;
    hazards.retain(|hazard| hazard.motions.contains(&motion));
    hazards
}

/// The minimum gaps that apply below the smallest gap of a profile.
#[must_use]
pub fn minimum_gaps() -> Vec<MinimumGap> {
    tables().minimum_gap
}
