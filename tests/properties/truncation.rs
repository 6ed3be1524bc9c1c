//! A log that was cut short never passes before it covers what the profile asks for.

use rayon::prelude::*;
use relent::gate;
use relent::ingest::Answers;
use relent::limits::{self, Direction, Hazard, TestPoint};
use relent::readiness::{built_in, readiness};
use relent::verdict::Verdict;
use relent::visit::{Log, assess};

/// Every deciding finding at the one tested point.
fn verdicts(gate: &gate::GateFile, bytes: &[u8]) -> Vec<(String, Verdict)> {
    let log = Log {
        file: "closing-50-50-1.csv".to_owned(),
        point: TestPoint {
            direction: Direction::Closing,
            hazard: Hazard::ClosingEdge,
            gap_mm: 50.0,
            height_mm: 50.0,
        },
        repeat: 1,
        bytes: Ok(bytes.to_vec()),
    };
    let profile = limits::profile("en12453-2017").unwrap();
    let readiness = readiness(gate, built_in());
    let mut assessment = assess(
        gate.clone(),
        profile,
        vec![log],
        &Answers::default(),
        &[],
        readiness,
    );
    // One hit is enough here: the sweep is about the record, not about the two repeats that are missing on purpose.
    for finding in &mut assessment.findings {
        finding.wanted = 1;
    }
    let deciding = assessment
        .findings
        .iter()
        .filter(|finding| finding.decides());
    deciding
        .map(|finding| (finding.limit.name.clone(), finding.verdict()))
        .collect()
}

#[test]
fn a_passing_log_cut_after_every_line_is_never_within_before_it_covers_the_prescribed_record() {
    let files = relent::impact::demo::files().unwrap();
    let bytes = |path: &str| {
        files
            .iter()
            .find(|file| file.path == path)
            .unwrap()
            .bytes
            .clone()
    };
    let gate = gate::read(&bytes("visit-2/gate.toml")).unwrap().file;
    let whole = bytes("visit-2/logs/closing-50-50-1.csv");
    let all = verdicts(&gate, &whole);
    assert!(
        !all.is_empty() && all.iter().all(|(_, verdict)| *verdict == Verdict::Within),
        "{all:?}"
    );

    let ends: Vec<usize> = (0..whole.len())
        .filter(|at| whole[*at] == b'\n')
        .map(|at| at + 1)
        .collect();
    assert!(ends.len() > 5000, "{} lines", ends.len());
    let first_within = ends
        .par_iter()
        .filter(|end| {
            let found = verdicts(&gate, &whole[..**end]);
            !found.is_empty() && found.iter().any(|(_, verdict)| *verdict == Verdict::Within)
        })
        .min();
    let first_within = *first_within.expect("the whole log is within");
    let reading = relent::ingest::read(&whole[..first_within], &Answers::default()).unwrap();
    let relent::ingest::Outcome::Read(trace) = reading.outcome else {
        panic!("the log is read");
    };
    let profile = limits::profile("en12453-2017").unwrap();
    let response = relent::measure::measure(
        &trace,
        &profile.method,
        &gate.gauge_facts(Direction::Closing),
    );
    let covered = trace.duration() - response.contact.unwrap();
    assert!(
        covered >= profile.method.record,
        "within after only {covered}"
    );
}
