//! A sealed record: what is written is read again, and no byte changes unnoticed.

use relent::limitation::Original;
use relent::record::body::{Body, SCHEMA};
use relent::record::seal::{Content, RecordError, open, seal};
use relent::visit::sources::{AskedBy, HeldEarlier, HeldProfile, HeldText, Sources};
use serde_json::Value;

use crate::report_gate::assessment;

/// The record of an invented gate with all its hits.
fn whole() -> Body {
    let sources = Sources {
        gate_file: HeldText::new("gate.toml", "\u{feff}# \"Tor\" – Größe\r\n"),
        profile: HeldProfile {
            asked: "en12453-2017".to_owned(),
            asked_by: AskedBy::GateFile,
            text: HeldText::new("own.toml", "extends = \"en12453-2017\"\n"),
            extends: Some(HeldText::new("en12453-2017", "name = \"en12453-2017\"\n")),
        },
        recipe: Some(HeldText::new("logger.toml", "force = \"F\"\n")),
        checks: None,
        beside: Vec::new(),
        earlier: vec![HeldEarlier {
            log: Original {
                log: "closing-300-900-1.csv".to_owned(),
                visited_on: None,
                folder: Some("../visit-1".to_owned()),
                alike: None,
            },
            samples_sha256: "ab".repeat(32),
            fingerprint: None,
        }],
    };
    Body::new(&assessment("Yard gate north"), sources, "..".to_owned())
}

/// The same with few hits and findings, so that every byte of it can be tried.
fn small() -> Body {
    let mut body = whole();
    body.logs.truncate(1);
    body.found.findings.truncate(1);
    body.found.readiness.truncate(1);
    body.found.missing.truncate(1);
    body
}

#[test]
fn what_is_sealed_is_read_again_and_sealed_to_the_same_bytes() {
    let body = whole();
    let bytes = seal(&body).unwrap();
    let opened = open(&bytes).unwrap();
    assert_eq!(opened.body, body);
    assert_eq!(opened.sha256, relent::ingest::sha256(&bytes));
    assert_eq!(seal(&opened.body).unwrap(), bytes);
    assert!(body.logs.len() > 20 && body.found.findings.len() > 30);
}

#[test]
fn every_bit_of_every_byte_that_is_flipped_is_noticed() {
    let sealed = seal(&small()).unwrap();
    assert!((4_000..40_000).contains(&sealed.len()), "{}", sealed.len());
    let mut bytes = sealed.clone();
    for place in 0..bytes.len() {
        for bit in 0..8 {
            bytes[place] ^= 1 << bit;
            assert!(open(&bytes).is_err(), "byte {place}, bit {bit}");
            bytes[place] ^= 1 << bit;
        }
    }
    assert!(open(&bytes).is_ok());
}

#[test]
fn every_byte_that_is_taken_out_or_put_in_is_noticed() {
    let sealed = seal(&small()).unwrap();
    for place in 0..sealed.len() {
        let mut less = sealed.clone();
        less.remove(place);
        assert!(open(&less).is_err(), "without byte {place}");
        let mut more = sealed.clone();
        more.insert(place, b' ');
        assert!(open(&more).is_err(), "a blank before byte {place}");
        assert!(open(&sealed[..place]).is_err(), "cut off at {place}");
    }
    let mut longer = sealed;
    longer.push(b'\n');
    assert!(matches!(
        open(&longer),
        Err(RecordError::NotCanonical {
            content: Content::AsSealed
        })
    ));
}

#[test]
fn a_record_that_an_editor_laid_out_anew_is_told_from_one_whose_content_changed() {
    let sealed = seal(&small()).unwrap();
    let value: Value = serde_json::from_slice(&sealed).unwrap();
    let laid_out = serde_json::to_vec_pretty(&value).unwrap();
    assert!(matches!(
        open(&laid_out),
        Err(RecordError::NotCanonical {
            content: Content::AsSealed
        })
    ));
    let mut changed = value;
    changed["body"]["found"]["verdict"] = Value::from("within");
    let changed = serde_json::to_vec_pretty(&changed).unwrap();
    assert!(matches!(
        open(&changed),
        Err(RecordError::NotCanonical {
            content: Content::Changed
        })
    ));
}

#[test]
fn a_body_that_was_sealed_in_another_layout_is_refused_though_its_digest_agrees() {
    let body = serde_json::to_string(&small()).unwrap();
    let digest = relent::ingest::sha256(body.as_bytes());
    let bytes = format!("{{\"body\":{body},\"body_sha256\":\"{digest}\"}}");
    assert!(matches!(
        open(bytes.as_bytes()),
        Err(RecordError::NotCanonical { .. })
    ));
}

#[test]
fn other_forms_are_refused_each_by_its_name() {
    let newer = Body {
        schema: "relent.record/3".to_owned(),
        ..small()
    };
    assert!(matches!(
        open(&seal(&newer).unwrap()),
        Err(RecordError::OtherForm { found }) if found == "relent.record/3"
    ));
    let other = Body {
        schema: "relent.assessment/1".to_owned(),
        ..small()
    };
    assert!(matches!(
        open(&seal(&other).unwrap()),
        Err(RecordError::NotARecord)
    ));
    let mut altered = small();
    altered.sources.gate_file.text.push(' ');
    assert!(matches!(
        open(&seal(&altered).unwrap()),
        Err(RecordError::Text { name }) if name == "gate.toml"
    ));
    for text in ["", "{}", "[]", "text", "{\"body\":1}"] {
        assert!(open(text.as_bytes()).is_err(), "{text}");
    }
    assert_eq!(SCHEMA, "relent.record/2");
}

#[test]
fn numbers_stand_under_keys_that_end_in_their_unit() {
    let body = whole();
    let units = ["_n", "_s", "_mm", "_j", "_ns", "_mm_s", "_kg"];
    let plain = [
        "divisor",
        "degrees_of_freedom",
        "coverage_factor",
        "probability_of_conformity",
    ];
    let finding = &body.found.findings;
    let budgets = finding.iter().filter_map(|one| one.budget.as_ref());
    let keys: Vec<&String> = finding
        .iter()
        .flat_map(|one| one.numbers.keys())
        .chain(budgets.clone().flat_map(|one| one.numbers.keys()))
        .chain(budgets.flat_map(|one| one.components.iter().flat_map(|it| it.numbers.keys())))
        .collect();
    assert!(keys.len() > 200);
    for key in keys {
        let named = plain.contains(&key.as_str()) || units.iter().any(|unit| key.ends_with(unit));
        assert!(named, "{key}");
    }
}
