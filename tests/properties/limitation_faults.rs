//! One log for each kind of trouble: computed here, compared with the committed file, read back and found.

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use relent::fact::Fact;
use relent::ingest::{self, Answers, Outcome};
use relent::limitation::{Alike, Limitation, Print, Tolerances, copy, of_record};
use relent::measure::{GaugeFacts, Measure};
use relent::trace::Trace;
use relent::words::{Language, Words};
use serde::Deserialize;
use sha2::{Digest, Sha256};

use crate::measure::measured;

const HEAD: &str = "# Invented record, no real gate: tests/properties/evidence_faults.rs\n";

/// A pulse at 0.45 s (s, N): width in s, height in N; a hold of 80 N to 1.2 s; a ripple of 0 to 1 N in steps of 0.1 N.
fn hit(width: f64, height: f64) -> Vec<(f64, f64)> {
    (0..1450)
        .map(|i| {
            let t = f64::from(i) / 250.0;
            let pulse = height * (-((t - 0.45) / width).powi(2)).exp();
            let held = if (0.5..1.2).contains(&t) { 80.0 } else { 0.0 };
            let force = pulse + held + f64::from(i * 7919 % 11) / 10.0;
            (t, (force * 10.0).round() / 10.0)
        })
        .collect()
}

fn good() -> Vec<(f64, f64)> {
    hit(0.05, 380.0)
}

fn text(preamble: &str, rows: &[(f64, f64)], cell: impl Fn(f64, f64) -> String) -> String {
    let mut text = format!("{HEAD}{preamble}Time (s),Force (N)\n");
    for (t, f) in rows {
        writeln!(text, "{t:.3},{}", cell(*t, *f)).unwrap();
    }
    text
}

fn plain(rows: &[(f64, f64)]) -> String {
    text("", rows, |_, f| format!("{f:.1}"))
}

fn kept(keep: impl Fn(f64) -> bool) -> String {
    plain(
        &good()
            .into_iter()
            .filter(|(t, _)| keep(*t))
            .collect::<Vec<_>>(),
    )
}

fn changed(change: impl Fn(f64, f64) -> f64) -> String {
    plain(
        &good()
            .into_iter()
            .map(|(t, f)| (t, change(t, f)))
            .collect::<Vec<_>>(),
    )
}

/// Name of the file, its text, and every kind of limitations that it must show.
fn faults() -> Vec<(&'static str, String, Vec<&'static str>)> {
    let lost = |t: f64, f: f64| {
        if (0.451..0.458).contains(&t) {
            "---".to_owned()
        } else {
            format!("{f:.1}")
        }
    };
    vec![
        ("none", plain(&good()), vec![]),
        ("flat-top", changed(|_, f| f.min(300.0)), vec!["flat-top"]),
        (
            "slow-sampling",
            plain(&hit(0.008, 380.0)),
            vec!["slow-sampling"],
        ),
        (
            "lost-samples",
            text("", &good(), lost),
            vec!["lost-samples"],
        ),
        (
            "clock-gap",
            kept(|t| !(0.487..0.497).contains(&t)),
            vec!["clock-gap"],
        ),
        (
            "averaging",
            text("# Averaging: 20 samples\n", &good(), |_, f| {
                format!("{f:.1}")
            }),
            vec!["averaging"],
        ),
        ("ends-early", kept(|t| t < 3.0), vec!["ends-early"]),
        (
            "starts-in-contact",
            kept(|t| t > 0.42),
            vec!["starts-in-contact", "no-zero"],
        ),
        ("no-zero", kept(|t| t > 0.34), vec!["no-zero"]),
        (
            "drift",
            changed(|t, f| if t > 1.5 { f + 15.0 } else { f }),
            vec!["drift"],
        ),
        ("no-reading", changed(|_, f| f % 1.5), vec!["no-reading"]),
        (
            "copy",
            text("", &good(), |_, f| format!("{:.2}", f + 3.7)),
            vec![],
        ),
    ]
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures/faults/evidence")
}

fn read(log: &str) -> Trace {
    match ingest::read(log.as_bytes(), &Answers::default())
        .unwrap()
        .outcome
    {
        Outcome::Read(trace) => *trace,
        Outcome::Asks(questions) => panic!("asks {questions:?}"),
    }
}

