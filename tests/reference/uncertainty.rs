//! Budgets against worked examples and closed forms.

use relent::limitation::SpringBand;
use relent::limits::Assessed;
use relent::measure::Measure;
use relent::quantity::{Newton, NewtonPerMillimetre, Second};
use relent::uncertainty::{
    Budget, Component, Crossing, Doubt, GaugeAccuracy, Permitted, ReadingFacts, Source, budget,
    combine, probability, upper_bound,
};

use crate::check::{Check, Tolerance, hold};

const GUM: &str = "JCGM 100:2008, 4.4.3, twenty readings of a thermometer (from memory; mean and s printed there as 100.145 and 1.489)";
const JCGM106: &str =
    "JCGM 106:2012, worked examples of conformance probability (from memory); Φ by tables";
const NORMAL: &str = "normal distribution, Φ((400 − y)/u), by tables";
const CLOSED: &str = "closed form of JCGM 100:2008, 5.1.2 and G.4.1, with t from tables";

/// The twenty readings in °C, from memory of the GUM's table 1; their mean and standard deviation agree with the printed ones.
const THERMOMETER: [f64; 20] = [
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68,
    100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
];

fn check(what: &str, source: &'static str, expected: f64, computed: f64, most: f64) -> Check {
    Check {
        what: what.to_owned(),
        source,
        expected,
        computed,
        unit: "",
        tolerance: Tolerance::Absolute(most),
    }
}

fn newton(what: &str, source: &'static str, expected: f64, computed: f64, most: f64) -> Check {
    Check {
        unit: "N",
        ..check(what, source, expected, computed, most)
    }
}

/// A record that adds nothing of its own.
fn nothing() -> ReadingFacts {
    ReadingFacts {
        resolution: Newton(0.0),
        noise: Newton(0.0),
        quiet_samples: 100,
        drift: Some(Newton(0.0)),
        unseen: Newton(0.0),
        step: Second(0.0),
        jitter: Second(0.0),
        crossings: Vec::new(),
        doubt: Doubt::default(),
    }
}

fn perfect() -> GaugeAccuracy {
    certificate(0.0, 0.0, 2.0)
}

fn certificate(newtons: f64, expanded_share: f64, k: f64) -> GaugeAccuracy {
    GaugeAccuracy::Certificate {
        expanded: Newton(newtons),
        expanded_share,
        k,
    }
}

/// Three readings of 372, 388, 380 N with a gauge of 2.5 % standard uncertainty.
fn three_readings() -> Budget {
    let facts = [nothing(), nothing(), nothing()];
    let gauge = certificate(0.0, 0.05, 2.0);
    let values = [372.0, 388.0, 380.0];
    budget(
        Measure::PeakForce,
        Assessed::Mean,
        &values,
        &facts,
        &gauge,
        None,
        None,
    )
    .unwrap()
}

fn worked_examples() -> Vec<Check> {
    let infinite = f64::INFINITY;
    let up_to = |limit: f64, y: f64, u: f64| probability(Permitted::UpTo(limit), y, u, infinite);
    let three = three_readings();
    let alone = Component::repeatability(&[372.0, 388.0, 380.0]).unwrap();
    let thermometer = Component::repeatability(&THERMOMETER).unwrap();
    vec![
        check(
            "limit 400, y 380, u 9.5",
            NORMAL,
            0.98237,
            up_to(400.0, 380.0, 9.5),
            5e-6,
        ),
        check(
            "limit 400, y 395, u 9.875",
            NORMAL,
            0.69369,
            up_to(400.0, 395.0, 9.875),
            5e-6,
        ),
        check(
            "limit 400, y 410, u 10.25",
            NORMAL,
            0.16463,
            up_to(400.0, 410.0, 10.25),
            5e-6,
        ),
        check(
            "upper limit −5.40, y −5.47, u 0.05",
            JCGM106,
            0.9192,
            up_to(-5.40, -5.47, 0.05),
            5e-5,
        ),
        check(
            "lower limit 490, y 509.7, u 8.6",
            JCGM106,
            0.98901,
            probability(Permitted::From(490.0), 509.7, 8.6, infinite),
            5e-6,
        ),
        check(
            "band 12.5 to 16.3, y 13.6, u 1.8",
            JCGM106,
            0.66263,
            probability(Permitted::Between(12.5, 16.3), 13.6, 1.8, infinite),
            6e-6,
        ),
        newton(
            "372, 388, 380 N with 2.5 %: u",
            CLOSED,
            10.5633,
            three.combined,
            5e-5,
        ),
        check(
            "372, 388, 380 N with 2.5 %: ν",
            CLOSED,
            54.72,
            three.dof,
            5e-3,
        ),
        newton(
            "372, 388, 380 N with 2.5 %: U",
            CLOSED,
            21.172,
            three.expanded,
            5e-4,
        ),
        check(
            "372, 388, 380 N with 2.5 %: probability within 400 N",
            CLOSED,
            0.96820,
            probability(Permitted::UpTo(400.0), 380.0, three.combined, three.dof),
            5e-6,
        ),
        newton(
            "372, 388, 380 N, repeatability alone: one-sided 95 % bound",
            CLOSED,
            393.487,
            upper_bound(380.0, alone.u, alone.dof, 0.95),
            5e-4,
        ),
        check("thermometer: s", GUM, 1.48884, thermometer.value, 5e-6),
        check(
            "thermometer: u of the mean",
            GUM,
            0.332916,
            thermometer.u,
            5e-7,
        ),
        check("thermometer: ν", GUM, 19.0, thermometer.dof, 0.0),
    ]
}

