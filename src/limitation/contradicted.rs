//! A log that says something else of its day or its gauge than the gate file.

use jiff::civil::Date;

use super::Limitation;
use crate::trace::Trace;

/// The log is dated on another day than the visit, and not on one that the gate file accepts.
#[must_use]
pub fn other_day(trace: &Trace, visited_on: Date, accepted: &[Date]) -> Option<Limitation> {
    let days = &trace.provenance.as_ref()?.days;
    let known = |day: &Date| *day == visited_on || accepted.contains(day);
    let logged_on = *days.first()?;
    (!days.iter().any(known)).then_some(Limitation::OtherDay {
        logged_on,
        visited_on,
    })
}

/// The log names another gauge than the gate file, and none that it accepts. Blanks, marks and case do not count, nor what one of the two
/// adds to the number.
#[must_use]
pub fn other_gauge(trace: &Trace, serial: &str, accepted: &[String]) -> Option<Limitation> {
    let logged = &trace.provenance.as_ref()?.serials;
    let known = |logged: &String| {
        let all = accepted.iter().map(String::as_str);
        all.chain([serial]).any(|known| same(known, logged))
    };
    let first = logged.first()?;
    (!logged.iter().any(known)).then(|| Limitation::OtherGauge {
        logged_serial: first.clone(),
        gauge_serial: serial.to_owned(),
    })
}

fn same(one: &str, other: &str) -> bool {
    let bare = |text: &str| -> String {
        let letters = text.chars().filter(|c| c.is_alphanumeric());
        letters.flat_map(char::to_lowercase).collect()
    };
    let (one, other) = (bare(one), bare(other));
    one.contains(&other) || other.contains(&one)
}
