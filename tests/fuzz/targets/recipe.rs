//! Any text ends in answers or in an error. Answers that are written as a recipe are read again as the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::ingest::{from_recipe, to_recipe};

fuzz_target!(|text: &str| {
    if let Ok(answers) = from_recipe("recipe", text) {
        assert_eq!(from_recipe("recipe", &to_recipe(&answers)).unwrap(), answers);
    }
});
