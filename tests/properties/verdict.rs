//! The law of the verdict: a poor record can prove that a limit was exceeded, never that it was kept; nothing missing
//! passes; the printed number never contradicts the verdict.

use jiff::civil::date;
use proptest::prelude::*;
use relent::fact::Fact;
use relent::limitation::{Limitation, NothingRead};
use relent::limits::{Assessed, Bound, Limit, profile};
use relent::measure::{Measure, Unmeasured};
use relent::quantity::{Dimension, Newton, Quantity, Second};
use relent::uncertainty::{Budget, Component, PooledSpread, Source, VisitScatter, combine};
use relent::verdict::{
    DecisionRule, EventKind, Finding, Interval, Lean, MissingPoint, NotCurrent, OddOne, OpenItem,
    Reason, Remark, RepeatReading, Standing, Verdict, odd_one_out, overall, printed,
};
use relent::words::{Language, Words};

/// A change of the gate after the test.
fn changed() -> NotCurrent {
    NotCurrent::ChangedAfter {
        event: EventKind::Edge,
        changed_on: date(2026, 5, 4),
        words: None,
        tested_on: date(2026, 3, 2),
    }
}

fn english(fact: &impl Fact) -> String {
    Words::of(Language::English).fact(fact)
}

fn limit() -> Limit {
    profile("en12453-2017").unwrap().limits[0].clone()
}

fn reading(index: usize, value: f64) -> RepeatReading {
    RepeatReading {
        log: format!("hit-{}.csv", index + 1),
        index,
        value: Ok(Newton(value).into()),
        interval: Interval::exactly(value),
        limitations: Vec::new(),
    }
}

fn finding(values: &[f64]) -> Finding {
    Finding {
        limit: limit(),
        test_point: None,
        wanted: 3,
        repeats: values
            .iter()
            .enumerate()
            .map(|(index, value)| reading(index, *value))
            .collect(),
        rule: DecisionRule::Simple,
        budget: None,
        not_current: Vec::new(),
        odd_one: None,
    }
}

/// A budget with one component of known distribution: u.
fn budget(u: f64) -> Budget {
    let known = Component {
        source: Source::Calibration,
        value: 2.0 * u,
        distribution: relent::uncertainty::Distribution::Normal,
        divisor: 2.0,
        u,
        dof: f64::INFINITY,
    };
    combine(vec![known], 0.0, Vec::new())
}

#[test]
fn the_limit_itself_is_within_unless_the_bound_leaves_it_out() {
    let mut at = finding(&[400.0, 400.0, 400.0]);
    assert_eq!(at.verdict(), Verdict::Within);
    assert!(matches!(
        at.remarks()[0],
        Remark::AtLimit { limit: 400.0, .. }
    ));
    at.limit.bound = Bound::Below;
    assert_eq!(at.verdict(), Verdict::Over);
}

#[test]
fn the_mean_decides_and_a_single_hit_over_is_named() {
    let mixed = finding(&[372.0, 460.0, 362.0]);
    assert_eq!(mixed.verdict(), Verdict::Within);
    assert_eq!(mixed.hits_over(), [1]);
    assert!(
        english(&mixed.remarks()[0])
            .starts_with("hit 2 (hit-2.csv) of 460 N is over the limit by itself")
    );
    let mut worst = mixed;
    worst.limit.assessed = Assessed::Worst;
    assert_eq!(worst.verdict(), Verdict::Over);
}

#[test]
fn the_comparison_is_on_unrounded_numbers() {
    assert_eq!(
        finding(&[400.0, 400.0, 400.000_01]).verdict(),
        Verdict::Over
    );
    // The last bits of an addition are none of the gate's.
    assert_eq!(finding(&[400.0 + 5e-14; 3]).verdict(), Verdict::Within);
    assert_eq!(finding(&[400.04; 3]).printed_value().unwrap(), "400.04");
}

#[test]
fn a_missing_hit_is_undecided_but_cannot_hide_what_is_proved() {
    let two = finding(&[300.0, 310.0]);
    assert_eq!(two.verdict(), Verdict::Undecided);
    assert_eq!(
        two.reasons()[0],
        Reason::HitsMissing {
            found: 2,
            required: 3
        }
    );
    // One hit of 500 N: the mean of three may still be within.
    assert_eq!(finding(&[500.0]).verdict(), Verdict::Undecided);
    // 700 + 700 + (0 or more) over three is over 400 whatever the third hit is.
    assert_eq!(finding(&[700.0, 700.0]).verdict(), Verdict::Over);
    assert_eq!(finding(&[]).verdict(), Verdict::Undecided);
    assert_eq!(finding(&[]).reasons(), [Reason::NotTested]);
}

