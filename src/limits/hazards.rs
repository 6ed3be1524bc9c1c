//! Hazards of a powered leaf that have no reading, and the smallest gaps that do not crush: data for the report.

use serde::Deserialize;

use super::{Motion, SourceKind};
use crate::toml_tree;

const TEXT: &str = include_str!("hazards.toml");

/// A hazard that a force gauge cannot read, or cannot read reliably.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnreadHazard {
    /// What it is, in plain words.
    pub hazard: String,
    /// Why there is no reading, and what to do instead.
    pub instead: String,
    /// Leaves that have it.
    pub motions: Vec<Motion>,
    /// How it is known.
    pub source: SourceKind,
}

/// A gap at which a part of the body is not crushed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
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
