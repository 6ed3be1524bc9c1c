//! Texts of TOML: every fault has its place, what stands there and what was expected; nothing is read as something else.

use std::collections::BTreeMap;

use proptest::prelude::*;
use relent::ingest::from_recipe;
use relent::limits;
use relent::readiness::{self, built_in};
use relent::toml_tree::{Tree, read};
use serde::Deserialize;
use serde::de::DeserializeOwned;

#[derive(Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    number: Option<f64>,
    whole: Option<u32>,
    name: Option<String>,
    #[serde(default)]
    list: Vec<Entry>,
    choice: Option<Choice>,
    any: Option<Any>,
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    value: f64,
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum Choice {
    Alone,
    With(f64),
    Both { least: f64, most: f64 },
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(untagged)]
enum Any {
    Switch(bool),
    Whole(i64),
    Number(f64),
    Text(String),
}

fn refused(text: &str) -> String {
    read::<File>(text).unwrap_err().to_string()
}

#[test]
fn a_value_of_another_kind_is_named_with_its_place_and_its_path() {
    let cases = [
        (
            "\nnumber = 'x'",
            "line 2, column 10: number: invalid type: string \"x\", expected f64",
        ),
        (
            "number = [1]",
            "line 1, column 10: number: invalid type: sequence, expected f64",
        ),
        (
            "number = {}",
            "line 1, column 10: number: invalid type: map, expected f64",
        ),
        (
            "number = true",
            "line 1, column 10: number: invalid type: boolean `true`, expected f64",
        ),
        (
            "whole = -1",
            "line 1, column 9: whole: invalid value: integer `-1`, expected u32",
        ),
        (
            "whole = 1.0",
            "line 1, column 9: whole: invalid type: floating point `1.0`, expected u32",
        ),
        (
            "name = 3",
            "line 1, column 8: name: invalid type: integer `3`, expected a string",
        ),
        (
            "list = 3",
            "line 1, column 8: list: invalid type: integer `3`, expected a sequence",
        ),
        (
            "[[list]]\nvalue = 1\n[[list]]\nvalue = 'é' # no number\n",
            "line 4, column 9: list, item 2, value: invalid type: string \"é\", expected f64",
        ),
        (
            "list = [{ value = 1 }, 3]",
            "line 1, column 24: list, item 2: invalid type: integer `3`, expected struct Entry",
        ),
        (
            "list = [[1]]",
            "line 1, column 9: list, item 1: invalid type: sequence, expected struct Entry",
        ),
    ];
    for (text, expected) in cases {
        assert_eq!(refused(text), expected);
    }
}

#[test]
fn a_key_that_is_unknown_or_missing_is_named_with_its_place() {
    assert_eq!(
        refused("name = 'x'\n'wi dth' = 3\n"),
        "line 2, column 1: wi dth: unknown field `wi dth`, expected one of `number`, `whole`, `name`, `list`, `choice`, `any`"
    );
    assert_eq!(
        refused("name = 'x'\n\n[[list]]\n"),
        "line 3, column 1: list, item 1: missing field `value`"
    );
}

#[test]
fn a_choice_is_its_word_or_a_table_of_its_word() {
    let chosen = |text: &str| read::<File>(text).unwrap().choice.unwrap();
    assert_eq!(chosen("choice = 'alone'"), Choice::Alone);
    assert_eq!(chosen("choice = { with = 3 }"), Choice::With(3.0));
    let both = Choice::Both {
        least: 1.0,
        most: 2.5,
    };
    assert_eq!(chosen("[choice.both]\nleast = 1\nmost = 2.5"), both);
    let cases = [
        (
            "choice = 'alome'",
            "column 10: choice: unknown variant `alome`, expected one of `alone`, `with`, `both`",
        ),
        (
            "choice = 'with'",
            "column 10: choice: invalid type: unit variant, expected a value with it",
        ),
        (
            "choice = { both = 3 }",
            "column 19: choice.both: invalid type: integer `3`, expected struct variant Choice::Both",
        ),
        (
            "choice = { both = { least = 1 } }",
            "column 19: choice.both: missing field `most`",
        ),
        (
            "choice = { alone = 3 }",
            "column 20: choice.alone: invalid type: integer `3`, expected the word alone",
        ),
        (
            "choice = { with = 3, both = 4 }",
            "column 10: choice: a table of 2 keys, expected exactly one",
        ),
        (
            "choice = {}",
            "column 10: choice: a table of 0 keys, expected exactly one",
        ),
        (
            "choice = 3",
            "column 10: choice: invalid type: integer `3`, expected enum Choice",
        ),
    ];
    for (text, expected) in cases {
        assert_eq!(refused(text), format!("line 1, {expected}"));
    }
}

#[test]
fn a_number_is_read_as_it_is_written_or_refused() {
    let number = |text: &str| read::<File>(&format!("number = {text}")).unwrap().number;
    assert_eq!(number("0x1F"), Some(31.0));
    assert_eq!(number("1_000.5"), Some(1000.5));
    assert_eq!(
        number("18446744073709551615"),
        Some(18_446_744_073_709_551_615.0)
    );
    assert_eq!(number("inf"), Some(f64::INFINITY));
    assert_eq!(number("-inf"), Some(f64::NEG_INFINITY));
    assert!(number("nan").is_some_and(f64::is_nan), "never as absent");
    assert_eq!(
        refused("number = 1e400"),
        "line 1, column 10: number: the number 1e400 is too great"
    );
    assert_eq!(
        refused("number = 99999999999999999999"),
        "line 1, column 10: number: the whole number 99999999999999999999 has too many digits"
    );
}