#[test]
fn lower_bounds_prove_over_and_never_within() {
    let mut clipped = finding(&[380.0, 390.0, 399.0]);
    clipped.repeats[1].interval.at_most = f64::INFINITY;
    assert_eq!(clipped.verdict(), Verdict::Undecided);
    assert_eq!(clipped.probability(), None);
    clipped.repeats[1] = limited(Standing::LowerBound, reading(1, 500.0));
    assert_eq!(clipped.verdict(), Verdict::Over);
}

#[test]
fn a_guard_band_leaves_the_middle_open_and_says_where_it_leans() {
    let verdict = |mean: f64| {
        let mut near = finding(&[mean; 3]);
        near.rule = "guarded".parse().unwrap();
        near.budget = Some(budget(10.0)); // U = 19.6 N
        (near.verdict(), near.lean())
    };
    assert_eq!(verdict(380.0), (Verdict::Within, None));
    assert_eq!(verdict(381.0), (Verdict::Undecided, Some(Lean::Within)));
    assert_eq!(verdict(400.0), (Verdict::Undecided, Some(Lean::Within)));
    assert_eq!(verdict(401.0), (Verdict::Undecided, Some(Lean::Over)));
    assert_eq!(verdict(420.0), (Verdict::Over, None));
}

#[test]
fn a_guard_band_without_a_whole_budget_never_passes() {
    let mut open = finding(&[100.0; 3]);
    open.rule = "guarded".parse().unwrap();
    assert_eq!(open.verdict(), Verdict::Undecided);
    open.budget = Some(Budget {
        left_out: vec![Source::Calibration],
        ..budget(1.0)
    });
    assert_eq!(open.verdict(), Verdict::Undecided);
    assert_eq!(
        open.reasons()[0],
        Reason::UncertaintyIncomplete {
            components: vec![Source::Calibration]
        }
    );
    open.budget = Some(budget(f64::INFINITY));
    assert_eq!(open.verdict(), Verdict::Undecided);
    open.budget = Some(budget(f64::NAN));
    assert_eq!(open.verdict(), Verdict::Undecided);
    open.budget = Some(budget(1.0));
    assert_eq!(open.verdict(), Verdict::Within);
}

#[test]
fn nothing_assessed_and_nothing_missing_is_still_undecided() {
    let nothing = overall(&[], &[]);
    assert_eq!(nothing.verdict, Verdict::Undecided);
    assert_eq!(nothing.reasons, [OpenItem::NothingAssessed]);
    let mut shown_only = finding(&[100.0; 3]);
    shown_only.limit.decides = false;
    assert_eq!(overall(&[shown_only], &[]).verdict, Verdict::Undecided);
}

#[test]
fn the_worst_wins_and_a_missing_point_never_passes() {
    let (good, bad, open) = (
        finding(&[300.0; 3]),
        finding(&[500.0; 3]),
        finding(&[300.0]),
    );
    let missing = MissingPoint {
        point: relent::limits::TestPoint {
            direction: relent::limits::Direction::Closing,
            hazard: relent::limits::Hazard::ClosingEdge,
            gap_mm: 50.0,
            height_mm: 50.0,
        },
        wanted: 3,
        found: 0,
    };
    assert_eq!(
        overall(std::slice::from_ref(&good), &[]).verdict,
        Verdict::Within
    );
    assert_eq!(
        overall(std::slice::from_ref(&good), &[missing]).verdict,
        Verdict::Undecided
    );
    assert_eq!(
        overall(&[good.clone(), open.clone()], &[]).verdict,
        Verdict::Undecided
    );
    assert_eq!(
        overall(&[good, open, bad], &[missing]).verdict,
        Verdict::Over
    );
}

#[test]
fn two_readings_of_one_quantity_are_said_to_differ() {
    let profile = profile("en12453-2017").unwrap();
    let of = |name: &str, seconds: f64| {
        let mut one = finding(&[seconds; 3]);
        for repeat in &mut one.repeats {
            repeat.value = Ok(Second(seconds).into());
        }
        one.limit = profile
            .limits
            .iter()
            .find(|limit| limit.short_name() == name)
            .unwrap()
            .clone();
        one
    };
    let findings = [
        of("dynamic-period", 0.8),
        of("time-above-static-level", 0.2),
    ];
    let whole = overall(&findings, &[]);
    assert_eq!(whole.verdict, Verdict::Over);
    assert_eq!(whole.two_readings.len(), 1);
    assert_eq!(whole.two_readings[0].decides.1, Verdict::Over);
    assert_eq!(whole.two_readings[0].shown.1, Verdict::Within);
    let shown_over = [
        of("dynamic-period", 0.3),
        of("time-above-static-level", 0.9),
    ];
    assert_eq!(
        overall(&shown_over, &[]).verdict,
        Verdict::Over,
        "shown only, and over all the same"
    );
    assert_eq!(overall(&shown_over, &[]).two_readings.len(), 1);
}