/// One component at a time, with everything else zero.
fn single_components() -> Vec<Check> {
    let facts = |change: fn(&mut ReadingFacts)| {
        let mut one = nothing();
        change(&mut one);
        [one]
    };
    let force = |facts: &[ReadingFacts], gauge: GaugeAccuracy, spring| {
        budget(
            Measure::PeakForce,
            Assessed::Mean,
            &[400.0],
            facts,
            &gauge,
            spring,
            None,
        )
        .unwrap()
    };
    let class = GaugeAccuracy::Class {
        share_of_reading: 0.03,
        absolute: Newton(5.0),
    };
    let band = SpringBand {
        rate: NewtonPerMillimetre(500.0),
        either_way: NewtonPerMillimetre(50.0),
    };
    let unseen = facts(|one| one.unseen = Newton(6.0));
    let rows = [
        (
            "certificate U 8 N, k 2",
            4.0,
            force(&[nothing()], certificate(8.0, 0.0, 2.0), None),
        ),
        (
            "certificate U 2 % of 400 N plus 1 N, k 2.25",
            4.0,
            force(&[nothing()], certificate(1.0, 0.02, 2.25), None),
        ),
        (
            "class ± 3 % of 400 N ± 5 N",
            17.0 / 3.0_f64.sqrt(),
            force(&[nothing()], class, None),
        ),
        (
            "resolution 1 N",
            1.0 / 12.0_f64.sqrt(),
            force(&facts(|one| one.resolution = Newton(1.0)), perfect(), None),
        ),
        (
            "noise 2 N, 100 quiet samples: zero and the one hit",
            (0.04_f64 + 4.0).sqrt(),
            force(&facts(|one| one.noise = Newton(2.0)), perfect(), None),
        ),
        (
            "drift −3 N",
            3.0_f64.sqrt(),
            force(
                &facts(|one| one.drift = Some(Newton(-3.0))),
                perfect(),
                None,
            ),
        ),
        (
            "unseen excess 6 N",
            3.0_f64.sqrt(),
            force(&unseen, perfect(), None),
        ),
        (
            "spring 500 ± 50 N/mm at 400 N",
            20.0 / 3.0_f64.sqrt(),
            force(&[nothing()], perfect(), Some(band)),
        ),
    ];
    let mut checks: Vec<Check> = rows
        .into_iter()
        .map(|(what, expected, budget)| newton(what, CLOSED, expected, budget.combined, 1e-12))
        .collect();
    let shift = force(&unseen, perfect(), None).correction;
    checks.push(newton(
        "unseen excess 6 N: shift of the value",
        CLOSED,
        3.0,
        shift,
        1e-12,
    ));
    checks
}

