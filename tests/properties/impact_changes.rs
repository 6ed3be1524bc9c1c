//! What to change: each predicted change, put back into the model, does what was predicted.

use relent::impact::closed_form::{EdgeNeeded, peak_force_with_nose};
use relent::impact::fit::{Pulse, fit};
use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{
    After, Detection, Drive, Gear, Model, Motion, Push, Reaction, STEP, simulate,
};
use relent::impact::what_to_change::{Change, MeasuredHit, NoPrediction, what_to_change};
use relent::impact::{Edge, ImpactError, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};

const GAUGE: NewtonPerMillimetre = NewtonPerMillimetre(500.0);

/// 420 kg on an edge of 30 N/mm that stays soft, pushed with 90 N at 120 mm/s: 523 N.
fn measured() -> MeasuredHit {
    let edge = Edge::new(NewtonPerMillimetre(30.0), Millimetre(40.0)).unwrap();
    let nose = Nose::Elastic(edge);
    let leaf = SpringHit::new(
        Kilogram(420.0),
        MillimetrePerSecond(120.0),
        Newton(90.0),
        GAUGE,
    )
    .unwrap();
    MeasuredHit {
        peak: peak_force_with_nose(&leaf, &nose).unwrap(),
        limit: Newton(400.0),
        speed: leaf.speed(),
        drive: leaf.drive(),
        gauge: GAUGE,
        mass: leaf.mass(),
        gap: Millimetre(500.0),
    }
}

#[test]
fn the_order_is_mechanics_speed_zone_edge_and_sensitivity_last() {
    let prediction = what_to_change(&measured()).unwrap();
    // 1/(1/30 + 1/500) N/mm.
    assert!((prediction.leaf.rate().get() - 28.301_886_792).abs() < 1e-6);
    let [
        Change::Mechanics { .. },
        Change::Speed { .. },
        Change::SlowDownZone { .. },
        Change::Edge { .. },
        Change::Sensitivity { .. },
    ] = prediction.changes.as_slice()
    else {
        panic!("{:?}", prediction.changes);
    };
}

#[test]
fn each_predicted_change_brings_the_model_to_the_limit() {
    let hit = measured();
    let prediction = what_to_change(&hit).unwrap();
    let present = Edge::new(NewtonPerMillimetre(30.0), Millimetre(40.0)).unwrap();
    let peak = |speed, edge| {
        let leaf = SpringHit::new(hit.mass, speed, hit.drive, GAUGE).unwrap();
        peak_force_with_nose(&leaf, &Nose::Elastic(edge)).unwrap()
    };
    let mut seen = 0;
    for change in &prediction.changes {
        match change {
            Change::Speed { greatest } => {
                let slower = peak(greatest.unwrap(), present);
                assert!((slower - hit.limit).get().abs() < 1e-6);
                seen += 1;
            }
            Change::SlowDownZone { begins_at, .. } => {
                assert!(begins_at.unwrap() > hit.gap);
                seen += 1;
            }
            Change::Edge {
                needed: EdgeNeeded::Edge(edge),
            } => {
                let softer = peak(hit.speed, *edge);
                assert!((softer - hit.limit).get().abs() < 1e-6);
                seen += 1;
            }
            Change::Mechanics {
                peak_without_push, ..
            }
            | Change::Sensitivity {
                peak_left: peak_without_push,
            } => {
                assert!(*peak_without_push < hit.peak);
                assert!(!change.may_suffice(hit.limit));
                seen += 1;
            }
            Change::Edge { needed } => panic!("{needed:?}"),
        }
    }
    assert_eq!(seen, 5);
}

/// A drive that notices by its load, brakes and reverses, on an edge that goes solid.
fn reacting(speed: MillimetrePerSecond, edge: Edge, delay: f64) -> Motion {
    let reaction = Reaction {
        push: Push::Constant,
        detection: Detection::EdgeForce {
            threshold: Newton(60.0),
        },
        delay: Second(delay),
        braking: Second(0.05),
        pause: Second(0.08),
        after: After::Reverses {
            speed: MillimetrePerSecond(120.0),
            ramp: Second(0.12),
            distance: Millimetre(300.0),
        },
        gear: Gear {
            stiffness: NewtonPerMillimetre(80.0),
            damping_n_s_per_m: 5000.0,
            greatest: Newton(420.0),
        },
    };
    let model = Model {
        hit: SpringHit::new(Kilogram(420.0), speed, Newton(90.0), GAUGE).unwrap(),
        nose: Nose::Elastic(edge),
        damping_ratio: 0.05,
        drive: Drive::Reacts(reaction),
    };
    simulate(&model, Second(2.0), STEP).unwrap()
}

#[test]
fn a_drive_that_brakes_and_an_edge_gone_solid_make_the_prediction_cautious_not_bold() {
    let edge = |rate, travel| Edge::new(NewtonPerMillimetre(rate), Millimetre(travel)).unwrap();
    let mut predicted = 0;
    for delay in [0.03, 0.06, 0.09, 0.3] {
        for speed in [100.0, 130.0, 160.0, 200.0] {
            for travel in [8.0, 12.0, 17.0, 40.0] {
                let (speed, present) = (MillimetrePerSecond(speed), edge(22.0, travel));
                let peak = reacting(speed, present, delay).peak_force();
                if peak <= Newton(400.0) {
                    continue;
                }
                let prediction = what_to_change(&MeasuredHit {
                    peak,
                    speed,
                    ..measured()
                })
                .unwrap();
                for change in &prediction.changes {
                    let then = match change {
                        Change::Speed { greatest } => {
                            reacting(greatest.unwrap(), present, delay).peak_force()
                        }
                        Change::Edge {
                            needed: EdgeNeeded::Edge(needed),
                        } => reacting(speed, *needed, delay).peak_force(),
                        _ => continue,
                    };
                    assert!(then.get() <= 400.0, "{peak}, {change}: {then}");
                    predicted += 1;
                }
            }
        }
    }
    assert!(
        predicted > 60,
        "{predicted} predictions held against simulations"
    );
}

