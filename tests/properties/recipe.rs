//! Laws of recipes: what is written is read again alike, and stands as a general writer of TOML would write it.

use proptest::prelude::*;
use relent::ingest::{Answers, ChosenRun, Sign, from_recipe, to_recipe};
use relent::quantity::{ForceUnit, Hertz, TimeUnit};
use serde::Serialize;

/// The keys of a recipe in their order, for the `toml` crate to write.
#[derive(Serialize)]
struct Written<'a> {
    file: Option<&'a str>,
    force: Option<&'a str>,
    force_unit: Option<&'a str>,
    time: Option<&'a str>,
    time_unit: Option<&'a str>,
    rate_hz: Option<f64>,
    run: Option<usize>,
    push: Option<&'a str>,
    decimal_mark: Option<char>,
    time_decimal_mark: Option<char>,
    delimiter: Option<char>,
}

fn answers() -> impl Strategy<Value = Answers> {
    let text = || prop::option::of("\\PC{0,12}|[\\x00-\\x7f]{0,8}|'{0,4}\"{0,4}\n?");
    let words = (text(), text(), prop::option::of(0.001f64..1e9));
    let rest = (
        prop::option::of(0usize..1000),
        prop::option::of(any::<bool>()),
        prop::option::of(prop::sample::select(vec!['.', ','])),
        prop::option::of(0u8..128),
    );
    (words, rest).prop_map(
        |((force, time, rate), (run, push, decimal_mark, delimiter))| Answers {
            file: force.clone(),
            scale: None,
            force_unit: force.as_ref().map(|_| ForceUnit::PoundForce),
            time_unit: time.as_ref().map(|_| TimeUnit::Microsecond),
            force,
            time,
            rate: rate.map(Hertz),
            run: run.map(Into::into),
            sign: push.map(|positive| match positive {
                true => Sign::PushIsPositive,
                false => Sign::PushIsNegative,
            }),
            decimal_mark,
            time_decimal_mark: decimal_mark,
            delimiter: delimiter.map(char::from),
            recipe: Some("the logger".to_owned()),
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_recipe_is_read_again_alike_and_written_as_any_toml(answers in answers()) {
        let text = to_recipe(&answers);
        let general = toml::to_string(&Written {
            file: answers.file.as_deref(),
            force: answers.force.as_deref(),
            force_unit: answers.force_unit.map(ForceUnit::symbol),
            time: answers.time.as_deref(),
            time_unit: answers.time_unit.map(TimeUnit::symbol),
            rate_hz: answers.rate.map(Hertz::get),
            run: answers.run.map(|run| match run {
                ChosenRun::Number(number) => number,
                ChosenRun::Every(_) => unreachable!(),
            }),
            push: answers.sign.map(|sign| match sign {
                Sign::PushIsPositive => "positive",
                Sign::PushIsNegative => "negative",
            }),
            decimal_mark: answers.decimal_mark,
            time_decimal_mark: answers.time_decimal_mark,
            delimiter: answers.delimiter,
        });
        prop_assert_eq!(&text, &general.unwrap());
        prop_assert_eq!(from_recipe("the logger", &text).unwrap(), answers);
    }
}

#[test]
fn a_recipe_may_say_that_all_rows_are_one_run() {
    let answers = from_recipe("the logger", "run = \"all\"\n").unwrap();
    assert_eq!(answers.run, Some(ChosenRun::ALL));
    assert_eq!(to_recipe(&answers), "run = \"all\"\n");
    assert!(from_recipe("the logger", "run = \"some\"\n").is_err());
}