/// A time read from two crossings: rising through 25 N at 5000 N/s, falling through 150 N at −2000 N/s.
fn times() -> Vec<Check> {
    let crossings = vec![
        Crossing {
            level: Newton(25.0),
            slope_n_s: 5000.0,
        },
        Crossing {
            level: Newton(150.0),
            slope_n_s: -2000.0,
        },
    ];
    let time = |change: fn(&mut ReadingFacts), gauge: GaugeAccuracy| {
        let mut one = ReadingFacts {
            crossings: crossings.clone(),
            ..nothing()
        };
        change(&mut one);
        budget(
            Measure::DynamicPeriod,
            Assessed::Mean,
            &[0.4],
            &[one],
            &gauge,
            None,
            None,
        )
        .unwrap()
        .combined
    };
    let rows = [
        (
            "step 1 ms, two crossings",
            1e-3 * (2.0_f64 / 12.0).sqrt(),
            time(|one| one.step = Second(1e-3), perfect()),
        ),
        (
            "noise 1 N at both slopes",
            // The first or the last of several crossings in the noise counts: twice the noise.
            2.0 * (0.0002_f64.powi(2) + 0.0005_f64.powi(2)).sqrt(),
            time(|one| one.noise = Newton(1.0), perfect()),
        ),
        (
            "jitter 10 µs, two crossings",
            1e-5 * 2.0_f64.sqrt(),
            time(|one| one.jitter = Second(1e-5), perfect()),
        ),
        (
            "certificate 2 %, k 2, at both levels",
            (0.5 / 5000.0 + 3.0 / 2000.0) / 2.0,
            time(|_| (), certificate(0.0, 0.02, 2.0)),
        ),
    ];
    rows.into_iter()
        .map(|(what, expected, computed)| Check {
            unit: "s",
            ..check(what, CLOSED, expected, computed, 1e-15)
        })
        .collect()
}

/// Worked examples, single components, times.
pub fn checks() -> Vec<Check> {
    let mut checks = worked_examples();
    checks.extend(single_components());
    checks.extend(times());
    checks
}

#[test]
fn budgets_agree_with_worked_examples_and_closed_forms() {
    hold(&checks(), 14 + 9 + 4);
}

#[test]
fn the_budget_says_what_it_leaves_out() {
    let facts = [ReadingFacts {
        drift: None,
        ..nothing()
    }];
    let open = budget(
        Measure::PeakForce,
        Assessed::Mean,
        &[300.0],
        &facts,
        &GaugeAccuracy::Unknown,
        None,
        None,
    );
    assert_eq!(
        open.unwrap().left_out,
        [
            Source::Calibration,
            Source::ZeroDrift,
            Source::Repeatability
        ]
    );
    let time = budget(
        Measure::DynamicPeriod,
        Assessed::Mean,
        &[0.3],
        &[],
        &GaugeAccuracy::Unknown,
        None,
        None,
    );
    assert_eq!(
        time.unwrap().left_out,
        [Source::Calibration, Source::SamplingStep]
    );
}

#[test]
fn what_is_neither_force_nor_time_has_no_budget() {
    let facts = [nothing()];
    assert!(
        budget(
            Measure::Energy,
            Assessed::Mean,
            &[1.0],
            &facts,
            &perfect(),
            None,
            None
        )
        .is_none()
    );
    assert!(
        budget(
            Measure::PeakForce,
            Assessed::Mean,
            &[],
            &facts,
            &perfect(),
            None,
            None
        )
        .is_none()
    );
}

#[test]
fn sampling_and_spring_rate_enter_the_peak_only() {
    let facts = [ReadingFacts {
        unseen: Newton(6.0),
        ..nothing()
    }];
    let band = SpringBand {
        rate: NewtonPerMillimetre(500.0),
        either_way: NewtonPerMillimetre(50.0),
    };
    let lines = |measure| {
        let budget = budget(
            measure,
            Assessed::Mean,
            &[100.0],
            &facts,
            &perfect(),
            Some(band),
            None,
        )
        .unwrap();
        (
            budget
                .components
                .iter()
                .map(|line| line.source)
                .collect::<Vec<_>>(),
            budget.correction,
        )
    };
    let (peak, shift) = lines(Measure::PeakForce);
    assert!(peak.contains(&Source::Sampling) && peak.contains(&Source::SpringRate));
    assert_eq!(shift, 3.0);
    let (residual, shift) = lines(Measure::ResidualForce);
    assert!(
        !residual
            .iter()
            .any(|it| matches!(it, Source::Sampling | Source::SpringRate))
    );
    assert_eq!(shift, 0.0);
}

#[test]
fn a_level_crossed_flat_makes_the_time_useless_instead_of_exact() {
    let flat = ReadingFacts {
        noise: Newton(1.0),
        crossings: vec![Crossing {
            level: Newton(150.0),
            slope_n_s: 0.0,
        }],
        ..nothing()
    };
    let budget = budget(
        Measure::DynamicPeriod,
        Assessed::Mean,
        &[0.4],
        &[flat],
        &perfect(),
        None,
        None,
    )
    .unwrap();
    assert!(!budget.expanded.is_finite());
}

#[test]
fn an_empty_budget_is_zero_and_normal() {
    let empty = combine(Vec::new(), 0.0, Vec::new());
    assert_eq!((empty.combined, empty.expanded), (0.0, 0.0));
    assert!((empty.k - 1.959_963_985).abs() < 1e-9);
}
