//! Any bytes end in a record or in an error. A record that opens is, sealed again, the same to the byte; working it out reads nothing
//! outside the folder that it is given.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::record::case::Case;
use relent::record::seal::{open, seal};

fuzz_target!(|bytes: &[u8]| {
    // The digest is mended: behind it the reader would never be reached.
    let Ok(text) = std::str::from_utf8(bytes) else {
        let _ = open(bytes);
        return;
    };
    let digest = relent::ingest::sha256(text.as_bytes());
    let sealed = format!("{{\"body\":{text},\"body_sha256\":\"{digest}\"}}");
    if let Ok(opened) = open(sealed.as_bytes()) {
        assert_eq!(seal(&opened.body).unwrap(), sealed.as_bytes());
        let _ = Case::of_record(&opened.body, std::path::Path::new("gate"));
    }
    let _ = open(bytes);
});
