//! A clipped top, a held sensor and a lone sample are found, and honest records are left alone.

pub(crate) mod table;

use self::table::{count, render};

#[test]
fn faults_of_the_logger_are_found_and_honest_records_left_alone() {
    let counted = count(6);
    let rows = |report: &str| -> Vec<String> {
        let cells = report.lines().filter_map(|line| line.strip_prefix("| "));
        cells
            .map(|line| line.split(" |").next().unwrap().to_owned())
            .collect()
    };
    let committed = include_str!("../../../reports/detectors.md");
    assert_eq!(
        rows(committed),
        rows(&render(&counted)),
        "stale: cargo bench --bench detectors"
    );
    for one in &counted {
        let name = one.logger.name;
        let alarms = [
            one.clipped_alarms,
            one.held_at_limit_alarms,
            one.fewer_alarms,
            one.lone_alarms,
        ];
        assert_eq!(alarms, [0; 4], "{name}");
        let deep: u64 = one
            .clipped
            .iter()
            .map(|found| found[..4].iter().sum::<u64>())
            .sum();
        assert!(
            5 * deep >= 4 * 12 * one.gates,
            "{deep} of {} cut hits: {name}",
            12 * one.gates
        );
        let held: u64 = one.fewer[0].iter().sum();
        assert!(held + 2 >= 4 * one.gates, "{held} held: {name}");
        if one.logger.rate > 400.0 {
            assert_eq!(one.lone, [one.gates; 2], "{name}");
        }
    }
}
