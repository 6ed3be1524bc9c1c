//! Laws of the budget: more doubt never makes a smaller uncertainty, and the probability is a probability.

use proptest::prelude::*;
use relent::limitation::SpringBand;
use relent::limits::Assessed;
use relent::measure::Measure;
use relent::quantity::{Newton, NewtonPerMillimetre, Second};
use relent::uncertainty::{
    Budget, Component, Crossing, Doubt, GaugeAccuracy, Permitted, PooledSpread, ReadingFacts,
    Source, VisitScatter, budget, largest_share_chance, probability, t_cdf, t_quantile,
};

fn any_facts() -> impl Strategy<Value = ReadingFacts> {
    let crossing = (1.0..1000.0_f64, 10.0..1e5_f64).prop_map(|(level, slope_n_s)| Crossing {
        level: Newton(level),
        slope_n_s,
    });
    (
        (
            0.0..5.0_f64,
            0.0..5.0_f64,
            1_usize..1000,
            -5.0..5.0_f64,
            0.0..20.0_f64,
        ),
        (
            1e-5..1e-2_f64,
            0.0..1e-4_f64,
            prop::collection::vec(crossing, 1..4),
        ),
    )
        .prop_map(
            |((resolution, noise, quiet_samples, drift, unseen), (step, jitter, crossings))| {
                ReadingFacts {
                    resolution: Newton(resolution),
                    noise: Newton(noise),
                    quiet_samples,
                    drift: Some(Newton(drift)),
                    unseen: Newton(unseen),
                    step: Second(step),
                    jitter: Second(jitter),
                    crossings,
                    doubt: Doubt::default(),
                }
            },
        )
}

fn gauge(share: f64) -> GaugeAccuracy {
    GaugeAccuracy::Class {
        share_of_reading: share,
        absolute: Newton(0.0),
    }
}

