//! The findings and the logs of an assessment, gathered by test point: how each point stands and which finding decides there.

use super::State;
use super::sentence::capital;
use crate::limits::{Direction, Hazard, Motion, TestPoint};
use crate::measure::Measure;
use crate::verdict::{Finding, Reason, Standing, Verdict};
use crate::visit::{Assessment, Hit, Measurement};
use crate::words::Words;

/// A test point with all that is known of it.
pub(super) struct Place<'a> {
    pub(super) point: TestPoint,
    pub(super) findings: Vec<&'a Finding>,
    pub(super) hits: Vec<&'a Hit>,
}

/// Every wanted point and every point with a log: the wanted ones first, in the order of the plan.
pub(super) fn places(assessment: &Assessment) -> Vec<Place<'_>> {
    let plan = assessment.plan().into_iter().flat_map(|plan| &plan.points);
    let wanted = plan.map(|wanted| wanted.point);
    let found = assessment.hits.iter().map(|hit| hit.point);
    let mut points: Vec<TestPoint> = Vec::new();
    for point in wanted.chain(found) {
        if !points.contains(&point) {
            points.push(point);
        }
    }
    points
        .into_iter()
        .map(|point| Place::of(assessment, point))
        .collect()
}

impl From<Verdict> for State {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Within => Self::Within,
            Verdict::Over => Self::Over,
            Verdict::Undecided => Self::Undecided,
        }
    }
}

/// How a finding stands: a finding without any hit is not tested.
pub(super) fn state(finding: &Finding) -> State {
    if finding.repeats.is_empty() {
        State::NotTested
    } else {
        finding.verdict().into()
    }
}

/// The value with its unit as it is printed; "≥" before a value that is a lower bound only.
pub(super) fn printed(finding: &Finding) -> Option<String> {
    let value = finding.printed_value()?;
    Some(format!(
        "{} {}",
        with_bound(finding, &value),
        finding.limit.unit()
    ))
}

/// The value as it is printed, or that there is none.
pub(super) fn printed_or_none(words: &Words, finding: &Finding) -> String {
    printed(finding).unwrap_or_else(|| words.say("report-value-none").into_owned())
}

/// A printed value with what the true value may be, where the records, the gauge or missing hits leave that open.
pub(super) fn with_bound(finding: &Finding, value: &str) -> String {
    let Ok(number) = finding.value() else {
        return value.to_owned();
    };
    let interval = finding.interval();
    let least = finding.printed_number(interval.at_least);
    match (interval.standing(number), interval.at_most.is_finite()) {
        (Standing::Full, _) => value.to_owned(),
        (Standing::LowerBound, false) => format!("≥ {value}"),
        (_, false) => format!("{value} (≥ {least})"),
        (_, true) => format!(
            "{value} ({least} … {})",
            finding.printed_number(interval.at_most)
        ),
    }
}

impl<'a> Place<'a> {
    fn of(assessment: &'a Assessment, point: TestPoint) -> Self {
        Self {
            point,
            findings: assessment
                .findings
                .iter()
                .filter(|finding| finding.test_point == Some(point))
                .collect(),
            hits: assessment
                .hits
                .iter()
                .filter(|hit| hit.point == point)
                .collect(),
        }
    }

    /// The worst of the findings that decide; of equally bad ones that with the greatest share of its limit.
    pub(super) fn deciding(&self) -> Option<&'a Finding> {
        let share = |finding: &Finding| finding.share_of_limit().unwrap_or(0.0);
        let decide = self
            .findings
            .iter()
            .copied()
            .filter(|finding| finding.counts());
        decide.max_by(|a, b| state(a).cmp(&state(b)).then(share(a).total_cmp(&share(b))))
    }

    pub(super) fn state(&self) -> State {
        if self.hits.is_empty() {
            return State::NotTested;
        }
        self.deciding().map_or(State::Undecided, state)
    }

    pub(super) fn share(&self) -> Option<f64> {
        self.deciding()?.share_of_limit()
    }

    /// The deciding value with its unit, as the verdict prints it; in words where there is none, empty without a hit.
    pub(super) fn number(&self, words: &Words) -> String {
        match self.deciding() {
            _ if self.hits.is_empty() => String::new(),
            None => words.say("report-limit-none").into_owned(),
            Some(finding) => printed_or_none(words, finding),
        }
    }

    /// The hits that gave a measurement, with their place among all hits of the point.
    pub(super) fn measured(&self) -> Vec<(usize, &'a Hit, &'a Measurement)> {
        let hits = self.hits.iter().copied().enumerate();
        hits.filter_map(|(index, hit)| Some((index, hit, hit.measurement.as_deref().ok()?)))
            .collect()
    }

    /// The finding on a measure that decides, or else one that is shown.
    pub(super) fn finding(&self, measure: Measure) -> Option<&'a Finding> {
        let of = |finding: &&&Finding| finding.limit.measure == measure;
        let shown = self.findings.iter().find(of);
        self.findings
            .iter()
            .filter(|finding| finding.counts())
            .find(of)
            .or(shown)
            .copied()
    }
}

