//! Laws of the model of a hit, of the gauge that logs it, and of the demo gate.

use std::collections::BTreeMap;
use std::io::Read as _;
use std::sync::LazyLock;

use proptest::prelude::*;
use relent::impact::closed_form::{self, EdgeNeeded};
use relent::impact::demo::{Demo, DemoTruth, Dialect, Flaw, NOT_TESTED, Planned, Visit, demo};
use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{Drive, Model, Motion, STEP, simulate};
use relent::impact::{Edge, ImpactError, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};
use sha2::{Digest, Sha256};

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

static DEMO: LazyLock<Demo> = LazyLock::new(|| demo().unwrap());

fn digest(demo: &Demo) -> String {
    let mut hash = Sha256::new();
    for file in &demo.files {
        hash.update(file.path.as_bytes());
        hash.update(&file.bytes);
    }
    format!("{:x?}", hash.finalize())
}

#[test]
fn the_demo_is_the_same_at_every_call() {
    assert_eq!(digest(&DEMO), digest(&demo().unwrap()));
}

#[test]
fn the_demo_has_every_hit_of_the_plan_but_the_forgotten_place() {
    for visit in Visit::ALL {
        let mut there: Vec<Planned> = DEMO.truths.iter().map(|truth| truth.hit).collect();
        there.retain(|hit| hit.visit == visit);
        let mut wanted = Planned::of(visit);
        assert_eq!(wanted.len(), 27);
        if visit == Visit::First {
            wanted.retain(|hit| (hit.gap_mm, hit.height_mm) != NOT_TESTED);
        }
        assert_eq!(there, wanted);
    }
    let paths: Vec<&str> = DEMO.files.iter().map(|file| file.path.as_str()).collect();
    assert_eq!(paths.len(), 3 + 24 + 27);
    assert!(paths.contains(&"visit-1/logs/closing-50-50-1.csv"));
    assert!(paths.contains(&"visit-2/logs/closing-500-900-2.csv.gz"));
}

/// The log as text: unpacked and decoded without the crate's own reader.
fn text(path: &str) -> String {
    let file = DEMO.files.iter().find(|file| file.path == path).unwrap();
    let mut bytes = file.bytes.clone();
    if path.ends_with(".gz") {
        let mut unpacked = Vec::new();
        flate2::read::GzDecoder::new(file.bytes.as_slice())
            .read_to_end(&mut unpacked)
            .unwrap();
        bytes = unpacked;
    }
    if bytes.starts_with(&[0xff, 0xfe]) {
        let units: Vec<u16> = bytes
            .chunks(2)
            .map(|pair| u16::from_le_bytes([pair[0], pair[1]]))
            .collect();
        return String::from_utf16(&units).unwrap();
    }
    // Windows-1252 and Latin-1 agree on every character that the demo writes.
    String::from_utf8(bytes).unwrap_or_else(|wrong| {
        wrong
            .as_bytes()
            .iter()
            .map(|byte| char::from(*byte))
            .collect()
    })
}

/// Instants in seconds and forces in newtons of a log, read by its known dialect.
fn samples(truth: &DemoTruth) -> Vec<(f64, f64)> {
    let (delimiter, second, newton) = match truth.dialect {
        Dialect::Comma => (',', 1.0, 1.0),
        Dialect::German => (';', 1.0, 1.0),
        Dialect::Tab => ('\t', 1e-3, 1.0),
        Dialect::Wide => ('\t', 1.0, 1.0),
        Dialect::KilogramForce => (',', 1.0, 9.806_65),
        Dialect::PoundForce => (',', 1.0, 4.448_221_615_260_5),
    };
    text(&truth.path)
        .lines()
        .filter_map(|line| {
            let line = if truth.dialect == Dialect::German {
                line.replace(',', ".")
            } else {
                line.to_owned()
            };
            let mut cells = line.split(delimiter);
            let time: f64 = cells.next()?.parse().ok()?;
            let force: f64 = cells.next()?.parse().ok()?;
            Some((time * second, force * newton))
        })
        .collect()
}

#[test]
fn every_file_of_the_demo_says_that_it_is_invented() {
    for file in DEMO.files.iter().filter(|file| file.path != "about.md") {
        let text = text(&file.path).to_lowercase();
        let head = &text[..text
            .char_indices()
            .nth(150)
            .map_or(text.len(), |(at, _)| at)];
        assert!(
            head.contains("invented") || head.contains("erfunden"),
            "{}",
            file.path
        );
    }
    assert!(text("about.md").contains("invented"));
}

#[test]
fn the_logs_show_the_truth_within_noise_and_sampling() {
    for truth in &DEMO.truths {
        let samples = samples(truth);
        let quiet: Vec<f64> = samples
            .iter()
            .filter(|(t, _)| *t < truth.contact.get())
            .map(|(_, force)| *force)
            .collect();
        assert!(
            quiet.len() >= 300,
            "{}: {} quiet samples",
            truth.path,
            quiet.len()
        );
        let zero = quiet.iter().sum::<f64>() / quiet.len() as f64;
        let (at, top) = samples
            .iter()
            .copied()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap();
        let end = samples.last().unwrap().0 - truth.contact.get();
        match truth.flaw {
            Flaw::Clipped { at } => {
                assert!(truth.peak_force.get() > at.get() + 10.0);
                assert!((top - at.get()).abs() < 0.06, "{}: {top} N", truth.path);
            }
            Flaw::None | Flaw::EndsEarly { .. } => {
                // Noise of at most 0.65 N over some tens of samples near the top, drift of at most 0.03 N/s.
                let difference = top - zero - truth.peak_force.get();
                assert!(difference.abs() < 2.5, "{}: {difference} N", truth.path);
                assert!((at - truth.contact.get() - truth.peak_at.get()).abs() < 0.02);
            }
        }
        match truth.flaw {
            Flaw::EndsEarly { after } => {
                assert!(
                    end < 5.0 && (end - after.get()).abs() < 2e-3,
                    "{}",
                    truth.path
                );
            }
            Flaw::None | Flaw::Clipped { .. } => assert!(end >= 6.0, "{}: {end} s", truth.path),
        }
    }
}

#[test]
fn the_first_visit_has_one_place_over_400_n_and_the_second_has_none() {
    let mut places: BTreeMap<(&str, u32, u32), Vec<f64>> = BTreeMap::new();
    for truth in &DEMO.truths {
        let hit = truth.hit;
        places
            .entry((hit.visit.folder(), hit.gap_mm, hit.height_mm))
            .or_default()
            .push(truth.peak_force.get());
        assert!(truth.time_above_150_n.get() < 0.75);
        assert!(truth.release.get() > 0.2 && truth.release.get() < 0.75);
    }
    let over: Vec<_> = places
        .iter()
        .filter(|(_, peaks)| peaks.iter().sum::<f64>() / 3.0 > 400.0)
        .map(|(place, _)| *place)
        .collect();
    assert_eq!(over, [("visit-1", 500, 50)]);
    let worst_after_change = DEMO
        .truths
        .iter()
        .filter(|truth| truth.hit.visit == Visit::AfterChange)
        .map(|truth| truth.peak_force.get())
        .fold(0.0, f64::max);
    assert!(worst_after_change < 300.0, "{worst_after_change} N");
}
