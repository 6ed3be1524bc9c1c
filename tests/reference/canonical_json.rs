//! Canonical JSON against RFC 8785 and against ECMAScript itself.

use relent::record::canonical::{number_text, of_value};
use serde_json::Value;

use crate::check::{Check, Tolerance, hold};

const VALUES: &str = include_str!("../../fixtures/reference/canonical_json.json");
const NODE: &str = "Node v20.20.2; script and values fixtures/reference/canonical_json.js, .json";
const RFC: &str = "RFC 8785, appendix B, samples of numbers, from memory";

/// Bits of a double, and its text.
const SAMPLES: [(u64, &str); 24] = [
    (0x0000_0000_0000_0000, "0"),
    (0x8000_0000_0000_0000, "0"),
    (0x0000_0000_0000_0001, "5e-324"),
    (0x8000_0000_0000_0001, "-5e-324"),
    (0x7fef_ffff_ffff_ffff, "1.7976931348623157e+308"),
    (0xffef_ffff_ffff_ffff, "-1.7976931348623157e+308"),
    (0x4340_0000_0000_0000, "9007199254740992"),
    (0xc340_0000_0000_0000, "-9007199254740992"),
    (0x4430_0000_0000_0000, "295147905179352830000"),
    (0x44b5_2d02_c7e1_4af5, "9.999999999999997e+22"),
    (0x44b5_2d02_c7e1_4af6, "1e+23"),
    (0x44b5_2d02_c7e1_4af7, "1.0000000000000001e+23"),
    (0x444b_1ae4_d6e2_ef4e, "999999999999999700000"),
    (0x444b_1ae4_d6e2_ef4f, "999999999999999900000"),
    (0x444b_1ae4_d6e2_ef50, "1e+21"),
    (0x3eb0_c6f7_a0b5_ed8c, "9.999999999999997e-7"),
    (0x3eb0_c6f7_a0b5_ed8d, "0.000001"),
    (0x41b3_de43_5555_5553, "333333333.3333332"),
    (0x41b3_de43_5555_5554, "333333333.33333325"),
    (0x41b3_de43_5555_5555, "333333333.3333333"),
    (0x41b3_de43_5555_5556, "333333333.3333334"),
    (0x41b3_de43_5555_5557, "333333333.33333343"),
    (0xbecb_f647_612f_3696, "-0.0000033333333333333333"),
    (0x4314_3ff3_c1cb_0959, "1424953923781206.2"),
];

/// Texts that are those of the source, of so many: of numbers, and of whole documents.
pub fn checks() -> Vec<Check> {
    let values: Value = serde_json::from_str(VALUES).unwrap();
    let same = SAMPLES
        .iter()
        .filter(|(bits, text)| number_text(f64::from_bits(*bits)) == *text);
    let numbers = values["numbers"].as_array().unwrap();
    let documents = values["documents"].as_array().unwrap();
    let as_node = numbers.iter().filter(|number| {
        let bits = u64::from_str_radix(number["bits"].as_str().unwrap(), 16).unwrap();
        number_text(f64::from_bits(bits)) == number["text"].as_str().unwrap()
    });
    let laid_out = documents.iter().filter(|document| {
        let value: Value = serde_json::from_str(document["value"].as_str().unwrap()).unwrap();
        of_value(&value).unwrap() == document["canonical"].as_str().unwrap().as_bytes()
    });
    vec![
        agreed("samples of numbers", RFC, SAMPLES.len(), same.count()),
        agreed(
            "numbers as written by ECMAScript",
            NODE,
            numbers.len(),
            as_node.count(),
        ),
        agreed(
            "documents with sorted members",
            NODE,
            documents.len(),
            laid_out.count(),
        ),
    ]
}

fn agreed(what: &str, source: &'static str, all: usize, same: usize) -> Check {
    Check {
        what: format!("{what}: the same to the byte"),
        source,
        expected: all as f64,
        computed: same as f64,
        unit: "",
        tolerance: Tolerance::Absolute(0.0),
    }
}

#[test]
fn canonical_json_is_that_of_rfc_8785_and_of_ecmascript() {
    let values: Value = serde_json::from_str(VALUES).unwrap();
    assert_eq!(values["numbers"].as_array().unwrap().len(), 3521);
    assert_eq!(values["documents"].as_array().unwrap().len(), 4);
    for (bits, text) in SAMPLES {
        assert_eq!(number_text(f64::from_bits(bits)), text, "{bits:016x}");
    }
    hold(&checks(), 3);
}
