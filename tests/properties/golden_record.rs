//! A record sealed by the form that is kept: it must recheck for ever, whatever later builds say, measure or find.
//!
//! `fixtures/golden/record-2/record.json` was made by `relent assess fixtures/golden/record-2 --seal` and is never made anew: a change
//! that makes it differ is one that makes every record differ that users keep.

use std::fs;
use std::path::{Path, PathBuf};

use relent::fact::Fact;
use relent::limitation::Limitation;
use relent::record::body::{Body, Found};
use relent::record::case::{Case, Spread};
use relent::record::knows::Knows;
use relent::record::recheck::{Checked, Setting, State, recheck};
use relent::record::seal::{open, seal};
use relent::record::sealed_log::SealedLog;
use relent::words::{Language, Words};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/golden/record-2")
}

fn golden() -> Body {
    let bytes = fs::read(folder().join("record.json")).unwrap();
    open(&bytes).unwrap().body
}

fn checked(body: &Body) -> Checked {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("record.json");
    fs::write(&path, seal(body).unwrap()).unwrap();
    let gate = folder();
    let setting = Setting {
        profile: None,
        #[cfg(feature = "sign")]
        signers: None,
        gate: Some(&gate),
        spread: Spread::Cases,
    };
    recheck(&path, &setting).unwrap()
}

/// The record as a build would have sealed it that could not find this.
fn by_an_older_build(member: &str, code: &str) -> Body {
    let mut body = golden();
    let known = body.knows.0.get_mut(member).unwrap();
    assert!(known.remove(code), "{code} is none of {member}");
    let case = Case::of_record(&body, &folder()).unwrap();
    let hits = case.read(Spread::Cases).into_iter();
    let hits = hits.map(|(_, hit)| hit.unwrap()).collect();
    let assessment = case.conclude_knowing(hits, &body.knows);
    body.logs = assessment.hits.iter().map(SealedLog::new).collect();
    body.found = Found::new(&assessment);
    body
}

#[test]
fn the_golden_record_gives_the_same_numbers() {
    let checked = checked(&golden());
    assert_eq!(checked.differences, []);
    assert_eq!(checked.state(), State::Same);
    assert_eq!(checked.same_logs, 6);
    assert_eq!(checked.verdict_now, Some(checked.verdict_recorded));
}

#[test]
fn no_sentence_stands_in_a_record() {
    let body = golden();
    let found = serde_json::to_string(&(&body.logs, &body.found)).unwrap();
    let words = Words::of(Language::English);
    let mut sentences: Vec<String> = Vec::new();
    for finding in &body.found.findings {
        sentences.extend(words.facts(&finding.reasons));
        sentences.extend(words.facts(&finding.remarks));
    }
    for measured in body.logs.iter().filter_map(|log| log.measured.as_ref()) {
        sentences.extend(words.facts(&measured.limitations));
        sentences.extend(words.facts(measured.unmeasured.values()));
    }
    sentences.extend(words.facts(body.logs.iter().flat_map(|log| &log.notices)));
    sentences.extend(words.facts(&body.found.reasons));
    sentences.extend(words.facts(&body.found.told));
    sentences.extend(words.facts(&body.found.gaps));
    assert!(sentences.len() > 20, "{} sentences", sentences.len());
    for sentence in sentences {
        let inside = serde_json::to_string(&sentence).unwrap();
        assert!(!found.contains(inside.trim_matches('"')), "{sentence}");
    }
}

#[test]
fn a_measure_that_a_later_build_adds_is_new_and_no_difference() {
    let mut body = golden();
    for member in ["measures", "unmeasured"] {
        assert!(body.knows.0.get_mut(member).unwrap().remove("stop_time_s"));
    }
    for log in &mut body.logs {
        let measured = log.measured.as_mut().unwrap();
        measured.measures.remove("stop_time_s");
        measured.unmeasured.remove("stop_time_s");
    }
    let checked = checked(&body);
    assert_eq!(checked.differences, []);
    assert_eq!(checked.state(), State::Same);
    assert_eq!(checked.new.len(), 6, "{:?}", checked.new);
    assert!(
        checked
            .new
            .iter()
            .all(|one| one.key.ends_with(".stop_time_s"))
    );
}

#[test]
fn a_measure_that_the_sealing_build_knew_and_left_out_is_a_difference() {
    let mut body = golden();
    let measured = body.logs[0].measured.as_mut().unwrap();
    measured.measures.remove("peak_force_n").unwrap();
    let checked = checked(&body);
    assert_eq!(checked.state(), State::NumbersDiffer);
    assert_eq!(checked.differences.len(), 1);
    assert!(checked.differences[0].key.ends_with(".peak_force_n"));
}

#[test]
fn a_limitation_that_a_later_build_adds_is_new_and_no_difference() {
    let checked = checked(&by_an_older_build("limitations", "flat-top"));
    assert_eq!(checked.differences, []);
    assert_eq!(checked.state(), State::Same);
    let new = checked.new_limitations.unwrap().list;
    assert_eq!(new.len(), 1, "{new:?}");
    assert_eq!(new[0].log, "closing-50-900-2.csv");
    assert!(matches!(new[0].limitation, Limitation::FlatTop { .. }));
}

#[test]
fn a_limitation_that_was_taken_out_of_a_record_is_a_difference() {
    let mut body = golden();
    let measured = body.logs[1].measured.as_mut().unwrap();
    let all = measured.limitations.len();
    measured.limitations.retain(|one| one.code() != "flat-top");
    assert_eq!(measured.limitations.len(), all - 1);
    assert_eq!(checked(&body).state(), State::NumbersDiffer);
}

#[test]
fn a_changed_number_is_found() {
    for (member, factor) in [("peak_force_n", 0.99), ("residual_force_n", 1.001)] {
        let mut body = golden();
        let measured = body.logs[0].measured.as_mut().unwrap();
        *measured.measures.get_mut(member).unwrap() *= factor;
        let checked = checked(&body);
        assert_eq!(checked.state(), State::NumbersDiffer);
        assert_eq!(checked.differences.len(), 1);
        assert!(checked.differences[0].key.ends_with(member));
    }
}

#[test]
fn this_build_knows_all_that_the_golden_record_knows() {
    let known = Knows::this();
    for (member, codes) in golden().knows.0 {
        for code in codes {
            assert!(known.could_find(&member, &code), "{member}: {code} is gone");
        }
    }
}
