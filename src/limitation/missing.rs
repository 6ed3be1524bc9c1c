//! Missing samples: rows lost, and jumps of the clock.

use super::{GROWING, INSTANTS, Kind, Limitation};
use crate::measure::{Measure, Response, Zeroed};
use crate::trace::Trace;

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
    let text = format!(
        "{rows} {} no usable force where it matters, the first in line {} (\"{}\"), so a higher force may have gone unseen. \
         Export the log again or repeat the hit.",
        if rows == 1 {
            "row of the log has"
        } else {
            "rows of the log have"
        },
        lost.line,
        lost.text
    );
    Some(evidence(Kind::LostSamples, text, record, response, &inside))
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
    let text = format!(
        "The clock of the log jumps {} where it matters, first at {:.4} s, by up to {:.1} ms, so samples are missing and a higher \
         force may have gone unseen. Repeat the hit, or export the log again without leaving out rows.",
        if inside.len() == 1 {
            "once".to_owned()
        } else {
            format!("{} times", inside.len())
        },
        times[first],
        longest * 1000.0
    );
    Some(evidence(Kind::ClockGap, text, record, response, &inside))
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

fn evidence(
    kind: Kind,
    text: String,
    record: &Zeroed<'_>,
    response: &Response,
    inside: &[usize],
) -> Limitation {
    let times = record.times();
    let spans = |instant: f64| {
        inside
            .iter()
            .any(|i| times[*i] <= instant && instant <= times[i + 1])
    };
    let mut voids = INSTANTS.to_vec();
    // A crossing inside a gap is only guessed at: what counts from it can show neither.
    if response
        .contact
        .as_ref()
        .is_ok_and(|contact| spans(contact.get()))
    {
        voids.extend([
            Measure::DynamicPeriod,
            Measure::StaticForce,
            Measure::ResidualForce,
            Measure::MeanDynamicForce,
        ]);
    } else if response
        .static_crossings
        .last()
        .is_some_and(|last| spans(last.get()))
    {
        voids.push(Measure::DynamicPeriod);
    }
    // The mean over a pulse may be higher or lower with the missing stretch.
    voids.push(Measure::EffectiveForce);
    let bounds = GROWING
        .into_iter()
        .filter(|measure| !voids.contains(measure))
        .collect();
    Limitation {
        kind,
        text,
        bounds,
        voids,
    }
}
