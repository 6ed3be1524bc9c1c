//! The drawings of the report: nothing that matters is thinned away, and no two labels overlap.

use proptest::prelude::*;
use relent::report::curve::thinned;
use relent::report::label::{Frame, Labels, spread, width};

/// A record of 2 to 4000 samples with steps of 0.1 to 5 ms.
fn record() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
    prop::collection::vec((1e-4..5e-3, -50.0..2000.0), 2..4000).prop_map(|samples| {
        let mut clock = 0.0;
        let instants = samples.iter().map(|(step, _)| {
            clock += step;
            clock
        });
        (
            instants.collect(),
            samples.iter().map(|(_, force)| *force).collect(),
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_thinned_curve_keeps_the_greatest_and_the_least_force_exactly((times, forces) in record(), columns in 1_usize..300) {
        let window = times[0]..times[times.len() - 1];
        let points = thinned(&times, &forces, window, columns);
        let greatest = |all: &mut dyn Iterator<Item = f64>| all.fold(f64::MIN, f64::max);
        let least = |all: &mut dyn Iterator<Item = f64>| all.fold(f64::MAX, f64::min);
        let mut drawn = points.iter().map(|point| point.1);
        prop_assert_eq!(greatest(&mut drawn), greatest(&mut forces.iter().copied()));
        let mut drawn = points.iter().map(|point| point.1);
        prop_assert_eq!(least(&mut drawn), least(&mut forces.iter().copied()));
        prop_assert!(points.len() <= 4 * (columns + 1) + 2);
        prop_assert!(points.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    }

    #[test]
    fn a_thinned_curve_ends_at_the_window_and_never_leaves_it((times, forces) in record(), from in 0.0..0.4, share in 0.05..1.0) {
        let (first, last) = (times[0], times[times.len() - 1]);
        let start = first + from * (last - first);
        let end = start + share * (last - start);
        for (at, _) in thinned(&times, &forces, start..end, 100) {
            prop_assert!((start..=end).contains(&at), "{at} outside {start}..{end}");
        }
    }

    #[test]
    fn placed_labels_never_overlap_and_stay_inside(anchors in prop::collection::vec((0.0..400.0, 0.0..250.0), 1..25)) {
        let bounds = Frame { left: 0.0, top: 0.0, right: 400.0, bottom: 250.0 };
        let mut labels = Labels::inside(bounds);
        let placed: Vec<Frame> = anchors
            .iter()
            .filter_map(|anchor| labels.place(*anchor, "peak 431.2 N", 11.0))
            .map(|placed| placed.frame)
            .collect();
        for (index, one) in placed.iter().enumerate() {
            prop_assert!(one.left >= 0.0 && one.right <= 400.0 && one.top >= 0.0 && one.bottom <= 250.0);
            prop_assert!(placed[index + 1..].iter().all(|other| !one.overlaps(other)));
        }
    }

    #[test]
    fn spread_places_keep_their_distance_and_their_order(places in prop::collection::vec(0.0..500.0, 1..20), pitch in 1.0..60.0) {
        let apart = spread(&places, pitch, 0.0, f64::INFINITY);
        let mut order: Vec<usize> = (0..places.len()).collect();
        order.sort_by(|a, b| places[*a].total_cmp(&places[*b]));
        for pair in order.windows(2) {
            prop_assert!(apart[pair[1]] - apart[pair[0]] >= pitch - 1e-9);
        }
        prop_assert!(apart.iter().all(|place| *place >= -1e-9));
    }

    #[test]
    fn places_with_room_stay_where_they_are(count in 1_usize..10, start in 0.0..100.0) {
        let places: Vec<f64> = (0..count).map(|k| start + 40.0 * k as f64).collect();
        prop_assert_eq!(spread(&places, 39.0, 0.0, f64::INFINITY), places);
    }
}

#[test]
fn a_text_is_as_wide_as_in_dejavu_sans_or_wider() {
    // Advance widths of DejaVu Sans in 2048ths of an em, read from the font's hmtx table: digits 1303, space 651, N 1532.
    let em = |units: f64| units / 2048.0;
    let expected = 5.0 * em(1303.0) + em(651.0) + em(1532.0);
    assert!(width("43120 N", 1.0) >= expected);
    assert!(width("43120 N", 1.0) < 1.1 * expected);
}
