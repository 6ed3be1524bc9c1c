//! A finding in a record: the limit, the readings, the budget and what follows. Every number stands under a key that ends in
//! its unit.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::limits::{SourceKind, TestPoint};
use crate::measure::{Measure, Unmeasured};
use crate::quantity::Quantity;
use crate::uncertainty::{Budget, Component, Distribution, Source};
use crate::verdict::{Finding, Interval, Reason, Remark, RepeatReading, Standing, Verdict};

/// Numbers under keys that end in their units.
pub type Numbers = BTreeMap<String, f64>;

/// One limit held against what was read at one test point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedFinding {
    /// Name of the limit, `<profile>/<readable-name>`.
    pub limit: String,
    /// How the limit is known.
    pub limit_source: SourceKind,
    /// Whether it counts for the verdict, or is shown only.
    pub decides: bool,
    /// Where; absent for a log without a test point.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub test_point: Option<TestPoint>,
    /// What is held against the limit.
    pub measure: Measure,
    /// `value`, `at_least`, `at_most` (absent: unlimited), `limit`, `expanded_uncertainty` and `spread` with the unit of the measure; `probability_of_conformity`.
    pub numbers: Numbers,
    /// The value as the report prints it, with digits that fit its uncertainty and never contradict the verdict; absent without one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub printed_value: Option<String>,
    /// Hits wanted there.
    pub wanted: usize,
    /// Whether all wanted hits are there and each stands for what it shows.
    pub complete: bool,
    /// The hits.
    pub readings: Vec<SealedReading>,
    /// Uncertainty of the value, line by line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget: Option<SealedBudget>,
    /// The verdict.
    pub verdict: Verdict,
    /// Why it is what it is where that does not follow from the value alone.
    pub reasons: Vec<Reason>,
    /// What must be told with it.
    pub remarks: Vec<Remark>,
}

/// One hit's reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedReading {
    /// The log it comes from.
    pub log: String,
    /// `value`, `at_least` and `at_most` with the unit of the measure; no `value` where there is none, no `at_most` where nothing bounds it.
    pub numbers: Numbers,
    /// Why there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unmeasured: Option<Unmeasured>,
    /// What it can prove.
    pub standing: Standing,
}

/// The uncertainty of a value, line by line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedBudget {
    /// The lines.
    pub components: Vec<SealedComponent>,
    /// `correction` and `combined` with the unit of the measure; `coverage_factor`; `degrees_of_freedom` unless infinite.
    pub numbers: Numbers,
    /// What could not be put into it.
    pub left_out: Vec<Source>,
}

/// One line of a budget.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedComponent {
    /// What it comes from.
    pub source: Source,
    /// How it is distributed.
    pub distribution: Distribution,
    /// `value` and `standard_uncertainty` with the unit of the measure; `divisor`; `degrees_of_freedom` unless infinite.
    pub numbers: Numbers,
}

impl SealedFinding {
    /// A finding as the record holds it.
    #[must_use]
    pub fn new(finding: &Finding) -> Self {
        let measure = finding.limit.measure;
        let expanded = finding.budget.as_ref().map(|budget| budget.expanded);
        let (least, most) = ends(finding.interval());
        Self {
            limit: finding.limit.name.clone(),
            limit_source: finding.limit.source,
            decides: finding.decides(),
            test_point: finding.test_point,
            measure,
            numbers: numbers([
                (with_unit("value", measure), finding.value().ok()),
                (with_unit("at_least", measure), least),
                (with_unit("at_most", measure), most),
                (with_unit("limit", measure), Some(finding.limit.value)),
                (with_unit("expanded_uncertainty", measure), expanded),
                (with_unit("spread", measure), finding.spread()),
                (
                    "probability_of_conformity".to_owned(),
                    finding.probability(),
                ),
            ]),
            printed_value: finding.printed_value(),
            wanted: finding.wanted,
            complete: finding.complete(),
            readings: finding
                .repeats
                .iter()
                .map(|repeat| SealedReading::new(repeat, measure))
                .collect(),
            budget: finding
                .budget
                .as_ref()
                .map(|budget| SealedBudget::new(budget, measure)),
            verdict: finding.verdict(),
            reasons: finding.reasons(),
            remarks: finding.remarks(),
        }
    }

    /// Its number of this name, in the unit of the measure.
    #[must_use]
    pub fn number(&self, name: &str) -> Option<f64> {
        self.numbers.get(&with_unit(name, self.measure)).copied()
    }

    /// The name of the limit without its profile.
    #[must_use]
    pub fn short_limit(&self) -> &str {
        self.limit
            .split_once('/')
            .map_or(&*self.limit, |(_, short)| short)
    }
}

impl SealedReading {
    fn new(repeat: &RepeatReading, measure: Measure) -> Self {
        let value = repeat.value.map(Quantity::get);
        let (least, most) = ends(repeat.interval);
        Self {
            log: repeat.log.clone(),
            numbers: numbers([
                (with_unit("value", measure), value.ok()),
                (with_unit("at_least", measure), least),
                (with_unit("at_most", measure), most),
            ]),
            unmeasured: value.err(),
            standing: repeat.standing(),
        }
    }
}

impl SealedBudget {
    fn new(budget: &Budget, measure: Measure) -> Self {
        let component = |one: &Component| SealedComponent {
            source: one.source,
            distribution: one.distribution,
            numbers: numbers([
                (with_unit("value", measure), Some(one.value)),
                ("divisor".to_owned(), Some(one.divisor)),
                (with_unit("standard_uncertainty", measure), Some(one.u)),
                ("degrees_of_freedom".to_owned(), Some(one.dof)),
            ]),
        };
        Self {
            components: budget.components.iter().map(component).collect(),
            numbers: numbers([
                (with_unit("correction", measure), Some(budget.correction)),
                (with_unit("combined", measure), Some(budget.combined)),
                ("coverage_factor".to_owned(), Some(budget.k)),
                ("degrees_of_freedom".to_owned(), Some(budget.dof)),
            ]),
            left_out: budget.left_out.clone(),
        }
    }
}

fn ends(interval: Interval) -> (Option<f64>, Option<f64>) {
    (Some(interval.at_least), Some(interval.at_most))
}

/// Those numbers that there are; JSON has no infinity and no NaN.
fn numbers<const N: usize>(all: [(String, Option<f64>); N]) -> Numbers {
    all.into_iter()
        .filter_map(|(key, value)| Some((key, value.filter(|it| it.is_finite())?)))
        .collect()
}

/// A name with the unit of a measure at its end, as the keys of the measures have it.
fn with_unit(name: &str, measure: Measure) -> String {
    format!("{name}_{}", measure.dimension().suffix())
}
