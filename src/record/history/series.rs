//! One limit at one test point over the visits.

use serde::Serialize;

use super::{Change, CopiedLog, NoTrend, Seen, Trend, trend};
use crate::limits::{Limit, TestPoint};
use crate::measure::Measure;
use crate::verdict::{Finding, Verdict};

/// What was read at one visit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reading {
    /// Place of the visit, from 0.
    pub visit: usize,
    /// Mean or greatest of the hits, as the limit assesses.
    pub value: f64,
    /// The value with the digits that fit it.
    pub printed: String,
    /// Its expanded uncertainty, where one can be given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expanded_uncertainty: Option<f64>,
    /// The evidence of that day is incomplete: the true value may be greater.
    pub lower_bound_only: bool,
    /// One of its logs is a copy of a log of an earlier visit.
    pub copied: bool,
    /// The verdict of that day.
    pub verdict: Verdict,
}

/// Visits between two changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// First and last visit, from 0.
    pub visits: (usize, usize),
    /// What moves, or why that is not said.
    pub trend: Result<Trend, NoTrend>,
}

/// One limit at one test point over the visits.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Series {
    /// The limit.
    pub limit: String,
    /// Its value.
    pub limit_value: f64,
    /// What is measured.
    pub measure: Measure,
    /// Unit of values and limit.
    pub unit: &'static str,
    /// Whether the limit counts for the verdict.
    pub decides: bool,
    /// Where.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub test_point: Option<TestPoint>,
    /// The readings in the order of the visits; a visit without one gave no value.
    pub readings: Vec<Reading>,
    /// Between the changes.
    #[serde(skip)]
    pub stretches: Vec<Stretch>,
}

impl Series {
    fn is_of(&self, finding: &Finding) -> bool {
        self.limit == finding.limit.name
            && self.limit_value.total_cmp(&finding.limit.value).is_eq()
            && self.test_point == finding.test_point
    }

    fn new(finding: &Finding) -> Self {
        let Limit {
            name,
            value,
            measure,
            ..
        } = &finding.limit;
        Self {
            limit: name.clone(),
            limit_value: *value,
            measure: *measure,
            unit: finding.limit.unit(),
            decides: finding.decides(),
            test_point: finding.test_point,
            readings: Vec::new(),
            stretches: Vec::new(),
        }
    }

    /// The last value as a share of the limit.
    fn share(&self) -> f64 {
        let last = self.readings.last();
        last.map_or(0.0, |reading| reading.value / self.limit_value)
    }
}

/// All series with a reading, those that decide before those that are shown, those nearest to their limit first.
pub(super) fn of(seen: &[Seen], changes: &[Change], copies: &[CopiedLog]) -> Vec<Series> {
    let mut all: Vec<Series> = Vec::new();
    for (visit, one) in seen.iter().enumerate() {
        for finding in &one.findings {
            let Some(mut reading) = reading(finding, visit) else {
                continue;
            };
            reading.copied = copies.iter().any(|copy| {
                copy.visit == visit && finding.repeats.iter().any(|it| it.log == copy.log)
            });
            match all.iter_mut().find(|series| series.is_of(finding)) {
                Some(series) => series.readings.push(reading),
                None => {
                    let mut series = Series::new(finding);
                    series.readings.push(reading);
                    all.push(series);
                }
            }
        }
    }
    for series in &mut all {
        series.stretches = stretches(series, seen, changes);
    }
    all.sort_by(|one, other| {
        other
            .decides
            .cmp(&one.decides)
            .then_with(|| other.share().total_cmp(&one.share()))
    });
    all
}

/// The reading of a finding. A change after that day takes nothing from what was read on it.
fn reading(finding: &Finding, visit: usize) -> Option<Reading> {
    let of_that_day = Finding {
        not_current: Vec::new(),
        ..finding.clone()
    };
    let value = of_that_day.value().ok().filter(|value| value.is_finite())?;
    Some(Reading {
        visit,
        value,
        printed: of_that_day.printed_number(value),
        expanded_uncertainty: of_that_day
            .budget
            .as_ref()
            .map(|budget| budget.expanded)
            .filter(|expanded| expanded.is_finite()),
        lower_bound_only: !of_that_day.complete(),
        copied: false,
        verdict: of_that_day.verdict(),
    })
}

fn stretches(series: &Series, seen: &[Seen], changes: &[Change]) -> Vec<Stretch> {
    let mut starts: Vec<usize> = changes
        .iter()
        .map(|change| change.before_visit)
        .filter(|visit| (1..seen.len()).contains(visit))
        .collect();
    starts.insert(0, 0);
    starts.dedup();
    let ends = starts.iter().skip(1).copied().chain([seen.len()]);
    let stretch = |(first, end): (usize, usize)| {
        let here: Vec<&Reading> = series
            .readings
            .iter()
            .filter(|reading| (first..end).contains(&reading.visit))
            .collect();
        let full: Vec<_> = here
            .iter()
            .filter(|reading| !reading.lower_bound_only && !reading.copied)
            .map(|reading| (seen[reading.visit].date, reading.value))
            .collect();
        // A change that is known and no visit has seen yet: what was found is not that of the gate as it is.
        let outdated = end == seen.len()
            && changes
                .iter()
                .any(|change| change.before_visit == seen.len());
        (!here.is_empty()).then(|| Stretch {
            visits: (first, end - 1),
            trend: trend(&full, series.limit_value).map(|trend| Trend {
                outlook: if end < seen.len() || outdated {
                    super::Outlook::ChangedSince
                } else {
                    trend.outlook
                },
                ..trend
            }),
        })
    };
    starts
        .iter()
        .copied()
        .zip(ends)
        .filter_map(stretch)
        .collect()
}