#[test]
fn a_reading_of_another_quantity_is_neither_within_nor_over() {
    for number in [1.0, 10_000.0] {
        let mut one = finding(&[300.0; 3]);
        one.repeats[1].value = Ok(Second(number).into());
        assert_eq!(one.verdict(), Verdict::Undecided);
        assert!(one.hits_over().is_empty());
        let unmeasured = Unmeasured::OtherQuantity {
            unit: Dimension::Time,
        };
        let log = "hit-2.csv".to_owned();
        assert_eq!(one.reasons(), [Reason::NoValue { log, unmeasured }]);
    }
}

#[test]
fn the_odd_one_out_is_assessed_by_the_scatter_of_the_other_points() {
    let elsewhere = VisitScatter::of(&[
        vec![100.0, 102.0, 98.0],
        vec![300.0, 300.0, 306.0],
        vec![50.0],
    ])
    .without(2)
    .unwrap();
    assert_eq!(elsewhere.dof, 4.0);
    // Closed form: (2·0.02² + (2·(1/151)² + (2/151)²·...)) is left to the sums: s² = Σ(x/x̄ − 1)²/4.
    let mean = 302.0_f64;
    let squares =
        2.0 * 0.02_f64.powi(2) + 2.0 * (300.0 / mean - 1.0).powi(2) + (306.0 / mean - 1.0).powi(2);
    assert!((elsewhere.relative - (squares / 4.0).sqrt()).abs() < 1e-15);
    assert_eq!(
        odd_one_out(&[398.0, 460.0, 396.0], elsewhere).map(|odd| odd.place),
        Some(1)
    );
    assert_eq!(odd_one_out(&[398.0, 399.0, 401.0], elsewhere), None);
    let still = PooledSpread {
        relative: 0.0,
        dof: 4.0,
        points: 2,
    };
    assert_eq!(odd_one_out(&[398.0, 398.0, 398.0], still), None);
}

#[test]
fn the_odd_one_is_named_and_still_counts() {
    let mut wild = finding(&[350.0, 460.0, 352.0]);
    let value = wild.value().unwrap();
    wild.odd_one = Some(OddOne {
        place: 1,
        distance: 109.0,
        chance: 0.000_2,
    });
    assert_eq!(wild.value().unwrap(), value);
    assert_eq!(wild.verdict(), Verdict::Within);
    let named = wild.remarks();
    let odd = named.iter().find(|one| one.code() == "odd-one").unwrap();
    assert_eq!(
        english(odd),
        "hit 2 (hit-2.csv) of 460 N is a possible outlier: 109 N from the mean of the others (p < 0.001); not excluded"
    );
}

#[test]
fn what_is_not_current_stays_over_and_never_within() {
    let mut low = finding(&[200.0; 3]);
    low.not_current = vec![changed()];
    assert_eq!(low.verdict(), Verdict::Undecided);
    assert_eq!(low.probability(), None);
    assert_eq!(
        low.reasons()[0],
        Reason::NotCurrent {
            not_current: changed()
        }
    );
    let mut high = finding(&[500.0; 3]);
    high.not_current = low.not_current;
    assert_eq!(high.verdict(), Verdict::Over);
}

fn any_standing() -> impl Strategy<Value = Standing> {
    prop_oneof![
        Just(Standing::Full),
        Just(Standing::LowerBound),
        Just(Standing::EitherWay)
    ]
}

/// A reading with a limitation that leaves so much of it.
fn limited(standing: Standing, reading: RepeatReading) -> RepeatReading {
    let limitation = match standing {
        Standing::Full => None,
        Standing::LowerBound => Some(Limitation::StartsInContact { force_n: 40.0 }),
        Standing::EitherWay => Some(Limitation::NoReading {
            seen: NothingRead::AllEqual,
        }),
    };
    let limited = RepeatReading::new(
        &reading.log,
        0,
        Measure::PeakForce,
        reading.value,
        limitation,
        None,
    );
    assert_eq!(limited.standing(), standing);
    limited
}

fn any_reading() -> impl Strategy<Value = RepeatReading> {
    let value = prop_oneof![
        8 => (0.0..2000.0).prop_map(|value| Ok(Newton(value).into())),
        1 => Just(Err(Unmeasured::NotReleased)),
        1 => Just(Ok(Newton(f64::NAN).into())),
        1 => Just(Ok(Second(1.0).into())),
    ];
    (value, any_standing()).prop_map(|(value, standing)| {
        let number = value.map_or(1.0, Quantity::get);
        RepeatReading {
            value,
            ..limited(
                standing,
                reading(0, if number.is_nan() { 1.0 } else { number }),
            )
        }
    })
}

