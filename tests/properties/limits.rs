//! Laws of profiles and of test-point plans on every built-in profile.

use proptest::prelude::*;
use relent::limits::{
    Direction, Hazard, Leaf, Motion, Obstacle, PlanError, TestPoint, VisitKind, names, profile,
    wanted_points,
};
use relent::measure::Measure;
use relent::report::profiles::{Likeness, Table, built_in, compare, pairs, show};
use relent::words::{Language, Words};

fn any_leaf() -> impl Strategy<Value = Leaf> {
    let obstacle = prop::option::of((0.0..2000.0_f64, prop::option::of(10.0..3000.0_f64)));
    let motion = prop::sample::select(Motion::ALL.to_vec());
    (
        motion,
        100.0..8000.0_f64,
        500.0..12_000.0_f64,
        100.0..12_000.0_f64,
        obstacle,
    )
        .prop_map(|(motion, height_mm, width_mm, opening_mm, obstacle)| Leaf {
            motion,
            height_mm,
            width_mm,
            opening_mm,
            obstacle: obstacle.map(|(space_mm, height_mm)| Obstacle {
                space_mm,
                height_mm,
            }),
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn every_wanted_point_lies_on_the_leaf_within_its_travel_and_has_a_limit(leaf in any_leaf()) {
        let profile = profile("en12453-2017").unwrap();
        for visit in [VisitKind::First, VisitKind::Recurring, VisitKind::AfterChange] {
            let plan = match wanted_points(&profile, &leaf, visit, None) {
                Ok(plan) => plan,
                Err(PlanError::NoRule { motion, .. }) => {
                    prop_assert_eq!(motion, Motion::Boom);
                    continue;
                }
                Err(other) => return Err(TestCaseError::fail(format!("{other:?}"))),
            };
            for (place, wanted) in plan.points.iter().enumerate() {
                let at = wanted.point;
                prop_assert!(at.gap_mm >= 50.0 && at.gap_mm <= leaf.opening_mm, "{at:?}");
                let along = if leaf.motion == Motion::Vertical { leaf.width_mm } else { leaf.height_mm };
                prop_assert!(at.height_mm > 0.0 && at.height_mm <= along, "{at:?}");
                prop_assert!(leaf.motion == Motion::Vertical || at.height_mm <= 2500.0, "{at:?}");
                prop_assert_eq!(wanted.repeats, 3);
                prop_assert!(plan.points[..place].iter().all(|other| other.point != at), "{:?} twice", at);
                prop_assert_eq!(profile.no_limit_reason(leaf.motion, &at), None);
            }
        }
    }

    #[test]
    fn at_most_one_peak_limit_applies_anywhere(
        motion in prop::sample::select(Motion::ALL.to_vec()),
        hazard in prop::sample::select(Hazard::ALL.to_vec()),
        direction in prop::sample::select(Direction::ALL.to_vec()),
        gap_mm in prop_oneof![0.0..3000.0_f64, Just(50.0), Just(200.0), Just(500.0), Just(f64::NAN)],
    ) {
        let at = TestPoint { direction, hazard, gap_mm, height_mm: 500.0 };
        for name in names() {
            let profile = profile(name).unwrap();
            for measure in Measure::ALL {
                let limits = profile.limits_at(motion, &at);
                let same = limits.iter().filter(|limit| limit.measure == measure).count();
                prop_assert!(same <= 1, "{}: {} limits of {} at {:?}", name, same, measure, at);
            }
        }
    }
}

#[test]
fn the_tables_are_rectangular_and_name_every_value_with_its_mark() {
    let words = Words::of(Language::English);
    let on_shelf = built_in(words).unwrap();
    assert_eq!(on_shelf.rows.len(), names().len());
    for name in names() {
        let profile = profile(name).unwrap();
        let tables = show(&profile, words);
        for table in &tables {
            assert!(
                table
                    .rows
                    .iter()
                    .all(|row| row.len() == table.columns.len()),
                "{}",
                table.title
            );
            assert_eq!(table.text().lines().count(), table.rows.len() + 2);
        }
        assert_eq!(tables[0].rows.len(), profile.limits.len());
        let text: String = tables.iter().map(Table::text).collect();
        for limit in &profile.limits {
            assert!(text.contains(limit.short_name()) && text.contains(&words.fact(&limit.source)));
        }
        assert!(!text.to_lowercase().contains("complies"));
    }
}

#[test]
fn a_profile_compared_with_itself_is_the_same_and_with_another_is_not() {
    let words = Words::of(Language::English);
    for name in names() {
        let one = profile(name).unwrap();
        assert!(
            pairs(&one, &one, words)
                .iter()
                .all(|pair| pair.likeness == Likeness::Same)
        );
    }
    let (gates, doors) = (
        profile("en12453-2017").unwrap(),
        profile("en16005-2012").unwrap(),
    );
    let found = pairs(&gates, &doors, words);
    let likeness = |name: &str| {
        found
            .iter()
            .find(|pair| pair.name == name)
            .unwrap()
            .likeness
    };
    assert_eq!(likeness("residual-force"), Likeness::Differs);
    assert_eq!(likeness("dynamic-period"), Likeness::Same);
    assert_eq!(likeness("peak-force-flat-face"), Likeness::OnlyFirst);
    assert_eq!(
        likeness("peak-force-closing-edge-8-to-200"),
        Likeness::OnlySecond
    );
    let table = compare(&gates, &doors, words);
    assert_eq!(table.rows.len(), found.len());
    assert!(table.rows.iter().all(|row| row.len() == 6));
}
