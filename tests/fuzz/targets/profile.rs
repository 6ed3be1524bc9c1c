//! Any text ends in a limit profile or in an error; one that is read assesses under finite limits.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match relent::limits::parse("own.toml", text) {
        Ok(profile) => assert!(!profile.name.is_empty()),
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
