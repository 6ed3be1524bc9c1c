//! Every limit held against the hits at every tested point.

use super::{Hit, Known, Measurement, Planned, current, facts};
use crate::gate::GateFile;
use crate::limits::{Assessed, Limit, Profile, TestPoint};
use crate::measure::Measure;
use crate::quantity::Dimension;
use crate::uncertainty::{self, PooledSpread, ReadingFacts, VisitScatter};
use crate::verdict::{Finding, NotCurrent, OddOne, RepeatReading, Standing, odd_one_out};

/// What all findings of a visit share.
struct Visit<'a> {
    tested: &'a [TestPoint],
    planned: &'a Planned,
    hits: &'a [Hit],
    /// What each hit's record says about its uncertainty, in the order of the hits; `None` for an unread log.
    facts: Vec<Option<ReadingFacts>>,
    gate: &'a GateFile,
    profile: &'a Profile,
    known: Known<'a>,
    not_current: Vec<NotCurrent>,
}

/// All findings, in the order of the tested points.
pub(super) fn findings(
    tested: &[TestPoint],
    planned: &Planned,
    hits: &[Hit],
    gate: &GateFile,
    profile: &Profile,
    known: Known<'_>,
) -> Vec<Finding> {
    let visit = Visit {
        tested,
        planned,
        hits,
        facts: hits
            .iter()
            .map(|hit| Some(facts::of_record(hit.measurement.as_deref().ok()?, gate)))
            .collect(),
        gate,
        profile,
        known,
        not_current: current::not_current(gate, profile),
    };
    let at = |point: &TestPoint| {
        let limits = profile.limits_at(gate.gate.motion, point).into_iter();
        let findings: Vec<Finding> = limits.map(|limit| visit.finding(limit, *point)).collect();
        findings
    };
    tested.iter().flat_map(at).collect()
}

impl Visit<'_> {
    fn here(&self, point: TestPoint) -> impl Iterator<Item = (usize, &Hit)> {
        let hits = self.hits.iter().enumerate();
        let mut here: Vec<(usize, &Hit)> = hits.filter(|(_, hit)| hit.point == point).collect();
        here.sort_by_key(|(_, hit)| hit.repeat);
        here.into_iter()
    }

    /// Hits required at a point; where none are, as many as the plan requires elsewhere, but no more than there are. Without any plan
    /// one: each hit has to hold by itself.
    fn wanted(&self, point: TestPoint, found: usize) -> usize {
        let elsewhere = || {
            let points = self.planned.plan().map_or(&[][..], |plan| &plan.points);
            let most = points.iter().map(|one| one.repeats).max();
            most.unwrap_or(1).min(found)
        };
        self.planned.repeats_at(&point).unwrap_or_else(elsewhere)
    }

    /// One limit held against the hits at one test point.
    fn finding(&self, limit: &Limit, point: TestPoint) -> Finding {
        let repeats: Vec<RepeatReading> = self
            .here(point)
            .map(|(index, hit)| hit.reading(index, limit, self.gate, self.known))
            .collect();
        let measured: Vec<(f64, &Measurement, &ReadingFacts)> = self
            .here(point)
            .zip(&repeats)
            .filter_map(|((index, hit), repeat)| {
                let value = repeat.value.ok()?.get();
                let measurement = hit.measurement.as_deref().ok()?;
                Some((value, measurement, self.facts[index].as_ref()?))
            })
            .collect();
        let wanted = self.wanted(point, repeats.len());
        let mut values: Vec<f64> = measured.iter().map(|(value, ..)| *value).collect();
        if limit.assessed == Assessed::Mean {
            // The scatter of the hits that are required: no further one makes it smaller.
            values.truncate(wanted);
        }
        let facts: Vec<ReadingFacts> = measured
            .iter()
            .map(|(_, measurement, facts)| facts::of_reading(facts, measurement, limit.measure))
            .collect();
        let (scatter, place) = self.scatter(limit.measure, point);
        Finding {
            limit: limit.clone(),
            test_point: Some(point),
            wanted,
            odd_one: odd_one(&repeats, &scatter, place),
            repeats,
            rule: self.gate.assessment.rule(),
            budget: uncertainty::budget(
                limit.measure,
                limit.assessed,
                &values,
                &facts,
                &facts::gauge_accuracy(self.gate),
                facts::spring_band(self.profile),
                scatter.with(place).or_else(|| {
                    self.scatter_of_one(&scatter, place)
                        .filter(|_| values.len() == 1)
                }),
            ),
            not_current: self.not_current.clone(),
        }
    }

    /// What stands for the scatter of a point with a single hit: that of the other points, else what the gate file declares.
    fn scatter_of_one(&self, scatter: &VisitScatter, place: usize) -> Option<PooledSpread> {
        let declared = || {
            Some(PooledSpread {
                relative: self.gate.assessment.repeatability_percent? / 100.0,
                dof: f64::INFINITY,
                points: 0,
            })
        };
        scatter.without(place).or_else(declared)
    }

    /// The scatter of a force over the points of the same edge and direction, and the place of this point among them.
    ///
    /// Only readings that stand in full count: a copy would lend its calm to the others. A mean below the contact level is
    /// noise, whose scatter does not go with the force; and a time does not scatter in proportion to itself. Neither is pooled.
    fn scatter(&self, measure: Measure, point: TestPoint) -> (VisitScatter, usize) {
        let alike =
            |other: &&TestPoint| other.direction == point.direction && other.hazard == point.hazard;
        let points: Vec<TestPoint> = self.tested.iter().filter(alike).copied().collect();
        let place = points.iter().position(|other| *other == point).unwrap_or(0);
        let least = self.profile.method.contact_level.get();
        let values: Vec<Vec<f64>> = points
            .iter()
            .map(|other| {
                let values: Vec<f64> = self
                    .here(*other)
                    .take(self.wanted(*other, usize::MAX))
                    .filter_map(|(_, hit)| hit.full_value(measure))
                    .collect();
                let mean = values.iter().sum::<f64>() / values.len() as f64;
                if measure.dimension() == Dimension::Force && mean >= least {
                    values
                } else {
                    Vec::new()
                }
            })
            .collect();
        (VisitScatter::of(&values), place)
    }
}

/// The odd one out among the readings that stand in full, by its place among all.
fn odd_one(repeats: &[RepeatReading], scatter: &VisitScatter, place: usize) -> Option<OddOne> {
    let full: Vec<(usize, f64)> = repeats
        .iter()
        .enumerate()
        .filter(|(_, repeat)| repeat.standing() == Standing::Full)
        .filter_map(|(at, repeat)| Some((at, repeat.value.ok()?.get())))
        .collect();
    let values: Vec<f64> = full.iter().map(|(_, value)| *value).collect();
    let odd = scatter
        .holds(place)
        .then(|| odd_one_out(&values, scatter.without(place)?))??;
    Some(OddOne {
        place: full[odd.place].0,
        ..odd
    })
}
