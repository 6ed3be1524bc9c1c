//! Any line ends in an entry or in none; an entry that is written is read again as the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::archive::journal::{entry, line};

fuzz_target!(|json: &[u8]| {
    let digest = relent::ingest::sha256(json);
    let mut text = format!("{digest} ").into_bytes();
    text.extend_from_slice(json);
    text.push(b'\n');
    if let Some(found) = entry(&text) {
        assert_eq!(entry(&line(&found).unwrap()).as_ref(), Some(&found));
    }
    let _ = entry(json);
});
