//! What is said of one hit the moment it is there: its values, what is over, and why it must be made again.

use super::Live;
use crate::limitation::Limitation;
use crate::report::State;
use crate::report::place::{Place, state, together};
use crate::verdict::{Finding, RepeatReading, Standing, Verdict};
use crate::visit::{Assessment, Hit, NotMeasured};
use crate::words::{Language, Words};

/// What is told of a hit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Told {
    /// Where and which hit.
    pub(super) place: String,
    /// The values that are over their limit by themselves.
    pub(super) over: Vec<String>,
    /// Why it must be made again.
    pub(super) again: Vec<String>,
    /// The other values that a limit judges, each with its limit.
    pub(super) values: Vec<String>,
    /// What else should be known.
    pub(super) remarks: Vec<String>,
}

impl Told {
    pub(super) fn of(live: &Live, hit: &Hit) -> Self {
        let assessment = &live.assessment;
        let readings = readings(assessment, hit);
        let (over, values): (Vec<_>, Vec<_>) = readings
            .iter()
            .partition(|(finding, repeat)| is_over(finding, repeat));
        Self {
            place: format!("{}, hit {}", live.place(&hit.point), hit.repeat),
            over: over.into_iter().filter_map(value).collect(),
            again: again(assessment, hit),
            values: values.into_iter().filter_map(value).collect(),
            remarks: remarks(assessment, hit, &readings),
        }
    }

    /// All of it in one line, what must be acted on first.
    pub(super) fn line(&self) -> String {
        let parts = [
            ("▲ over the limit by itself: ", &self.over),
            ("◆ to be made again: ", &self.again),
            ("", &self.values),
            ("", &self.remarks),
        ];
        let told = parts.iter().filter(|(_, parts)| !parts.is_empty());
        let told: Vec<String> = told
            .map(|(lead, parts)| format!("{lead}{}", joined(parts)))
            .collect();
        format!("{}: {}", self.place, told.join("; "))
    }

    /// What makes this news: the values are left out, because their printed digits follow those of the later hits.
    pub(super) fn gist(&self) -> (bool, &[String], &[String]) {
        (!self.over.is_empty(), &self.again, &self.remarks)
    }
}

/// Texts as parts of one sentence.
pub(super) fn joined(parts: &[String]) -> String {
    let parts: Vec<&str> = parts
        .iter()
        .map(|part| part.trim_end_matches('.'))
        .collect();
    parts.join("; ")
}

/// Why a hit must be made again; empty where it need not be.
///
/// What keeps a record from showing a value that decides asks for another hit, unless that value is proved to be over anyway, or
/// the trouble is the gauge's, which another hit has too.
pub(super) fn again(assessment: &Assessment, hit: &Hit) -> Vec<String> {
    let measurement = match &hit.measurement {
        Ok(measurement) => measurement,
        Err(why) => return vec![unread(hit, why)],
    };
    let findings: Vec<&Finding> = findings(assessment, hit).collect();
    let matters = |one: &&Limitation| {
        let open = findings
            .iter()
            .filter(|finding| finding.verdict() != Verdict::Over);
        let mut bearing = open.map(|finding| finding.limit.measure);
        let bears = bearing.any(|measure| one.bears_on(measure));
        matches!(one, Limitation::Copy { .. }) || (bears && !one.is_of_the_gauge())
    };
    let limitations = measurement.limitations.iter().filter(matters);
    limitations
        .map(|one| Words::of(Language::English).said(one).whole())
        .collect()
}

/// The values over their limits at a place, each with its limit.
pub(super) fn values_over(place: &Place<'_>) -> String {
    let over = place.findings.iter().copied();
    let over: Vec<&Finding> = over
        .filter(|finding| finding.decides() && state(finding) == State::Over)
        .collect();
    let words = Words::of(Language::English);
    let groups: Vec<String> = together(&over)
        .iter()
        .map(|group| group.values(words))
        .collect();
    groups.join(", ")
}

fn unread(hit: &Hit, why: &NotMeasured) -> String {
    let words = why.words();
    match why {
        NotMeasured::Asks(_) => format!(
            "{words} (answer it in a recipe: `relent read {} --save-recipe FILE`, and name the file as [logs] recipe)",
            hit.file
        ),
        NotMeasured::Refused(_) => words,
    }
}

fn findings<'a>(assessment: &'a Assessment, hit: &Hit) -> impl Iterator<Item = &'a Finding> {
    let point = hit.point;
    let here = assessment.findings.iter();
    here.filter(move |finding| finding.decides() && finding.test_point == Some(point))
}

/// The findings that decide at the place of a hit, each with its reading of this hit.
fn readings<'a>(assessment: &'a Assessment, hit: &Hit) -> Vec<(&'a Finding, &'a RepeatReading)> {
    let file = hit.file.as_str();
    findings(assessment, hit)
        .filter_map(|finding| Some((finding, finding.repeats.iter().find(|one| one.log == file)?)))
        .collect()
}

fn is_over(finding: &Finding, repeat: &RepeatReading) -> bool {
    let over = finding.hits_over();
    over.iter()
        .any(|place| finding.repeats[*place].log == repeat.log)
}

/// A reading with its limit; a void one proves nothing and is not told.
fn value((finding, repeat): &(&Finding, &RepeatReading)) -> Option<String> {
    let number = finding.printed_number(repeat.value.ok()?.get());
    let (measure, unit) = (
        Words::of(Language::English).fact(&finding.limit.measure),
        finding.limit.unit(),
    );
    let number = match repeat.standing {
        Standing::Full => number,
        Standing::LowerBound => format!("≥ {number}"),
        Standing::Void => return None,
    };
    Some(format!(
        "{measure} {number} {unit} (limit {} {unit})",
        finding.limit.value
    ))
}

fn remarks(
    assessment: &Assessment,
    hit: &Hit,
    readings: &[(&Finding, &RepeatReading)],
) -> Vec<String> {
    let mut remarks = Vec::new();
    if let Ok(measurement) = &hit.measurement {
        let void = |repeat: &RepeatReading| {
            let mut all = measurement.limitations.iter();
            all.any(|one| repeat.limitations.contains(one))
        };
        for (finding, repeat) in readings {
            if let (Err(why), false) = (&repeat.value, void(repeat)) {
                remarks.push(format!(
                    "no {}: {}",
                    Words::of(Language::English).fact(&finding.limit.measure),
                    Words::of(Language::English).fact(why)
                ));
            }
        }
    }
    let planned = &assessment.planned;
    if planned.plan().is_some() && planned.repeats_at(&hit.point).is_none() {
        remarks.push(
            "the plan wants no hit at this place: if the name of the log is wrong, correct it"
                .to_owned(),
        );
    }
    remarks
}