fn any_finding() -> impl Strategy<Value = Finding> {
    let rule = prop::sample::select(DecisionRule::ALL.map(|(_, rule)| rule).to_vec());
    let assessed = prop_oneof![Just(Assessed::Mean), Just(Assessed::Worst)];
    let u = prop::option::of(0.0..40.0_f64);
    (
        prop::collection::vec(any_reading(), 0..5),
        1_usize..4,
        rule,
        assessed,
        u,
    )
        .prop_map(|(repeats, wanted, rule, assessed, u)| {
            let mut one = finding(&[]);
            one.limit.assessed = assessed;
            Finding {
                repeats,
                wanted,
                rule,
                budget: u.map(budget),
                ..one
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn within_needs_every_wanted_hit_in_full(one in any_finding()) {
        if one.verdict() == Verdict::Within {
            prop_assert!(one.repeats.len() >= one.wanted);
            prop_assert!(one.repeats.iter().all(|repeat| repeat.standing() == Standing::Full));
            prop_assert!(one.repeats.iter().all(|repeat| repeat.number(Dimension::Force).is_ok()));
            prop_assert!(one.value().unwrap() <= one.limit.value);
        }
        if one.verdict() == Verdict::Over {
            prop_assert!(one.value().unwrap() > one.limit.value);
        }
        if one.verdict() == Verdict::Undecided {
            prop_assert!(!one.reasons().is_empty(), "an undecided finding says why");
        }
    }

    #[test]
    fn worse_evidence_never_makes_a_pass(one in any_finding(), place in 0_usize..5) {
        let before = one.verdict();
        if place < one.repeats.len() {
            for standing in [Standing::LowerBound, Standing::EitherWay] {
                let mut poorer = one.clone();
                poorer.repeats[place] = limited(standing, reading(place, 1.0));
                prop_assert_ne!(poorer.verdict(), Verdict::Within);
            }
            let mut fewer = one.clone();
            fewer.repeats.remove(place);
            fewer.wanted = one.wanted.max(one.repeats.len());
            prop_assert_ne!(fewer.verdict(), Verdict::Within);
        }
        let mut doubted = one;
        doubted.not_current.push(changed());
        prop_assert_eq!(doubted.verdict() == Verdict::Over, before == Verdict::Over);
        prop_assert_ne!(doubted.verdict(), Verdict::Within);
    }

    #[test]
    fn a_greater_reading_never_improves_the_verdict(one in any_finding(), place in 0_usize..5, more in 0.0..500.0_f64) {
        let rank = |verdict: Verdict| match verdict {
            Verdict::Within => 0,
            Verdict::Undecided => 1,
            Verdict::Over => 2,
        };
        if let Some(Ok(value)) = one.repeats.get(place).map(|repeat| repeat.value) {
            let mut greater = one.clone();
            let interval = &mut greater.repeats[place].interval;
            interval.at_least += more;
            interval.at_most += more;
            greater.repeats[place].value = Ok(value.dimension().of(value.get() + more));
            prop_assert!(rank(greater.verdict()) >= rank(one.verdict()));
        }
    }

    #[test]
    fn a_further_hit_never_improves_the_verdict(one in any_finding(), further in any_reading()) {
        let rank = |verdict: Verdict| match verdict {
            Verdict::Within => 0,
            Verdict::Undecided => 1,
            Verdict::Over => 2,
        };
        if one.repeats.len() >= one.wanted {
            let mut more = one.clone();
            more.repeats.push(further);
            prop_assert!(rank(more.verdict()) >= rank(one.verdict()));
        }
    }

    #[test]
    fn the_printed_number_stands_on_the_side_of_the_value(
        offset in prop_oneof![-1e-9..1e-9_f64, -0.5..0.5_f64, -400.0..1000.0_f64],
        expanded in prop::option::of(1e-6..500.0_f64),
        bound in prop_oneof![Just(Bound::AtMost), Just(Bound::Below)],
    ) {
        let limit = Limit { bound, ..limit() };
        let value = limit.value + offset;
        let text = printed(value, &limit, expanded);
        let number: f64 = text.parse().unwrap();
        let rounding = 1e-9 * limit.value;
        let over = |number: f64| match bound {
            Bound::AtMost => number >= limit.value + rounding,
            Bound::Below => number > limit.value - rounding,
        };
        prop_assert_eq!(over(number), over(value), "{} printed as {}", value, text);
    }
}
