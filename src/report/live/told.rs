//! What is said of one hit the moment it is there: its values, what is over, and why it must be made again.

use super::{Live, Repeat, because};
use crate::limitation::Limitation;
use crate::report::State;
use crate::report::place::{Place, state, together};
use crate::report::terminal::sign;
use crate::verdict::{Finding, RepeatReading, Standing, Verdict};
use crate::visit::{Assessment, Hit};
use crate::words::{Words, printed};

/// What is told of a hit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Told {
    /// Where and which hit.
    pub(super) place: String,
    /// The values that are over their limit by themselves.
    pub(super) over: Vec<String>,
    /// Why it must be made again.
    pub(super) again: Vec<Repeat>,
    /// The other values that a limit assesses, each with its limit.
    pub(super) values: Vec<String>,
    /// What else should be known.
    pub(super) remarks: Vec<String>,
}

impl Told {
    pub(super) fn of(words: &Words, live: &Live, hit: &Hit) -> Self {
        let assessment = &live.assessment;
        let readings = readings(assessment, hit);
        let (over, values): (Vec<_>, Vec<_>) = readings
            .iter()
            .partition(|(finding, repeat)| is_over(finding, repeat));
        Self {
            place: place(words, live, hit),
            over: over.into_iter().filter_map(|it| value(words, it)).collect(),
            again: again(assessment, hit),
            values: values
                .into_iter()
                .filter_map(|it| value(words, it))
                .collect(),
            remarks: remarks(words, assessment, hit, &readings),
        }
    }

    /// All of it in one line, what must be acted on first.
    pub(super) fn line(&self, words: &Words) -> String {
        let lead = |state, id, parts: String| {
            let parts = [("parts", parts.into())];
            format!("{} {}", sign(state), words.with(id, &parts))
        };
        let mut told = Vec::new();
        if !self.over.is_empty() {
            told.push(lead(State::Over, "live-told-over", joined(&self.over)));
        }
        if !self.again.is_empty() {
            told.push(lead(
                State::Undecided,
                "live-told-again",
                because(words, &self.again),
            ));
        }
        let plain = self.values.iter().chain(&self.remarks);
        told.extend(plain.map(|part| part.trim_end_matches('.').to_owned()));
        format!("{}: {}", self.place, told.join("; "))
    }

    /// What makes this news: the values are left out, because their printed digits follow those of the later hits.
    pub(super) fn gist(&self) -> (bool, &[Repeat], &[String]) {
        (!self.over.is_empty(), &self.again, &self.remarks)
    }
}

/// Where and which hit.
fn place(words: &Words, live: &Live, hit: &Hit) -> String {
    let fields = [
        ("place", live.place(words, &hit.point).into()),
        ("repeat", hit.repeat.into()),
    ];
    words.with("live-hit-at", &fields)
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
pub(super) fn again(assessment: &Assessment, hit: &Hit) -> Vec<Repeat> {
    let measurement = match &hit.measurement {
        Ok(measurement) => measurement,
        Err(why) => {
            return vec![Repeat::Unread {
                log: hit.file.clone(),
                not_measured: why.clone(),
            }];
        }
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
    let limited = |one: &Limitation| Repeat::Limited {
        limitation: one.clone(),
    };
    let limitations = measurement.limitations.iter().filter(matters);
    limitations.map(limited).collect()
}

/// The values over their limits at a place, each with its limit.
pub(super) fn values_over(words: &Words, place: &Place<'_>) -> String {
    let over = place.findings.iter().copied();
    let over: Vec<&Finding> = over
        .filter(|finding| finding.counts() && state(finding) == State::Over)
        .collect();
    let groups: Vec<String> = together(&over)
        .iter()
        .map(|group| group.values(words))
        .collect();
    words.list(&groups)
}

fn findings<'a>(assessment: &'a Assessment, hit: &Hit) -> impl Iterator<Item = &'a Finding> {
    let point = hit.point;
    let here = assessment.findings.iter();
    here.filter(move |finding| finding.counts() && finding.test_point == Some(point))
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

/// A reading with its limit.
fn value(words: &Words, (finding, repeat): &(&Finding, &RepeatReading)) -> Option<String> {
    let number = finding.printed_number(repeat.value.as_ref().ok()?.get());
    let id = match repeat.standing() {
        Standing::Full => "live-value",
        Standing::LowerBound => "live-value-at-least",
        Standing::EitherWay => "live-value-either-way",
    };
    let fields = [
        ("measure", words.fact(&finding.limit.measure).into()),
        ("value", printed(&number)),
        ("limit", finding.limit.value.into()),
        ("unit", finding.limit.unit().into()),
    ];
    Some(words.with(id, &fields))
}

fn remarks(
    words: &Words,
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
                let fields = [
                    ("measure", words.fact(&finding.limit.measure).into()),
                    ("why", words.fact(why).into()),
                ];
                remarks.push(words.with("live-no-value", &fields));
            }
        }
    }
    let planned = &assessment.planned;
    if planned.plan().is_some() && planned.repeats_at(&hit.point).is_none() {
        remarks.push(words.say("live-not-required").into_owned());
    }
    remarks
}
