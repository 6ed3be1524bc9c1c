//! The small bar of a finding: share of the limit, with the uncertainty drawn on it.

use maud::{Markup, html};

use super::State;
use super::canvas::{number, sheet};
use super::elevation::{block, line};
use crate::words::Words;

const WIDE: f64 = 104.0;
const HIGH: f64 = 16.0;
/// Share of the limit at the right end.
const FULL: f64 = 1.5;

/// A bar of a share of the limit, ± the expanded uncertainty as a share; the upright line is the limit. A longer bar ends in an arrow.
#[must_use]
pub fn bar(
    words: &Words,
    state: State,
    share: f64,
    uncertainty: Option<f64>,
    statement: &str,
) -> Markup {
    let x = |share: f64| 1.0 + (share.clamp(0.0, FULL) / FULL) * (WIDE - 8.0);
    let whisker = uncertainty.map(|u| (x(share - u), x(share + u)));
    let drawn = html! {
        (block("track", (1.0, 4.0), (WIDE - 8.0, 8.0)))
        (block(&format!("bar {}", state.class()), (1.0, 5.5), (x(share) - 1.0, 5.0)))
        @if share > FULL {
            path class={ "bar " (state.class()) } d=(format!("M{} 2 L{} 8 L{} 14 Z", number(WIDE - 7.0), number(WIDE - 1.0), number(WIDE - 7.0))) {}
        }
        @if let Some((low, high)) = whisker {
            (line("line", (low, 8.0), (high, 8.0)))
            (line("line", (low, 3.0), (low, 13.0)))
            (line("line", (high, 3.0), (high, 13.0)))
        }
        (line("thick", (x(1.0), 1.0), (x(1.0), 15.0)))
    };
    sheet((WIDE, HIGH), &words.say("report-share"), statement, &drawn)
}
