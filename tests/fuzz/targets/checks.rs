//! Any text ends in a list of checks that holds the built-in ones, or in an error.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::readiness::{built_in, parse};

fuzz_target!(|text: &str| {
    if let Ok(checks) = parse("checks.toml", text, built_in()) {
        assert!(checks.starts_with(&built_in()));
    }
});