#[derive(Deserialize)]
struct Manifest {
    file: Vec<Listed>,
}

#[derive(Deserialize)]
struct Listed {
    name: String,
    purpose: String,
    origin: String,
    generator: String,
    sha256: String,
}

fn sha256(text: &str) -> String {
    Sha256::digest(text)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

#[test]
fn the_committed_logs_are_those_computed_here_and_the_manifest_lists_each() {
    let mut fresh = "# The logs of this folder, one trouble each. Written by `RELENT_BLESS=1 cargo test --test properties faults`.\n".to_owned();
    for (name, log, codes) in faults() {
        let purpose = match codes.first() {
            Some(_) => format!("evidence: {}", codes.join(", ")),
            None if name == "copy" => {
                "evidence: copy, of none.csv with an offset of 3.7 N and another digit".to_owned()
            }
            None => "a good record, for comparison".to_owned(),
        };
        write!(
            fresh,
            "\n[[file]]\nname = \"{name}.csv\"\npurpose = \"{purpose}\"\norigin = \"computed\"\ngenerator = \"tests/properties/evidence_faults.rs\"\nsha256 = \"{}\"\n",
            sha256(&log)
        )
        .unwrap();
        let path = folder().join(format!("{name}.csv"));
        if std::env::var_os("RELENT_BLESS").is_some() {
            fs::create_dir_all(folder()).unwrap();
            fs::write(&path, &log).unwrap();
        }
        assert_eq!(
            fs::read_to_string(&path).unwrap(),
            log,
            "{name}.csv is not what is computed"
        );
    }
    let path = folder().join("manifest.toml");
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &fresh).unwrap();
    }
    let committed = fs::read_to_string(&path).unwrap();
    assert_eq!(committed, fresh, "manifest.toml is stale");
    let manifest: Manifest = toml::from_str(&committed).unwrap();
    assert_eq!(manifest.file.len(), faults().len());
    for listed in manifest.file {
        assert!(listed.name.ends_with(".csv") && listed.sha256.len() == 64);
        assert!(
            !listed.purpose.is_empty()
                && listed.origin == "computed"
                && !listed.generator.is_empty()
        );
    }
}

#[test]
fn each_faulty_log_shows_its_trouble_and_no_other() {
    let tolerances = Tolerances {
        sampling_tolerance_share: 0.02,
        drift_share_of_residual_level: 0.2,
        equal_samples_at_top: 3,
    };
    for (name, log, expected) in faults() {
        let trace = read(&log);
        let limitations = of_record(
            &trace,
            &measured(&trace),
            &tolerances,
            &GaugeFacts::default(),
        );
        let found: Vec<String> = limitations.iter().map(Fact::code).collect();
        assert_eq!(found, expected, "{name}: {limitations:?}");
        for one in &limitations {
            let said = Words::of(Language::English).said(one);
            let whole = said.whole();
            assert!(
                said.help.is_some() && whole.ends_with('.') && !whole.contains("NaN"),
                "{whole}"
            );
            assert!(
                Measure::ALL
                    .into_iter()
                    .any(|measure| one.bears_on(measure))
            );
            let again = serde_json::from_value(one.fields()).unwrap();
            assert_eq!(
                *one, again,
                "a sealed record gives back what was put into it"
            );
        }
    }
}

#[test]
fn a_copied_log_is_found_by_its_samples() {
    let prints: Vec<(&str, Print)> = faults()
        .into_iter()
        .map(|(name, log, _)| (name, Print::of(&read(&log))))
        .collect();
    let named: Vec<(&str, &Print)> = prints.iter().map(|(name, print)| (*name, print)).collect();
    let found = copy::find(&named, &[]);
    let by_samples = |found: &&(usize, Limitation)| {
        let Limitation::Copy { originals } = &found.1 else {
            panic!("{found:?}");
        };
        originals
            .iter()
            .any(|one| one.alike == Some(Alike::Samples))
    };
    // The averaging log has the samples of the good one too: only a line above them differs. Most others have its noise.
    let exact = found.iter().filter(by_samples);
    let names: Vec<&str> = exact.map(|(i, _)| named[*i].0).collect();
    assert_eq!(names, ["none", "averaging", "copy"]);
    assert!(found.len() > 6);
}