#[test]
fn a_day_is_its_text() {
    let name = |text: &str| read::<File>(text).unwrap().name.unwrap();
    assert_eq!(name("name = 2026-03-02"), "2026-03-02");
    assert_eq!(name("name = 2026-03-02T10:00:00Z"), "2026-03-02T10:00:00Z");
    assert_eq!(
        refused("list = 2026-03-02"),
        "line 1, column 8: list: invalid type: 2026-03-02, expected a sequence"
    );
}

#[test]
fn a_text_that_is_no_toml_is_refused_with_what_stands_there() {
    assert_eq!(
        refused("name = Load"),
        "line 1, column 8: string values must be quoted, expected literal string, found `Load`"
    );
    assert!(refused("name = 'x'\nname = 'y'").starts_with("line 2, column 1: duplicate key"));
    assert_eq!(Tree::parse("a = b\nc = d\n").unwrap_err().len(), 2);
}

#[test]
fn every_file_of_settings_names_the_place_of_a_fault() {
    assert_eq!(
        from_recipe("the logger", "force = 'x'\nrate_hz = 'fast'")
            .unwrap_err()
            .to_string(),
        "recipe the logger: line 2, column 11: rate_hz: invalid type: string \"fast\", expected f64"
    );
    let checks = "[[check]]\nname = 'x'\nquestion = 'y'\nreference = 'z'\nsource = 'hearsay'\n";
    assert_eq!(
        readiness::parse("checks.toml", checks, built_in())
            .unwrap_err()
            .to_string(),
        "checks.toml: line 5, column 10: check, item 1, source: unknown variant `hearsay`, \
         expected one of `confirmed`, `read`, `second-hand`, `memory`, `chosen`"
    );
    let own = limits::source("en12453-2017").unwrap();
    let fault = |from: &str, to: &str| {
        let text = own.replacen(from, to, 1);
        assert_ne!(text, own, "{from}");
        let line = text.lines().position(|line| line.contains(to)).unwrap() + 1;
        let error = limits::parse("own.toml", &text).unwrap_err().to_string();
        let rest = error.strip_prefix(&format!("own.toml, line {line}"));
        rest.unwrap_or_else(|| panic!("{error} at line {line}"))
            .to_owned()
    };
    assert_eq!(
        fault(
            "contact_level_n = { value = ",
            "contact_level_n = { value = -"
        ),
        ": method-contact-level is \"-25\", expected a number above 0"
    );
    assert_eq!(
        fault(
            "contact_level_n = { value = 25",
            "contact_level_n = { value = '25'"
        ),
        ", column 29: method.contact_level_n.value: invalid type: string \"25\", expected f64"
    );
}

#[test]
fn a_corrected_value_that_cannot_be_right_is_told_at_its_correction() {
    let overlay = "# ours\nextends = 'en12453-2017'\n\n[[confirm]]\nlimit = 'equal-samples-at-top'\nvalue = 2.5\nunit = ''\n\
                   confirmed_on = '2026-03-02'\nconfirmed_from = 'our copy'\n";
    assert_eq!(
        limits::parse("ours.toml", overlay).unwrap_err().to_string(),
        "ours.toml, line 4: equal-samples-at-top is \"2.5\", expected a whole number"
    );
}

/// Reads the text with the `toml` crate's own reader beside ours: both refuse it, or both read the same.
fn alike<T: DeserializeOwned + PartialEq + std::fmt::Debug>(
    text: &str,
) -> Result<(), TestCaseError> {
    let (ours, theirs) = (read::<T>(text), toml::from_str::<T>(text));
    match (ours, theirs) {
        (Ok(ours), Ok(theirs)) => prop_assert_eq!(format!("{ours:?}"), format!("{theirs:?}")),
        (Err(fault), Err(_)) => {
            let spot = fault.spot;
            prop_assert!(text.get(spot.span).is_some() && spot.line >= 1 && spot.column >= 1);
        }
        (ours, theirs) => prop_assert!(false, "{text}\n{ours:?}\n{theirs:?}"),
    }
    Ok(())
}

/// A file of known and unknown keys with values of every kind but days, and lists where structs are wanted.
fn files() -> impl Strategy<Value = String> {
    let value = prop::sample::select(vec![
        "1",
        "-1",
        "4294967296",
        "1.5",
        "nan",
        "inf",
        "'x'",
        "'alone'",
        "'with'",
        "true",
        "[]",
        "[1]",
        "{}",
        "{ value = 1 }",
        "[{ value = 1 }]",
        "[{ value = 'x' }]",
        "[{ value = nan }, {}]",
        "{ with = 1 }",
        "{ with = 'x' }",
        "{ alone = 1 }",
        "{ both = { least = 1, most = 2 } }",
        "{ both = { least = 1 } }",
        "0xff",
        "1e400",
        "\"\"\"a\nb\"\"\"",
    ]);
    let key = prop::sample::select(vec![
        "number", "whole", "name", "list", "choice", "any", "other",
    ]);
    prop::collection::btree_map(key, value, 0..5).prop_map(|keys| {
        let lines = keys.into_iter();
        lines
            .map(|(key, value)| format!("{key} = {value}\n"))
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_read_is_what_a_general_reader_reads(text in files()) {
        alike::<File>(&text)?;
        alike::<BTreeMap<String, Any>>(&text)?;
    }
}
