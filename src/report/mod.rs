//! A finished assessment → HTML, SVG, CSV, JSON and terminal text, as pure functions to bytes.
//!
//! Nothing here decides, compares with a limit or rounds an assessed value: it shows what the stages before found.

mod assessment_json;
mod budgets;
mod terminal;

pub mod archive;
pub mod bar;
pub mod cautions;
pub mod comparison;
pub mod curve;
pub mod elevation;
pub mod history;
pub mod hit;
pub mod label;
pub mod live;
pub mod mark;
pub mod multiples;
pub mod profiles;
pub mod style;

mod canvas;
mod detail;
mod envelope;
mod handover;
mod hit_words;
mod page;
mod place;
mod plan_sheet;
mod pull;
mod pull_plot;
mod pulse;
mod readiness;
mod scene;
mod section;
mod sentence;
mod sheet;

use serde::Serialize;
use thiserror::Error;

use crate::fact::Fact;

#[cfg(feature = "schema")]
pub use {
    assessment_json::Record as AssessmentDocument,
    comparison::{CompareDocument, DesignDocument},
    history::Document as HistoryDocument,
    plan_sheet::Document as PlanDocument,
    pull::Document as PullDocument,
    readiness::Document as ReadinessDocument,
};

pub use assessment_json::assessment_json;
pub use budgets::budgets;
pub use handover::unsafe_note;
pub use page::{Budgets, html};
pub use plan_sheet::PlanSheet;
pub use pull::{Model, PullSheet, Rated};
pub use readiness::{readiness_json, readiness_terminal};
pub use sheet::RecordDigest;
pub use terminal::{STYLES, terminal};

/// How a test point or a finding stands, as the report shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Within the limit.
    Within,
    /// Not tested: no record.
    NotTested,
    /// Neither within nor over can be shown.
    Undecided,
    /// Over the limit.
    Over,
}

impl Fact for State {
    const FAMILY: &'static str = "state";
}

impl State {
    /// Every state, in the order in which the report tells of them.
    pub(crate) const TOLD: [Self; 4] = [Self::Over, Self::Undecided, Self::NotTested, Self::Within];

    /// The class that the style sheet knows it by.
    #[must_use]
    pub const fn class(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::NotTested => "missing",
            Self::Undecided => "undecided",
            Self::Over => "over",
        }
    }
}

/// A drawing that could not be made.
#[derive(Debug, Error)]
#[error("the drawing of {what} could not be made")]
pub struct DrawingError {
    what: &'static str,
    #[source]
    source: Box<dyn std::error::Error + Send + Sync>,
}
