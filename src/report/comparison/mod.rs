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

/// What a comparison came to, in words.
pub(super) fn outcome_words(study: &Study) -> String {
    let (before, after) = (&study.before, &study.after);
    match study.outcome() {
        Outcome::NoMargin => {
            format!("{after} beside {before}: no margin was given, so nothing is decided")
        }
        Outcome::WorseBeyond(places) => {
            let more = match places.len().saturating_sub(1) {
                0 => String::new(),
                more => format!(", and {more} more"),
            };
            let first = places.first().map_or("", String::as_str);
            format!("{after} is worse than {before} by more than the margin: {first}{more}")
        }
        Outcome::NotWorse => {
            format!("{after} is not worse than {before} by more than the margin, at any test point")
        }
        Outcome::Undecided(_) => {
            format!("Undecided: that {after} is not worse than {before} by the margin is not shown")
        }
    }
}
