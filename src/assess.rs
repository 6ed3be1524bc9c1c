//! The pipeline on one page: gate file + profile + logs → assessment.
//!
//! Read every log, measure it, say what it cannot show, lay the hits on the wanted test points, hold every value against
//! every limit that applies there. Nothing is opened, printed or decided here: bytes come in, values go out, and the
//! verdict follows from the findings.

mod facts;
mod hits;
mod points;

use rayon::prelude::*;

use crate::evidence::Evidence;
use crate::gate::{self, GateFile};
use crate::ingest::Answers;
use crate::limits::{Limit, Plan, Profile, TestPoint, UnreadHazard, unread_hazards};
use crate::readiness::{self, Readiness};
use crate::uncertainty;
use crate::verdict::{self, Finding, MissingPoint, Overall, RepeatReading, Verdict};

pub use hits::{Hit, Measurement, NotMeasured, tolerances};
pub use points::{Planned, plan, plan_for};

/// A log and the hit it holds, as it comes in.
#[derive(Clone, Debug)]
pub struct Log {
    /// Its name, as the record will give it.
    pub file: String,
    /// Where the gauge was held.
    pub point: TestPoint,
    /// Which hit at that place, from 1.
    pub repeat: u32,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Everything found about a gate at a visit. The verdict is a function of it and stored nowhere.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// The gate file.
    pub gate: GateFile,
    /// The limit profile.
    pub profile: Profile,
    /// The test points that the profile wants, or why they are not known.
    pub planned: Planned,
    /// The hits, in the order of the logs.
    pub hits: Vec<Hit>,
    /// Every limit held against what was read at every tested point.
    pub findings: Vec<Finding>,
    /// Wanted test points with fewer hits than wanted.
    pub missing: Vec<MissingPoint>,
    /// Tested points at which the profile has no limit that decides, each with the reason.
    pub without_limit: Vec<(TestPoint, String)>,
    /// Hazards of this kind of gate for which there is no reading.
    pub hazards: Vec<UnreadHazard>,
    /// What was looked at before the gate was driven: the built-in checks, unless the caller adds its own.
    pub readiness: Readiness,
}

/// The whole pipeline.
#[must_use]
pub fn assess(gate: GateFile, profile: Profile, logs: Vec<Log>, answers: &Answers) -> Assessment {
    let mut hits: Vec<Hit> = logs
        .into_par_iter()
        .map(|log| hits::measure(log, &gate, &profile, answers))
        .collect();
    hits::name_copies(&mut hits);
    let planned = plan(&gate, &profile);
    let tested = points::tested(&hits);
    let findings = tested
        .iter()
        .flat_map(|point| {
            let limits = profile.limits_at(gate.gate.motion, point);
            limits
                .into_iter()
                .map(|limit| finding(limit, *point, &planned, &hits, &gate, &profile))
                .collect::<Vec<_>>()
        })
        .collect();
    let without_limit = tested
        .iter()
        .filter_map(|point| Some((*point, profile.no_limit_reason(gate.gate.motion, point)?)))
        .collect();
    let missing = planned.missing(&hits);
    let hazards = unread_hazards(gate.gate.motion);
    let readiness = readiness::readiness(&gate, readiness::built_in());
    Assessment {
        gate,
        profile,
        planned,
        hits,
        findings,
        missing,
        without_limit,
        hazards,
        readiness,
    }
}

/// One limit held against the hits at one test point.
fn finding(
    limit: &Limit,
    point: TestPoint,
    planned: &Planned,
    hits: &[Hit],
    gate: &GateFile,
    profile: &Profile,
) -> Finding {
    let here: Vec<(usize, &Hit)> = hits
        .iter()
        .enumerate()
        .filter(|(_, hit)| hit.point == point)
        .collect();
    let repeats: Vec<RepeatReading> = here
        .iter()
        .map(|(index, hit)| hit.reading(*index, limit, gate))
        .collect();
    let measured: Vec<(f64, &Measurement)> = here
        .iter()
        .filter_map(|(_, hit)| {
            let measurement = hit.measurement.as_deref().ok()?;
            Some((measurement.response.value(limit.measure).ok()?, measurement))
        })
        .collect();
    let values: Vec<f64> = measured.iter().map(|(value, _)| *value).collect();
    let facts: Vec<uncertainty::ReadingFacts> = measured
        .iter()
        .map(|(_, measurement)| facts::of_reading(measurement, limit.measure, gate))
        .collect();
    Finding {
        limit: limit.clone(),
        test_point: Some(point),
        wanted: planned.repeats_at(&point).unwrap_or(here.len()),
        repeats,
        rule: gate.judge.rule(),
        budget: uncertainty::budget(
            limit.measure,
            limit.judged,
            &values,
            &facts,
            &facts::gauge_accuracy(gate),
            facts::spring_band(profile),
        ),
        objections: Vec::new(),
    }
}

impl Assessment {
    /// The verdict on everything: the worst finding wins, and what is missing or could not be planned never passes.
    #[must_use]
    pub fn overall(&self) -> Overall {
        let mut overall = verdict::overall(&self.findings, &self.missing);
        if let Planned::Unknown(reason) = &self.planned {
            overall.reasons.push(reason.clone());
            if overall.verdict == Verdict::Within {
                overall.verdict = Verdict::Undecided;
            }
        }
        overall
    }

    /// The plan of test points, where one is known.
    #[must_use]
    pub const fn plan(&self) -> Option<&Plan> {
        match &self.planned {
            Planned::Known(plan) => Some(plan),
            Planned::NotPrescribed(_) | Planned::Unknown(_) => None,
        }
    }

    /// What the gate file leaves open, with what follows from it.
    #[must_use]
    pub fn gaps(&self) -> Vec<gate::Gap> {
        self.gate.gaps()
    }

    /// All evidence with the hit it belongs to, in the order of the hits.
    pub fn evidence(&self) -> impl Iterator<Item = (&Hit, &Evidence)> {
        self.hits.iter().flat_map(|hit| {
            let all = hit
                .measurement
                .iter()
                .flat_map(|measurement| measurement.evidence.iter());
            all.map(move |evidence| (hit, evidence))
        })
    }
}
