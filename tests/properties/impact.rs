//! Laws of the model of a hit and of the gauge that logs it.

use proptest::prelude::*;
use relent::impact::closed_form::{self, EdgeNeeded};
use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{Drive, Model, Motion, STEP, simulate};
use relent::impact::{Edge, ImpactError, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};

const GAUGE: NewtonPerMillimetre = NewtonPerMillimetre(500.0);

fn hit(mass: f64, speed: f64, drive: f64) -> SpringHit {
    SpringHit::new(
        Kilogram(mass),
        MillimetrePerSecond(speed),
        Newton(drive),
        GAUGE,
    )
    .unwrap()
}

fn motion(hit: SpringHit, nose: Nose, damping_ratio: f64, until: f64) -> Motion {
    let model = Model {
        hit,
        nose,
        damping_ratio,
        drive: Drive::NeverNotices,
    };
    simulate(&model, Second(until), STEP).unwrap()
}

fn gauge() -> Gauge {
    Gauge {
        rate: Hertz(1000.0),
        phase: 0.4,
        lead: Second(0.3),
        record: Second(0.2),
        averaging: Averaging::None,
        noise: Newton(0.5),
        seed: 7,
        zero: Newton(2.0),
        drift_n_per_s: 0.0,
        capacity: Newton(2000.0),
        resolution: Newton(0.1),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn the_simulated_peak_is_that_of_the_closed_form(
        mass in 50.0..800.0_f64, speed in 20.0..300.0_f64, drive in 0.0..300.0_f64,
        rate in 5.0..80.0_f64, travel in 3.0..40.0_f64,
    ) {
        let nose = Nose::Elastic(Edge::new(NewtonPerMillimetre(rate), Millimetre(travel)).unwrap());
        let hit = hit(mass, speed, drive);
        let closed = closed_form::peak_force_with_nose(&hit, &nose).unwrap().get();
        let soft = closed_form::rate_in_series(GAUGE, NewtonPerMillimetre(rate)).unwrap();
        let until = closed_form::contact_time(&hit.on_spring(soft).unwrap()).get();
        let simulated = motion(hit, nose, 0.0, until).peak_force().get();
        prop_assert!((simulated - closed).abs() < 1e-6 * closed, "{simulated} N, {closed} N");
    }

    #[test]
    fn a_loss_only_lowers_the_peak(
        mass in 50.0..800.0_f64, speed in 20.0..300.0_f64, drive in 0.0..300.0_f64, ratio in 0.001..0.9_f64,
    ) {
        let hit = hit(mass, speed, drive);
        let damped = closed_form::damped_peak_force(&hit, ratio).unwrap();
        prop_assert!(damped < closed_form::peak_force(&hit));
        let simulated = motion(hit, Nose::Bare, ratio, closed_form::contact_time(&hit).get() * 4.0);
        prop_assert!((simulated.peak_force() - damped).get().abs() < 1e-6 * damped.get());
    }

    #[test]
    fn greatest_speed_mass_and_edge_are_inverses_of_the_peak(
        mass in 50.0..800.0_f64, speed in 60.0..300.0_f64, drive in 0.0..190.0_f64,
        rate in 5.0..80.0_f64, travel in 3.0..40.0_f64,
    ) {
        let limit = Newton(400.0);
        let nose = Nose::Elastic(Edge::new(NewtonPerMillimetre(rate), Millimetre(travel)).unwrap());
        let leaf = hit(mass, speed, drive);
        if let Some(slow) = closed_form::greatest_speed_with_nose(&leaf, &nose, limit).unwrap() {
            let at_limit = hit(mass, slow.get(), drive);
            let peak = closed_form::peak_force_with_nose(&at_limit, &nose).unwrap();
            prop_assert!((peak - limit).get().abs() < 1e-6);
        }
        let peak = closed_form::peak_force_with_nose(&leaf, &nose).unwrap();
        let back = closed_form::mass_from_peak(peak, leaf.speed(), leaf.drive(), GAUGE, &nose).unwrap();
        prop_assert!((back.unwrap().get() - mass).abs() < 1e-6 * mass);
        match closed_form::edge_for_limit(&leaf, limit).unwrap() {
            EdgeNeeded::Edge(edge) => {
                let peak = closed_form::peak_force_with_nose(&leaf, &Nose::Elastic(edge)).unwrap();
                prop_assert!((peak - limit).get().abs() < 1e-6);
            }
            EdgeNeeded::None => prop_assert!(closed_form::peak_force(&leaf) <= limit),
            EdgeNeeded::PushTooStrong => prop_assert!(drive >= 200.0),
        }
    }
}

#[test]
fn numbers_that_make_no_sense_are_refused_by_name() {
    let refused = SpringHit::new(
        Kilogram(0.0),
        MillimetrePerSecond(100.0),
        Newton(0.0),
        GAUGE,
    );
    assert_eq!(
        refused.unwrap_err().to_string(),
        "mass is 0 kg, expected a number greater than 0 kg"
    );
    let refused = SpringHit::new(
        Kilogram(200.0),
        MillimetrePerSecond(f64::NAN),
        Newton(0.0),
        GAUGE,
    );
    assert_eq!(
        refused.unwrap_err().to_string(),
        "approach speed is NaN mm/s, expected 0 mm/s or more"
    );
    let overdamped = closed_form::damped_peak_force(&hit(200.0, 100.0, 0.0), 1.0);
    assert!(matches!(overdamped, Err(ImpactError::OutOfRange { .. })));
}

#[test]
fn a_gauge_shows_its_zero_and_noise_and_the_same_seed_the_same_log() {
    let motion = motion(hit(200.0, 100.0, 0.0), Nose::Bare, 0.1, 0.2);
    let quiet = Gauge {
        lead: Second(20.0),
        ..gauge()
    };
    let one = log(&motion, &quiet).unwrap();
    let forces: Vec<f64> = one.forces().iter().copied().take(19_900).collect();
    let mean = forces.iter().sum::<f64>() / forces.len() as f64;
    let spread =
        (forces.iter().map(|f| (f - mean).powi(2)).sum::<f64>() / forces.len() as f64).sqrt();
    // Five standard errors of the mean and of the standard deviation of 19 900 normal values.
    assert!((mean - 2.0).abs() < 5.0 * 0.5 / 141.0, "mean {mean} N");
    assert!(
        (spread - 0.5).abs() < 5.0 * 0.5 / 199.0,
        "spread {spread} N"
    );
    assert_eq!(one.forces(), log(&motion, &quiet).unwrap().forces());
    let other = log(&motion, &Gauge { seed: 8, ..quiet }).unwrap();
    assert_ne!(one.forces(), other.forces());
}

#[test]
fn a_gauge_clips_at_its_capacity_and_counts_in_its_steps() {
    let motion = motion(hit(200.0, 100.0, 0.0), Nose::Bare, 0.0, 0.2);
    let clipped = log(
        &motion,
        &Gauge {
            capacity: Newton(600.0),
            ..gauge()
        },
    )
    .unwrap();
    let top = clipped.forces().iter().copied().fold(f64::MIN, f64::max);
    let flat = clipped.forces().iter().filter(|f| **f == top).count();
    assert!(
        (top - 600.0).abs() < 1e-9 && flat > 10,
        "{flat} samples at {top} N"
    );
    for force in clipped.forces() {
        assert!((force * 10.0 - (force * 10.0).round()).abs() < 1e-9);
    }
}

#[test]
fn averaging_lowers_the_peak_of_a_pulse_by_what_the_half_sine_says() {
    let hit = hit(200.0, 100.0, 0.0);
    let motion = motion(hit, Nose::Bare, 0.0, 0.2);
    let window = 0.02;
    let averaged = Gauge {
        rate: Hertz(100_000.0),
        averaging: Averaging::Over(Second(window)),
        noise: Newton(0.0),
        zero: Newton(0.0),
        resolution: Newton(1e-6),
        ..gauge()
    };
    let trace = log(&motion, &averaged).unwrap();
    let top = trace.forces().iter().copied().fold(0.0, f64::max);
    // The mean of P sin ωt over a window about the peak: P sin(ωw/2)/(ωw/2).
    let half = hit.angular_frequency() * window / 2.0;
    let expected = 1000.0 * half.sin() / half;
    assert!((top - expected).abs() < 1e-3, "{top} N, {expected} N");
    assert_eq!(trace.averaging.as_deref(), Some("mean over 0.02 s"));
}
