//! Laws of the outline of a column of numbers: every search through it finds what looking at each value finds.

use proptest::collection::vec;
use proptest::prelude::*;
use relent::measure::{Zeroed, crossings, maxima};
use relent::trace::{Outline, Outlined, Trace};

/// Values with many that are equal, among them both zeros.
fn values() -> impl Strategy<Value = Vec<f64>> {
    let value = (-9_i32..10, any::<bool>()).prop_map(|(tenths, negative)| {
        let sign = if negative && tenths == 0 { -1.0 } else { 1.0 };
        sign * f64::from(tenths) / 10.0
    });
    vec(value, 1..120)
}

/// Index of the first value from `from` on that passes a test.
fn first(values: &[f64], from: usize, passes: impl Fn(f64) -> bool) -> Option<usize> {
    (from..values.len()).find(|at| passes(values[*at]))
}

/// The maxima of prominence at least `least`, as their definition has them, sample by sample.
fn prominent(values: &[f64], least: f64) -> Vec<usize> {
    let (mut found, mut climbing, mut turn) = (Vec::new(), false, 0);
    for (at, value) in values.iter().enumerate() {
        let held = values[turn];
        if climbing && *value > held || !climbing && *value < held {
            turn = at;
        } else if climbing && held - value >= least {
            found.push(turn);
            (climbing, turn) = (false, at);
        } else if !climbing && value - held >= least {
            (climbing, turn) = (true, at);
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn an_outline_shows_the_ends_and_the_distances_of_all_values(values in values()) {
        let outline = Outline::of(&values);
        let distances: Vec<f64> = values.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect();
        let differ = distances.iter().copied().filter(|distance| *distance > 0.0);
        prop_assert_eq!(outline.whole().least, values.iter().copied().fold(f64::INFINITY, f64::min));
        prop_assert_eq!(outline.whole().most, values.iter().copied().fold(f64::NEG_INFINITY, f64::max));
        prop_assert_eq!(outline.distances().least, differ.fold(f64::INFINITY, f64::min));
        prop_assert_eq!(outline.distances().most, distances.iter().copied().fold(0.0, f64::max));
        prop_assert!(outline.is_finite());
    }

    #[test]
    fn a_value_that_is_not_finite_shows(values in values(), at in any::<prop::sample::Index>(), which in 0_usize..3) {
        let mut values = values;
        let at = at.index(values.len());
        values[at] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY][which];
        prop_assert!(!Outline::of(&values).is_finite());
    }

    #[test]
    fn a_search_by_spans_finds_the_first_and_the_greatest(
        values in values(),
        ends in (0_usize..130, 0_usize..130),
        level in -10_i32..11,
    ) {
        let outline = Outline::of(&values);
        let outlined = Outlined::new(&values, outline.spans());
        let level = f64::from(level) / 10.0;
        let (from, to) = (ends.0.min(ends.1), ends.0.max(ends.1));
        let above = outlined.first(from, |span| span.most > level, |value| value > level);
        prop_assert_eq!(above, first(&values, from, |value| value > level));
        let greatest = values.get(from..to).and_then(|some| {
            let most = some.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            first(&values[..to], from, |value| value == most)
        });
        prop_assert_eq!(outlined.greatest(from..to), greatest);
    }

    #[test]
    fn stays_and_maxima_are_those_found_sample_by_sample(values in values(), level in -10_i32..11, zero in -20_i32..20) {
        let times: Vec<f64> = (0..values.len()).map(|at| at as f64).collect();
        let trace = Trace::new(times, values).unwrap();
        let record = Zeroed::raw(&trace).unwrap().less(f64::from(zero) / 7.0);
        let (level, forces) = (f64::from(level) / 10.0, record.forces());
        let mut expected = Vec::new();
        let mut next = 0;
        while let Some(up) = first(forces, next, |force| force > level) {
            next = first(forces, up, |force| force <= level).unwrap_or(forces.len());
            expected.push((up, next - 1));
        }
        let stays = crossings::stays(&record, level);
        prop_assert_eq!(stays.iter().map(|stay| (stay.first, stay.last)).collect::<Vec<_>>(), expected);
        let least = level.abs() + 0.05;
        prop_assert_eq!(maxima::prominent(forces, least), prominent(forces, least));
    }
}