/// A test point in words, without its direction and part.
pub(super) fn gap_and_height(words: &Words, point: &TestPoint, motion: Motion) -> String {
    let (gap, place) = (point.gap_mm.into(), point.height_mm.into());
    if upright(motion) {
        words.with(
            "report-point-across",
            &[("gap_mm", gap), ("place_mm", place)],
        )
    } else {
        words.with("report-point", &[("gap_mm", gap), ("height_mm", place)])
    }
}

/// Leaves of which the gap is measured upwards and the place across the opening.
pub(super) fn upright(motion: Motion) -> bool {
    matches!(motion, Motion::Vertical | Motion::Boom)
}

/// Direction and part in words: the title of an elevation.
pub(super) fn view(words: &Words, direction: Direction, hazard: Hazard) -> String {
    capital(&words.with(
        "report-view",
        &[
            ("direction", words.fact(&direction).into()),
            ("hazard", words.fact(&hazard).into()),
        ],
    ))
}

/// The views of an assessment: each direction and part that has a point, with its points.
pub(super) fn views<'p, 'a>(
    places: &'p [Place<'a>],
) -> Vec<((Direction, Hazard), Vec<&'p Place<'a>>)> {
    let mut views: Vec<((Direction, Hazard), Vec<&'p Place<'a>>)> = Vec::new();
    for place in places {
        let key = (place.point.direction, place.point.hazard);
        match views.iter_mut().find(|(known, _)| *known == key) {
            Some((_, points)) => points.push(place),
            None => views.push((key, vec![place])),
        }
    }
    views
}

/// Findings at one test point that stand as they do for the same reasons.
pub(super) struct Together<'a> {
    pub(super) findings: Vec<&'a Finding>,
    pub(super) reasons: Vec<Reason>,
}

impl Together<'_> {
    /// The reasons as one text without a full stop at its end.
    pub(super) fn because(&self, words: &Words) -> String {
        if self.reasons.is_empty() {
            words.say("report-reason-none").into_owned()
        } else {
            joined(&words.facts(&self.reasons))
        }
    }

    /// What helps against the reasons, each advice once.
    pub(super) fn helps(&self, words: &Words) -> Vec<String> {
        let mut helps: Vec<String> = Vec::new();
        for reason in &self.reasons {
            let help = match reason {
                Reason::LowerBound { limitation, .. } | Reason::EitherWay { limitation, .. } => {
                    words.part(limitation, "help")
                }
                Reason::NotCurrent { not_current } => words.part(not_current, "help"),
                _ => None,
            };
            helps.extend(help.filter(|help| !helps.contains(help)));
        }
        helps
    }

    /// Each measure with its value and its limit.
    pub(super) fn values(&self, words: &Words) -> String {
        let one = |finding: &&Finding| {
            let limit = &finding.limit;
            words.with(
                "report-value-and-limit",
                &[
                    ("measure", words.fact(&limit.measure).into()),
                    ("value", printed_or_none(words, finding).into()),
                    ("limit", limit.value.into()),
                    ("unit", limit.unit().into()),
                ],
            )
        };
        words.list(&self.findings.iter().map(one).collect::<Vec<_>>())
    }
}

/// Sentences as one text without a full stop at its end.
pub(super) fn joined(sentences: &[String]) -> String {
    let open: Vec<&str> = sentences
        .iter()
        .map(|sentence| sentence.trim_end_matches('.'))
        .collect();
    open.join("; ")
}

/// Puts findings of the same test point and the same reasons together; the order is that of the first of each.
pub(super) fn together<'a>(findings: &[&'a Finding]) -> Vec<Together<'a>> {
    let mut groups: Vec<Together<'a>> = Vec::new();
    for finding in findings {
        let reasons = finding.reasons();
        let same = |group: &&mut Together<'a>| {
            group.reasons == reasons && group.findings[0].test_point == finding.test_point
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.findings.push(finding),
            None => groups.push(Together {
                findings: vec![finding],
                reasons,
            }),
        }
    }
    groups
}
