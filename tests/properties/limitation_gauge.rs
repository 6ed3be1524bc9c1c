//! What the gauge's facts let a reading show.

use jiff::civil::date;
use relent::limitation::{
    AsFound, Calibration, LaterCertificate, Opens, SetBy, SpringBand, Standing, Uncovered,
    at_capacity, calibration, capacity_below_limit, spring_rate,
};
use relent::measure::Measure;
use relent::quantity::{Newton, NewtonPerMillimetre};
use relent::trace::Trace;

use crate::measure::{hit, measured};

#[test]
fn a_gauge_that_cannot_show_more_than_the_limit_never_shows_it_kept() {
    let bounded = |capacity| {
        capacity_below_limit(Newton(capacity), Measure::PeakForce, Newton(400.0))
            .map(|one| one.leaves(Standing::LowerBound).collect::<Vec<_>>())
    };
    assert_eq!(bounded(300.0), Some(vec![Measure::PeakForce]));
    assert_eq!(bounded(400.0), Some(vec![Measure::PeakForce]));
    assert_eq!(bounded(400.5), None);
}

#[test]
fn a_peak_at_the_gauge_s_capacity_is_a_lower_bound() {
    let (times, forces) = hit(1000.0, 800.0, 0.0, 0.0);
    let forces: Vec<f64> = forces.iter().map(|f| f.min(500.0)).collect();
    let trace = Trace::new(times, forces).unwrap();
    let response = measured(&trace);
    let reached = at_capacity(&trace, &response, Newton(500.0), SetBy::Gauge).unwrap();
    assert_eq!(reached.opens(Measure::PeakForce), Opens::Above);
    assert_eq!(
        at_capacity(&trace, &response, Newton(505.0), SetBy::Gauge),
        None
    );
}

#[test]
fn a_spring_rate_at_the_edge_of_the_band_is_in_it_and_an_unknown_one_is_not() {
    let asked = SpringBand {
        rate: NewtonPerMillimetre(500.0),
        either_way: NewtonPerMillimetre(50.0),
    };
    let voids = |rate: Option<f64>| {
        spring_rate(rate.map(NewtonPerMillimetre), asked)
            .map(|one| one.leaves(Standing::EitherWay).count())
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
        as_found: AsFound::NotStated,
    };
    let covered = |known: &Calibration, day| calibration(&[*known], &[], day).is_none();
    assert_eq!(known.holds_until(), Some(date(2026, 2, 28)));
    assert!(covered(&known, date(2026, 2, 28)));
    assert!(!covered(&known, date(2026, 3, 1)));
    assert!(!covered(&known, date(2025, 2, 27)));
    let longer = Calibration {
        due: Some(date(2027, 2, 28)),
        ..known
    };
    assert_eq!(longer.holds_until(), Some(date(2026, 2, 28)));
    let shorter = Calibration {
        due: Some(date(2025, 12, 31)),
        ..known
    };
    assert!(!covered(&shorter, date(2026, 1, 1)));
    assert!(!covered(&Calibration::default(), date(2026, 1, 1)));
}

/// A calibration of a day that holds for a year.
fn certificate(year: i16, month: i8, as_found: AsFound) -> Calibration {
    Calibration {
        calibrated_on: Some(date(year, month, 1)),
        due: None,
        months: Some(12.0),
        as_found,
    }
}

/// Common practice of calibration and audit, no source.
#[test]
fn a_later_certificate_covers_an_earlier_test_only_if_the_gauge_was_found_within_its_limits() {
    let old = certificate(2024, 6, AsFound::NotStated);
    let tested = date(2025, 9, 10);
    let covered = |all: &[Calibration]| calibration(all, &[], tested).is_none();
    assert!(!covered(&[old]), "expired on the day of the test");
    let plain = certificate(2026, 1, AsFound::NotStated);
    assert!(
        !covered(&[old, plain]),
        "a plain new certificate covers tests from its day on"
    );
    assert_eq!(
        calibration(&[old, plain], &[], tested),
        Some(Uncovered::Expired {
            until: date(2025, 6, 1),
            later: Some(LaterCertificate::AsFoundNotStated {
                calibrated_on: date(2026, 1, 1)
            }),
        })
    );
    assert!(calibration(&[old, plain], &[], date(2026, 1, 1)).is_none());
    let found = certificate(2026, 1, AsFound::Within);
    assert!(covered(&[old, found]) && covered(&[found, old]));
    assert!(!covered(&[found]), "nothing is known before the test");
    let again = certificate(2025, 7, AsFound::NotStated);
    assert!(
        covered(&[old, again]),
        "another calibration before the test covers it"
    );
}

#[test]
fn a_gauge_found_outside_its_limits_puts_every_test_since_the_last_calibration_in_doubt() {
    let old = certificate(2025, 1, AsFound::NotStated);
    let outside = certificate(2026, 1, AsFound::Outside);
    let all = [old, outside];
    assert_eq!(
        calibration(&all, &[], date(2025, 6, 1)),
        Some(Uncovered::FoundOutside {
            found_on: date(2026, 1, 1)
        })
    );
    assert!(calibration(&all[..1], &[], date(2025, 6, 1)).is_none());
    assert!(
        calibration(&all, &[], date(2026, 2, 1)).is_none(),
        "it was set right then"
    );
    let between = certificate(2025, 8, AsFound::NotStated);
    let all = [old, between, outside];
    assert!(
        calibration(&all, &[], date(2025, 6, 1)).is_none(),
        "only back to the calibration before"
    );
}

#[test]
fn a_repaired_gauge_needs_a_new_calibration() {
    let old = certificate(2025, 1, AsFound::NotStated);
    let repaired = [date(2025, 3, 1)];
    assert!(calibration(&[old], &repaired, date(2025, 2, 1)).is_none());
    assert!(calibration(&[old], &repaired, date(2025, 4, 1)).is_some());
    // Found within its limits at both ends says nothing of the time before a repair in between.
    let found = certificate(2026, 6, AsFound::Within);
    let late = [date(2026, 3, 1)];
    assert!(calibration(&[old, found], &[], date(2026, 2, 1)).is_none());
    assert!(calibration(&[old, found], &late, date(2026, 2, 1)).is_some());
}
