//! A comparison of series → page, JSON and terminal text. Nothing here compares or decides: it shows what `compare` found.

mod distribution;
mod forest;
mod json;
mod needs;
mod overlay;
mod page;
mod terminal;
mod words;

use crate::compare::{Aspect, Bearing, Difference, Outcome, Series, Study};
use crate::words::Words;

#[cfg(feature = "schema")]
pub use {json::Document as CompareDocument, needs::Document as DesignDocument};

pub use json::compare_json;
pub use needs::{design_json, design_text};
pub use page::compare_page;
pub use terminal::compare_text;

/// Series compared with the first of them.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The series in order; the first is the reference.
    pub series: Vec<Series>,
    /// One for each series after the first.
    pub against: Vec<Against>,
    /// What was accepted in so many words.
    pub accepted: Vec<Aspect>,
    /// How far temperatures may lie apart, in °C.
    pub temperature_band_c: f64,
}

/// A series beside the reference.
#[derive(Clone, Debug)]
pub struct Against {
    /// What differs besides the version.
    pub differences: Vec<Difference>,
    /// What the hits show.
    pub study: Study,
}

impl Comparison {
    /// Differences that must be accepted and have not been.
    pub fn open(&self) -> impl Iterator<Item = (&Against, &Difference)> {
        let all = self.against.iter().flat_map(|it| {
            it.differences
                .iter()
                .map(move |difference| (it, difference))
        });
        all.filter(|(_, difference)| {
            difference.bearing == Bearing::MustBeAccepted
                && !self.accepted.contains(&difference.aspect)
        })
    }
}

/// What a comparison came to, in a sentence.
pub(super) fn outcome_text(words: &Words, study: &Study) -> String {
    let outcome = study.outcome();
    let mut fields = vec![
        ("before", study.before.as_str().into()),
        ("after", study.after.as_str().into()),
    ];
    let id = match &outcome {
        Outcome::NoMargin => "comparison-no-margin",
        Outcome::WorseBeyondMargin { places } => {
            let first = places.first().map(|place| words.fact(place));
            fields.push(("place", first.unwrap_or_default().into()));
            fields.push(("more", places.len().saturating_sub(1).into()));
            "comparison-worse"
        }
        Outcome::NotWorse => "comparison-not-worse",
        Outcome::Undecided { .. } => "comparison-undecided",
    };
    words.with(id, &fields)
}