#[test]
fn a_leaf_too_light_for_its_peak_is_not_believed() {
    let light = MeasuredHit {
        mass: Kilogram(1.0),
        ..measured()
    };
    let refused = what_to_change(&light).unwrap_err();
    assert!(matches!(refused, NoPrediction::MoreThanStated { .. }));
}

#[test]
fn the_slow_down_zone_is_as_long_as_the_push_needs_to_brake() {
    let hit = measured();
    let prediction = what_to_change(&hit).unwrap();
    let Change::SlowDownZone {
        speed: Some(slow),
        begins_at: Some(begin),
    } = prediction.changes[2]
    else {
        panic!("{:?}", prediction.changes[2]);
    };
    // Uniform deceleration of 90 N / 420 kg over that way, by v² = v₀² − 2 a s.
    let way_m = (begin - hit.gap).get() / 1e3;
    let left = 0.12_f64.powi(2) - 2.0 * 90.0 / 420.0 * way_m;
    assert!((left.sqrt() * 1e3 - slow.get()).abs() < 1e-6);
}

#[test]
fn the_text_says_that_it_is_a_prediction_and_to_test_again() {
    let text = what_to_change(&measured()).unwrap().to_string();
    assert!(text.starts_with(
        "prediction, not a measurement: a leaf of 420 kg at 120 mm/s on 28.3 N/mm in all\n1. mechanics"
    ));
    assert!(text.contains("\n5. sensitivity, last:"));
    assert!(text.ends_with("after any change, test again"));
}

#[test]
fn there_is_no_prediction_for_a_hit_within_the_limit_or_a_push_that_explains_too_much() {
    let within = MeasuredHit {
        limit: Newton(5000.0),
        ..measured()
    };
    assert!(matches!(
        what_to_change(&within),
        Err(NoPrediction::NotOver { .. })
    ));
    let pushed = MeasuredHit {
        drive: Newton(3000.0),
        ..measured()
    };
    assert!(matches!(
        what_to_change(&pushed),
        Err(NoPrediction::PushExplainsMore { .. })
    ));
    let still = MeasuredHit {
        speed: MillimetrePerSecond(0.0),
        ..measured()
    };
    assert!(matches!(
        what_to_change(&still),
        Err(NoPrediction::Number(ImpactError::NotPositive { .. }))
    ));
}

/// Fits what a gauge logged of a bare leaf of 300 kg at 150 mm/s and a push, from 20 N to just past the peak.
fn fitted_from_a_log(push: f64, noise: f64) -> Pulse {
    let leaf = SpringHit::new(
        Kilogram(300.0),
        MillimetrePerSecond(150.0),
        Newton(push),
        GAUGE,
    )
    .unwrap();
    let model = Model {
        hit: leaf,
        nose: Nose::Bare,
        damping_ratio: 0.0,
        drive: Drive::NeverNotices,
    };
    let motion = simulate(&model, Second(0.1), STEP).unwrap();
    let gauge = Gauge {
        rate: Hertz(2000.0),
        phase: 0.3,
        lead: Second(0.3),
        record: Second(0.1),
        averaging: Averaging::None,
        noise: Newton(noise),
        seed: 3,
        zero: Newton(0.0),
        drift_n_per_s: 0.0,
        capacity: Newton(5000.0),
        resolution: Newton(0.1),
    };
    let trace = log(&motion, &gauge).unwrap();
    let until = 0.2998 + motion.time_to_peak().get() * 1.3;
    let stretch: (Vec<f64>, Vec<f64>) = trace
        .times()
        .iter()
        .zip(trace.forces())
        .filter(|(t, f)| **t <= until && **f > 20.0)
        .unzip();
    fit(&stretch.0, &stretch.1).unwrap()
}

#[test]
fn a_fit_finds_the_leaf_that_a_gauge_logged() {
    for push in [0.0, 100.0, 250.0] {
        let found = fitted_from_a_log(push, 0.5);
        let leaf = found.with_rate(GAUGE).unwrap();
        assert!((leaf.mass.get() - 300.0).abs() < 6.0, "{leaf:?}");
        assert!((leaf.speed.get() - 150.0).abs() < 2.0, "{leaf:?}");
        let leaf = found.with_speed(MillimetrePerSecond(150.0)).unwrap();
        assert!((leaf.mass.get() - 300.0).abs() < 6.0, "{leaf:?}");
        assert!((leaf.rate.get() - 500.0).abs() < 10.0, "{leaf:?}");
        assert!((found.push.get() - push).abs() < 40.0, "{found:?}");
        assert!((found.contact.get() - 0.29985).abs() < 2e-4, "{found:?}");
    }
}

#[test]
fn a_straight_line_or_too_few_samples_are_not_fitted() {
    let times: Vec<f64> = (0..50).map(|i| f64::from(i) * 1e-3).collect();
    let line: Vec<f64> = times.iter().map(|t| 100.0 * t).collect();
    assert_eq!(fit(&times, &line), Err(ImpactError::NoPulse));
    assert_eq!(
        fit(&times[..5], &line[..5]),
        Err(ImpactError::TooFewSamples {
            samples: 5,
            least: 8
        })
    );
}
