//! A copy is found whatever was done to it, and two genuine hits are not taken for one.

pub(crate) mod table;

use relent::limitation::fingerprint::{Fingerprint, pairs, pairs_by_index};

use self::table::{Size, count, fingerprint, render};
use crate::simulated::hits::{LOGGERS, Noise, motion, record};

#[test]
fn copies_are_found_and_genuine_hits_are_not_taken_for_them() {
    let counted = count(Size {
        gates: 3,
        hits: 8,
        altered: 1,
    });
    let rows = |report: &str| -> Vec<String> {
        let cells = report.lines().filter_map(|line| line.strip_prefix("| "));
        cells
            .map(|line| line.split(" |").next().unwrap().to_owned())
            .collect()
    };
    let committed = include_str!("../../../reports/copies.md");
    assert_eq!(
        rows(committed),
        rows(&render(&counted)),
        "stale: cargo bench --bench detectors"
    );
    for one in &counted {
        assert_eq!(
            one.alarms, 0,
            "{} of {} pairs: {}",
            one.alarms, one.pairs, one.logger.name
        );
        assert_eq!(one.ways.len(), 31);
        // Where the noise is below the step, or samples are as far apart as the blocks are long, the last third is lost.
        let enough = match one.logger.noise {
            Noise::None => 8,
            _ if one.logger.rate < 400.0 || one.logger.step > 0.3 => 22,
            _ => 28,
        };
        let found = one.ways_found(0.5);
        assert!(found >= enough, "{found} of 31 found: {}", one.logger.name);
    }
}

#[test]
fn the_index_of_an_archive_finds_what_comparing_each_with_each_finds() {
    let logger = &LOGGERS[0];
    let mut prints: Vec<Fingerprint> = Vec::new();
    for gate in 0..4 {
        for hit in 0..4 {
            let trace = record(&motion(gate, hit), logger, gate * 10 + hit);
            prints.push(fingerprint(&trace).unwrap());
        }
    }
    prints.extend([prints[3].clone(), prints[9].clone()]);
    let all: Vec<&Fingerprint> = prints.iter().collect();
    let found = pairs(&all);
    let places: Vec<_> = found.iter().map(|pair| (pair.first, pair.second)).collect();
    assert_eq!(places, [(3, 16), (9, 17)]);
    assert_eq!(pairs_by_index(&all), found);
}

#[test]
fn a_record_that_starts_at_its_peak_has_no_fingerprint() {
    let times = [0.0, 0.001, 0.002, 0.003];
    assert_eq!(
        Fingerprint::of(&times, &[300.0, 299.0, 290.0, 100.0], 1.0),
        None
    );
    assert_eq!(Fingerprint::of(&times[..1], &[300.0], 1.0), None);
    assert_eq!(Fingerprint::of(&times, &[3.0; 4], 1.0), None);
}
