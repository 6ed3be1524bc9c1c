//! No force ever left the noise, or only negative ones.

use serde::{Deserialize, Serialize};

use super::Limitation;
use crate::measure::{Answer, Response, Zeroed};

/// Why a record holds no reading of a hit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(
    missing_docs,
    reason = "the messages of words/en/limitation.ftl say it"
)]
pub enum NothingRead {
    /// A push may have been logged as a negative force.
    Negative {
        least_n: f64,
        greatest_n: f64,
    },
    AllEqual,
    BelowContactLevel {
        greatest_n: f64,
        level_n: f64,
    },
    BeyondCalculation,
}

/// The leaf never touched the gauge by this record, or the force goes further negative than positive.
#[must_use]
pub fn no_reading(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let (least_n, greatest_n) = record.range();
    let level_n = response.method.contact_level.get();
    let seen = if -least_n > greatest_n.max(level_n) {
        NothingRead::Negative {
            least_n,
            greatest_n,
        }
    } else if response.answer != Answer::NoContact {
        return None;
    } else if least_n == greatest_n {
        NothingRead::AllEqual
    } else {
        NothingRead::BelowContactLevel {
            greatest_n,
            level_n,
        }
    };
    Some(Limitation::NoReading { seen })
}
