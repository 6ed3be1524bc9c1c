//! Why a question about two series of hits has no answer.

use serde::{Deserialize, Serialize};

use super::StatisticsError;
use crate::fact::Fact;

/// Why a question has no answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum NoAnswer {
    /// An instant read from the force and one read from the leaf's position are not the same instant.
    ReadFromDifferentThings,
    /// No test point has a value of it in both series.
    NoCommonValue,
    /// No test point of the pilot has two values of it.
    PilotTooSmall,
    /// The values of the pilot are all alike.
    PilotWithoutSpread,
    TooFew {
        found: usize,
        least: usize,
    },
    TooMany {
        found: usize,
        most: usize,
    },
    NotFinite,
    NoSpread,
    NotPaired {
        first: usize,
        second: usize,
    },
    OutOfRange {
        found: f64,
    },
    ConfidenceOutOfReach {
        wanted: f64,
        reachable: f64,
    },
    PowerOutOfReach {
        wanted: f64,
        reached: f64,
        most: u32,
    },
}

impl Fact for NoAnswer {
    const FAMILY: &'static str = "no-answer";
}

impl From<StatisticsError> for NoAnswer {
    fn from(error: StatisticsError) -> Self {
        use StatisticsError as Error;
        match error {
            Error::TooFew { found, least, .. } => Self::TooFew { found, least },
            Error::TooMany { found, most, .. } => Self::TooMany { found, most },
            Error::NotFinite { .. } => Self::NotFinite,
            Error::NoSpread { .. } => Self::NoSpread,
            Error::NotPaired { first, second } => Self::NotPaired { first, second },
            Error::OutOfRange { found, .. } => Self::OutOfRange { found },
            Error::ConfidenceOutOfReach { wanted, reachable } => {
                Self::ConfidenceOutOfReach { wanted, reachable }
            }
            Error::PowerOutOfReach {
                wanted,
                reached,
                most,
            } => Self::PowerOutOfReach {
                wanted,
                reached,
                most,
            },
        }
    }
}
