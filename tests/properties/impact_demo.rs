//! Laws of the demo gate: always the same, true to its model, invented and saying so, and readable as a gate file.

use std::collections::BTreeMap;
use std::io::Read as _;
use std::sync::LazyLock;

use relent::gate;
use relent::impact::demo::{Demo, DemoTruth, Dialect, Flaw, NOT_TESTED, Planned, Visit, demo};
use relent::measure::{Answer, GaugeFacts, Measure, Method, measure};
use relent::quantity::{Newton, Second};
use relent::trace::Trace;
use sha2::{Digest, Sha256};

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
    assert!(paths.contains(&"visit-2/logs/closing-500-900-2.gz"));
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

#[test]
fn the_gate_files_are_read_without_a_problem_or_a_warning_and_place_every_log() {
    for visit in Visit::ALL {
        let gate_file = format!("{}/gate.toml", visit.folder());
        let file = DEMO.files.iter().find(|file| file.path == gate_file);
        let read = gate::read(&file.unwrap().bytes).unwrap();
        assert_eq!(read.warnings, []);
        let logs = read.file.logs.unwrap();
        let folder = format!("{}/{}/", visit.folder(), logs.folder.as_deref().unwrap());
        let names: Vec<&str> = DEMO
            .files
            .iter()
            .filter_map(|file| file.path.strip_prefix(&folder))
            .collect();
        let placed = gate::names::place(&names, &logs, &read.file.gate).unwrap();
        assert_eq!(placed.problems, []);
        let mut hits: Vec<(f64, f64, u32)> = placed
            .hits
            .iter()
            .map(|log| (log.point.gap_mm, log.point.height_mm, log.repeat))
            .collect();
        hits.sort_by(|a, b| a.partial_cmp(b).unwrap());
        let wanted: Vec<(f64, f64, u32)> = DEMO
            .truths
            .iter()
            .map(|truth| truth.hit)
            .filter(|hit| hit.visit == visit)
            .map(|hit| (f64::from(hit.gap_mm), f64::from(hit.height_mm), hit.repeat))
            .collect();
        assert_eq!(hits, wanted);
    }
}

/// Levels as in the story of the demo; which profile prescribes them does not matter here.
fn method() -> Method {
    Method {
        profile: "levels of this test".to_owned(),
        contact_level: Newton(25.0),
        static_level: Newton(150.0),
        residual_level: Newton(25.0),
        effective_level: Newton(50.0),
        dynamic_period: Second(0.75),
        record: Second(5.0),
        low_pass: None,
    }
}

#[test]
fn the_measures_of_the_logs_are_the_truth_of_the_model_within_noise_and_sampling() {
    for truth in &DEMO.truths {
        let (times, forces): (Vec<f64>, Vec<f64>) = samples(truth).into_iter().unzip();
        let trace = Trace::new(times, forces).unwrap();
        let response = measure(&trace, &method(), &GaugeFacts::default());
        let value = |measure| response.value(measure).unwrap().get();
        let near = |what: &str, measured: f64, true_value: f64, below: f64, above: f64| {
            let difference = measured - true_value;
            assert!(
                (-below..=above).contains(&difference),
                "{}: {what} {measured}, true {true_value}",
                truth.path
            );
        };
        assert_eq!(response.answer, Answer::StopsAndReverses, "{}", truth.path);
        // Five standard deviations of 0.65 N noise above, as the greatest of noisy samples is taken; sampling below.
        let peak = value(Measure::PeakForce);
        match truth.flaw {
            Flaw::Clipped { at } => near("peak force", peak, at.get(), 2.0, 2.0),
            Flaw::None | Flaw::EndsEarly { .. } => {
                near("peak force", peak, truth.peak_force.get(), 0.5, 3.25);
            }
        }
        // The slopes at 25 N and 150 N are over 500 N/s: noise moves a crossing by up to some milliseconds.
        let above = value(Measure::TimeAboveStatic);
        near(
            "time above 150 N",
            above,
            truth.time_above_150_n.get(),
            4e-3,
            4e-3,
        );
        let reached = truth.contact.get() + truth.reaches_25_n.get();
        let contact = response.contact.as_ref().unwrap().get();
        near("contact", contact, reached, 3e-3, 3e-3);
        let held = truth.release.get() - truth.reaches_25_n.get();
        near("release", value(Measure::Release), held, 5e-3, 5e-3);
        match truth.flaw {
            Flaw::EndsEarly { .. } => assert!(response.value(Measure::ResidualForce).is_err()),
            Flaw::None | Flaw::Clipped { .. } => {
                near(
                    "residual force",
                    value(Measure::ResidualForce),
                    0.0,
                    0.0,
                    3.5,
                );
            }
        }
    }
}
