//! Missing samples: rows lost, and jumps of the clock.

use serde::{Deserialize, Serialize};

use super::Limitation;
use crate::measure::{Response, Zeroed};
use crate::trace::Trace;

/// What a missing stretch hides, so that what counts from there is only guessed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Hidden {
    /// The instant of contact.
    Contact,
    /// The last crossing of the static level.
    LastCrossing,
}

/// Rows without a usable force that matter, see `matters`.
#[must_use]
pub fn lost_samples(trace: &Trace, record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let inside: Vec<usize> = lost_intervals(trace)
        .filter(|i| matters(record, response, *i))
        .collect();
    let rows = trace
        .lost
        .iter()
        .filter(|lost| lost.after.is_some_and(|after| inside.contains(&after)))
        .count();
    let lost = trace
        .lost
        .iter()
        .find(|lost| lost.after.is_some_and(|after| inside.contains(&after)))?;
    Some(Limitation::LostSamples {
        rows,
        line: lost.line,
        found: lost.text.clone(),
        hides: hidden(record, response, &inside),
    })
}

/// Steps of the clock that are too long for the record's rate and matter, see `matters`.
#[must_use]
pub fn clock_gap(trace: &Trace, record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let lost: Vec<usize> = lost_intervals(trace).collect();
    let inside: Vec<usize> = record
        .gaps()
        .iter()
        .copied()
        .filter(|i| !lost.contains(i) && matters(record, response, *i))
        .collect();
    let first = *inside.first()?;
    let times = record.times();
    let longest = inside
        .iter()
        .map(|i| times[i + 1] - times[*i])
        .fold(0.0, f64::max);
    Some(Limitation::ClockGap {
        gaps: inside.len(),
        first_s: times[first],
        longest_ms: longest * 1000.0,
        hides: hidden(record, response, &inside),
    })
}

fn lost_intervals(trace: &Trace) -> impl Iterator<Item = usize> + '_ {
    let last = trace.len() - 1;
    trace
        .lost
        .iter()
        .filter_map(|lost| lost.after)
        .filter(move |after| *after < last)
}

/// A missing stretch matters from the sample before contact to the end of the record, and before that if it is long enough
/// to hide a contact: three of the steps beside it.
fn matters(record: &Zeroed<'_>, response: &Response, gap: usize) -> bool {
    let times = record.times();
    let contact = response
        .touches
        .first()
        .map_or(0.0, |touch| touch.from.get());
    let after_contact = times[gap + 1] >= contact;
    let step = match gap {
        0 => times.get(2).map_or(f64::INFINITY, |t| t - times[1]),
        _ => times[gap] - times[gap - 1],
    };
    after_contact || times[gap + 1] - times[gap] >= 2.5 * step
}

fn hidden(record: &Zeroed<'_>, response: &Response, inside: &[usize]) -> Option<Hidden> {
    let times = record.times();
    let spans = |instant: f64| {
        inside
            .iter()
            .any(|i| times[*i] <= instant && instant <= times[i + 1])
    };
    let last = response.static_crossings.last();
    if response.contact.is_ok_and(|contact| spans(contact.get())) {
        Some(Hidden::Contact)
    } else {
        last.filter(|last| spans(last.get()))
            .map(|_| Hidden::LastCrossing)
    }
}
