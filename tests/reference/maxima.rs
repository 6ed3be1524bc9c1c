//! Prominent maxima.

use crate::check::{Check, Tolerance, hold};
use crate::records::{SCIPY, scipy};
use relent::measure::maxima::prominent;

/// Every peak of the random records at three prominences, sample by sample.
pub fn checks() -> Vec<Check> {
    let mut all = Vec::new();
    for record in scipy().record {
        for (least, expected) in [
            (5.0, &record.peaks_5),
            (20.0, &record.peaks_20),
            (60.0, &record.peaks_60),
        ] {
            let found = prominent(&record.forces_n, least);
            all.push(Check {
                what: format!(
                    "random record {}: number of maxima of prominence {least} N",
                    record.seed
                ),
                source: SCIPY,
                expected: expected.len() as f64,
                computed: found.len() as f64,
                unit: "",
                tolerance: Tolerance::Absolute(0.0),
            });
            let apart = expected.iter().zip(&found).filter(|(e, f)| e != f).count();
            all.push(Check {
                what: format!(
                    "random record {}: maxima of prominence {least} N at other samples",
                    record.seed
                ),
                source: SCIPY,
                expected: 0.0,
                computed: apart as f64,
                unit: "",
                tolerance: Tolerance::Absolute(0.0),
            });
        }
    }
    all
}

#[test]
fn prominent_maxima_are_those_of_find_peaks() {
    let found: usize = scipy()
        .record
        .iter()
        .map(|record| record.peaks_5.len())
        .sum();
    assert!(found > 20, "{found}");
    hold(&checks(), 18);
}
