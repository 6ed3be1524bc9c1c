//! An invented gate with 27 wanted hits, from the physics of a mass on a spring: some over, one undecided, one not tested.

use relent::gate::{self, GateFile};
use relent::limitation::Limitation;
use relent::limits::{
    Assessed, Leaf, Profile, TestPoint, VisitKind, profile, unread_hazards, wanted_points,
};
use relent::measure::{Measure, measure};
use relent::quantity::{Newton, Second};
use relent::trace::Trace;
use relent::uncertainty::{Doubt, GaugeAccuracy, ReadingFacts, budget};
use relent::verdict::{Finding, MissingPoint, RepeatReading};
use relent::visit::{Assessment, Beside, Hit, Measurement, Planned};
use relent::words::{Language, Words};

/// The words of the tests.
pub fn english() -> &'static Words {
    Words::of(Language::English)
}

/// A hit of a peak force, logged at 2 kHz: half sine of 60 ms, a bounce, a hold of 90 N until `hold_s`, then nothing.
pub(crate) fn trace(peak: f64, hold_s: f64, length_s: f64, seed: u32) -> Trace {
    let mut state = seed;
    let mut noise = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 16) / 65_536.0 - 0.5
    };
    let half_sine = |t: f64, from: f64, length: f64| {
        let share = (t - from) / length;
        if (0.0..1.0).contains(&share) {
            (share * std::f64::consts::PI).sin()
        } else {
            0.0
        }
    };
    let force = |t: f64| {
        let t = t - 0.4;
        let hold = if (0.04..hold_s).contains(&t) {
            90.0 * (1.0 - (-(t - 0.04) / 0.05).exp())
        } else {
            0.0
        };
        (peak * half_sine(t, 0.0, 0.06))
            .max(0.35 * peak * half_sine(t, 0.07, 0.09))
            .max(hold)
    };
    let count = (length_s * 2000.0) as usize;
    let times: Vec<f64> = (0..count).map(|k| k as f64 / 2000.0).collect();
    let forces: Vec<f64> = times
        .iter()
        .map(|t| ((force(*t) + noise()) * 10.0).round() / 10.0)
        .collect();
    Trace::new(times, forces).unwrap()
}

/// Peak forces of the nine points in the order of the plan: gaps outside, heights inside; 0 is not tested.
const PEAKS: [f64; 9] = [372.0, 431.2, 355.0, 341.0, 396.4, 298.0, 289.0, 310.0, 0.0];

/// The assessment of the gate of the template under another name.
pub(crate) fn assessment(name: &str) -> Assessment {
    let mut gate = gate::read(gate::TEMPLATE.as_bytes()).unwrap().file;
    gate.gate.name = name.to_owned();
    let profile = profile("en12453-2017").unwrap();
    let section = &gate.gate;
    let leaf = Leaf {
        motion: section.motion,
        height_mm: section.leaf_height.unwrap().get(),
        width_mm: section.leaf_width.unwrap().get(),
        opening_mm: section.clear_opening.unwrap().get(),
        obstacle: None,
    };
    let plan = wanted_points(&profile, &leaf, VisitKind::First, None).unwrap();
    let points: Vec<TestPoint> = plan.points.iter().map(|wanted| wanted.point).collect();
    let hits: Vec<Hit> = points
        .iter()
        .zip(PEAKS)
        .flat_map(|(point, peak)| hits(name, *point, peak, &gate, &profile))
        .collect();
    let findings = findings(&gate, &profile, &hits);
    let missing = points
        .iter()
        .map(|point| {
            (
                *point,
                hits.iter().filter(|hit| hit.point == *point).count(),
            )
        })
        .filter(|(_, found)| *found < 3)
        .map(|(point, found)| MissingPoint {
            point,
            wanted: 3,
            found,
        })
        .collect();
    let hazards = unread_hazards(gate.gate.motion);
    let readiness = relent::readiness::readiness(&gate, relent::readiness::built_in());
    Assessment {
        readiness,
        gate,
        profile,
        planned: Planned::Known(plan),
        hits,
        voids: Vec::new(),
        beside: Beside::default(),
        findings,
        missing,
        without_limit: Vec::new(),
        hazards,
    }
}

fn hits(name: &str, point: TestPoint, peak: f64, gate: &GateFile, profile: &Profile) -> Vec<Hit> {
    let count = if peak > 0.0 { 3 } else { 0 };
    (1..=count)
        .map(|repeat| {
            // The middle hit at the place of 396.4 N is short: the record ends too early.
            let short = peak > 396.0 && peak < 397.0 && repeat == 2;
            let trace = trace(
                peak - 6.0 * f64::from(repeat - 1),
                0.3,
                if short { 3.0 } else { 6.2 },
                repeat * 77 + peak as u32,
            );
            let response = measure(&trace, &profile.method, &gate.gauge_facts(point.direction));
            let limitation = short.then_some(Limitation::EndsEarly {
                ends_s: 2.6,
                needs_s: 5.0,
                presses_n: 0.0,
                still_above: Vec::new(),
            });
            Hit {
                file: format!("{name}-{}-{}-{repeat}.csv", point.gap_mm, point.height_mm),
                sha256: format!("{:064x}", 0x00c0_ffee_u64 + u64::from(repeat)),
                size_bytes: 100_000,
                print: Some(relent::limitation::Print::of(&trace)),
                point,
                repeat,
                notices: Vec::new(),
                measurement: Ok(Box::new(Measurement {
                    trace,
                    response,
                    limitations: limitation.into_iter().collect(),
                    wrong: None,
                })),
            }
        })
        .collect()
}

fn findings(gate: &GateFile, profile: &Profile, hits: &[Hit]) -> Vec<Finding> {
    let mut points: Vec<TestPoint> = hits.iter().map(|hit| hit.point).collect();
    points.dedup();
    let mut findings = Vec::new();
    for point in points {
        for limit in profile.limits_at(gate.gate.motion, &point) {
            let here = hits
                .iter()
                .enumerate()
                .filter(|(_, hit)| hit.point == point);
            let repeats: Vec<RepeatReading> = here
                .map(|(index, hit)| {
                    let measurement = hit.measurement.as_ref().unwrap();
                    let value = measurement.response.value(limit.measure);
                    RepeatReading::new(
                        &hit.file,
                        index,
                        limit.measure,
                        value,
                        measurement.limitations.iter().cloned(),
                        None,
                    )
                })
                .collect();
            let values: Vec<f64> = repeats
                .iter()
                .filter_map(|repeat| Some(repeat.value.ok()?.get()))
                .collect();
            findings.push(Finding {
                limit: limit.clone(),
                test_point: Some(point),
                wanted: 3,
                budget: uncertainty(limit.measure, limit.assessed, &values),
                repeats,
                rule: gate.assessment.rule(),
                not_current: Vec::new(),
                odd_one: None,
            });
        }
    }
    findings
}

fn uncertainty(
    measure: Measure,
    assessed: Assessed,
    values: &[f64],
) -> Option<relent::uncertainty::Budget> {
    let facts = ReadingFacts {
        resolution: Newton(0.1),
        noise: Newton(0.3),
        quiet_samples: 700,
        drift: Some(Newton(0.1)),
        unseen: Newton(0.2),
        step: Second(0.0005),
        jitter: Second(0.0),
        crossings: Vec::new(),
        doubt: Doubt::default(),
    };
    let gauge = GaugeAccuracy::Class {
        share_of_reading: 0.01,
        absolute: Newton(1.0),
    };
    budget(
        measure,
        assessed,
        values,
        &vec![facts; values.len()],
        &gauge,
        None,
        None,
    )
}