fn both(values: &[f64], facts: &[ReadingFacts], share: f64) -> [Budget; 2] {
    [Measure::PeakForce, Measure::DynamicPeriod].map(|measure| {
        budget(
            measure,
            Assessed::Mean,
            values,
            facts,
            &gauge(share),
            None,
            None,
        )
        .unwrap()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn the_combined_uncertainty_is_the_root_sum_of_its_lines_and_greater_than_each(
        facts in prop::collection::vec(any_facts(), 3),
        values in prop::collection::vec(1.0..2000.0_f64, 3),
        share in 0.0..0.1_f64,
    ) {
        for budget in both(&values, &facts, share) {
            let sum: f64 = budget.components.iter().map(|line| line.u * line.u).sum();
            prop_assert!((budget.combined - sum.sqrt()).abs() <= 1e-12 * budget.combined);
            for line in &budget.components {
                prop_assert!(line.u <= budget.combined * (1.0 + 1e-12));
                prop_assert!((line.value / line.divisor - line.u).abs() <= 1e-12 * line.u);
            }
            prop_assert!(budget.dof >= 2.0 * (1.0 - 1e-12), "no less than the least of the lines: {}", budget.dof);
            prop_assert!(budget.k >= 1.9599 && budget.k <= 4.3027);
            prop_assert!(budget.left_out.is_empty());
        }
    }

    #[test]
    fn a_poorer_gauge_never_makes_a_smaller_standard_uncertainty(
        facts in prop::collection::vec(any_facts(), 3),
        values in prop::collection::vec(1.0..2000.0_f64, 3),
        share in 0.0..0.1_f64,
        more in 0.0..0.1_f64,
    ) {
        for (good, poor) in both(&values, &facts, share).iter().zip(both(&values, &facts, share + more)) {
            prop_assert!(poor.combined >= good.combined);
        }
        let band = SpringBand { rate: NewtonPerMillimetre(500.0), either_way: NewtonPerMillimetre(50.0) };
        let with = budget(Measure::PeakForce, Assessed::Mean, &values, &facts, &gauge(share), Some(band), None).unwrap();
        prop_assert!(with.combined > both(&values, &facts, share)[0].combined);
    }

    #[test]
    fn under_the_worst_only_the_greatest_value_counts(
        facts in prop::collection::vec(any_facts(), 3),
        values in prop::collection::vec(1.0..2000.0_f64, 3),
    ) {
        let worst = values.iter().copied().fold(0.0, f64::max);
        let of_all = budget(Measure::PeakForce, Assessed::Worst, &values, &facts, &gauge(0.03), None, None);
        let of_one = budget(Measure::PeakForce, Assessed::Worst, &[worst], &facts, &gauge(0.03), None, None);
        prop_assert_eq!(&of_all, &of_one);
        // A mean of one hit is the same but for the scatter of hits, which one hit does not show.
        let mean = budget(Measure::PeakForce, Assessed::Mean, &[worst], &facts, &gauge(0.03), None, None).unwrap();
        prop_assert_eq!(mean.left_out, [Source::Repeatability]);
        prop_assert_eq!(mean.combined, of_one.unwrap().combined);
    }

    #[test]
    fn a_probability_lies_between_nothing_and_certainty_and_falls_with_the_value(
        estimate in 0.0..2000.0_f64,
        more in 0.0..100.0_f64,
        u in 0.0..100.0_f64,
        dof in prop_oneof![1.0..1e4_f64, Just(f64::INFINITY)],
    ) {
        let at = |estimate| probability(Permitted::UpTo(400.0), estimate, u, dof);
        prop_assert!((0.0..=1.0).contains(&at(estimate)));
        prop_assert!(at(estimate + more) <= at(estimate) + 1e-12);
        let above = probability(Permitted::From(400.0), estimate, u, dof);
        if u > 0.0 {
            prop_assert!((at(estimate) + above - 1.0).abs() < 1e-9);
        }
    }

    // Close to 0.5 the incomplete beta function of statrs takes t²/ν from 1 and loses digits; nothing here asks for it.
    #[test]
    fn quantile_and_distribution_undo_each_other(
        p in prop_oneof![1e-4..0.49_f64, 0.51..0.9999_f64],
        dof in 1.0..1e4_f64,
    ) {
        prop_assert!((t_cdf(t_quantile(p, dof), dof) - p).abs() < 1e-9);
    }
}

/// Cochran's C, 5 % points: ISO 5725-2:1994, table 4, from memory; the same from scipy 1.17.1 `beta.isf(0.05/p, ν/2, (p−1)ν/2)`.
#[test]
fn the_test_of_alike_scatter_has_the_critical_values_of_the_table() {
    let table = [
        (5, 2, 0.841),
        (5, 3, 0.684),
        (5, 4, 0.598),
        (9, 3, 0.478),
        (10, 2, 0.602),
        (10, 3, 0.445),
        (10, 4, 0.373),
    ];
    for (points, hits, critical) in table {
        let dof = f64::from(hits - 1);
        let chance = |share: f64| largest_share_chance(share, dof, dof * points as f64, points);
        assert!(
            chance(critical - 0.001) > 0.05,
            "{points} points of {hits} hits"
        );
        assert!(
            chance(critical + 0.001) < 0.05,
            "{points} points of {hits} hits"
        );
    }
}

#[test]
fn a_point_that_scatters_differently_keeps_its_own_hits() {
    let calm = |mean: f64| vec![mean * 0.99, mean, mean * 1.01];
    let mut visit: Vec<Vec<f64>> = [100.0, 200.0, 300.0, 400.0, 500.0].map(calm).to_vec();
    visit.push(vec![350.0]);
    let alike = VisitScatter::of(&visit);
    let pool = alike.with(0).unwrap();
    assert!((pool.relative - 0.01).abs() < 1e-12);
    assert_eq!((pool.dof, pool.points), (10.0, 5));
    assert_eq!(alike.with(5), None, "one hit has no scatter of its own");
    visit[2] = vec![210.0, 300.0, 390.0];
    let wild = VisitScatter::of(&visit);
    assert_eq!(wild.with(2), None);
    assert_eq!(wild.with(0).unwrap().points, 4);
    assert_eq!(wild.without(2), wild.with(0));
    // Two of five leave: the gate does not scatter alike, and nothing is pooled.
    visit[3] = vec![4.0, 400.0, 796.0];
    assert_eq!(VisitScatter::of(&visit).with(0), None);
    assert_eq!(VisitScatter::of(&visit[..1]).with(0), None);
    // Equal readings are no trouble.
    let still = VisitScatter::of(&[vec![5.0; 3], vec![7.0; 3]]);
    assert_eq!(still.with(1).unwrap().relative, 0.0);
}

/// By hand: s = 0.02 · 380 N = 7.6 N; u = 7.6 N / √3 = 4.38786 N with 16 degrees of freedom.
#[test]
fn a_pooled_repeatability_is_that_share_of_the_mean() {
    let pool = PooledSpread {
        relative: 0.02,
        dof: 16.0,
        points: 8,
    };
    let line = Component::pooled(&[372.0, 388.0, 380.0], pool);
    assert!((line.u - 4.387_862_045_841_155).abs() < 1e-12);
    assert_eq!(line.dof, 16.0);
    assert_eq!(line.source, Source::RepeatabilityPooled { points: 8 });
}
