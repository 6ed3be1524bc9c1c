//! Any bytes end in a gate file or in a bounded number of problems, each at a place of the text. What is read is written and read again as
//! the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::gate::{MOST_PROBLEMS, read};

fuzz_target!(|bytes: &[u8]| match read(bytes) {
    Ok(read_once) => {
        assert!(read_once.warnings.len() <= MOST_PROBLEMS);
        let json = serde_json::to_string(&read_once.file).unwrap();
        assert_eq!(serde_json::from_str::<relent::gate::GateFile>(&json).unwrap(), read_once.file);
    }
    Err(error) => {
        assert!((1..=MOST_PROBLEMS).contains(&error.problems.len()));
        for problem in &error.problems {
            assert!(problem.line.len() <= 4096 && !problem.line.contains('\n'));
            assert!(!problem.to_string().contains('\n'));
        }
    }
});
