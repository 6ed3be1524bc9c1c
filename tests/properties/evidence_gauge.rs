//! What the gauge's facts let a reading show.

use jiff::civil::date;
use relent::evidence::{
    Calibration, Kind, SpringBand, at_capacity, calibration, capacity_below_limit, spring_rate,
};
use relent::quantity::{Newton, NewtonPerMillimetre};
use relent::response::Measure;
use relent::trace::Trace;

use crate::response::{hit, measured};

#[test]
fn a_gauge_that_cannot_show_more_than_the_limit_never_shows_it_kept() {
    let kind = |capacity| {
        capacity_below_limit(Newton(capacity), Measure::PeakForce, Newton(400.0))
            .map(|one| (one.kind, one.bounds))
    };
    let bound = Some((Kind::CapacityBelowLimit, vec![Measure::PeakForce]));
    assert_eq!(kind(300.0), bound);
    assert_eq!(kind(400.0), bound);
    assert_eq!(kind(400.5), None);
}

#[test]
fn a_peak_at_the_gauge_s_capacity_is_a_lower_bound() {
    let (times, forces) = hit(1000.0, 800.0, 0.0, 0.0);
    let response = measured(
        &Trace::new(
            times,
            forces.iter().map(|f| f.min(500.0)).collect::<Vec<_>>(),
        )
        .unwrap(),
    );
    let evidence = at_capacity(&response, Newton(500.0)).unwrap();
    assert_eq!(evidence.kind, Kind::FlatTop);
    assert!(evidence.bounds.contains(&Measure::PeakForce));
    assert_eq!(at_capacity(&response, Newton(500.5)), None);
}

#[test]
fn a_spring_rate_at_the_edge_of_the_band_is_in_it_and_an_unknown_one_is_not() {
    let asked = SpringBand {
        rate: NewtonPerMillimetre(500.0),
        either_way: NewtonPerMillimetre(50.0),
    };
    let voids = |rate: Option<f64>| {
        spring_rate(rate.map(NewtonPerMillimetre), asked).map(|one| one.voids.len())
    };
    assert_eq!(voids(Some(450.0)), None);
    assert_eq!(voids(Some(550.0)), None);
    assert_eq!(voids(Some(550.1)), Some(16));
    assert_eq!(voids(None), Some(16));
}

#[test]
fn a_calibration_holds_to_the_earlier_of_the_certificate_s_and_the_rule_s_last_day() {
    let known = Calibration {
        calibrated_on: Some(date(2025, 2, 28)),
        due: None,
        months: Some(12.0),
    };
    let kind = |known: &Calibration, day| calibration(known, day).map(|one| one.kind);
    assert_eq!(known.holds_until(), Some(date(2026, 2, 28)));
    assert_eq!(kind(&known, date(2026, 2, 28)), None);
    assert_eq!(kind(&known, date(2026, 3, 1)), Some(Kind::Calibration));
    assert_eq!(kind(&known, date(2025, 2, 27)), Some(Kind::Calibration));
    let longer = Calibration {
        due: Some(date(2027, 2, 28)),
        ..known
    };
    assert_eq!(longer.holds_until(), Some(date(2026, 2, 28)));
    let shorter = Calibration {
        due: Some(date(2025, 12, 31)),
        ..known
    };
    assert_eq!(kind(&shorter, date(2026, 1, 1)), Some(Kind::Calibration));
    assert_eq!(
        kind(&Calibration::default(), date(2026, 1, 1)),
        Some(Kind::Calibration)
    );
}
