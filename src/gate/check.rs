//! What hangs together in a gate file: dates in order, an obstacle and its place, logs named one way.

use std::ops::Range;

use super::GateFile;
use super::history::DatedCertificate;
use super::pattern::{Pattern, PatternError};
use super::problem::Kind;
use super::sections::{Decision, GaugeSection, LogsSection, OpeningSide};
use super::warning::Warning;
use crate::limitation;
use crate::toml_tree::Tree;

type Problems = Vec<(Kind, Range<usize>)>;
type Warnings = Vec<(Warning, Range<usize>)>;

/// Everything about a gate file of right form that no single key shows.
pub(super) fn check(
    file: &GateFile,
    tree: &Tree<'_>,
    problems: &mut Problems,
    warnings: &mut Warnings,
) {
    obstacle(file, tree, problems);
    masses(file, tree, warnings);
    if let Some(gauge) = &file.gauge {
        calibration(gauge, file, tree, problems, warnings);
    }
    if file.assessment.decision == Decision::Simple && file.assessment.guard_band.is_some() {
        let at = tree.place(&["assessment", "guard_band"]);
        problems.push((Kind::BandWithoutGuard, at));
    }
    if let Some(logs) = &file.logs {
        names(logs, tree, problems);
    }
}

fn obstacle(file: &GateFile, tree: &Tree<'_>, problems: &mut Problems) {
    let gate = &file.gate;
    if gate.opening_side == Some(OpeningSide::ObstacleWithin500Mm) {
        if gate.obstacle_space.is_none() {
            let at = tree.place(&["gate", "opening_side"]);
            problems.push((Kind::ObstacleWithoutSpace, at));
        }
        return;
    }
    let given = [
        ("obstacle_space_mm", gate.obstacle_space),
        ("obstacle_height_mm", gate.obstacle_height),
    ];
    for (key, _) in given.iter().filter(|(_, value)| value.is_some()) {
        let at = tree.place(&["gate", key]);
        problems.push((Kind::SpaceWithoutObstacle { key }, at));
    }
}

fn masses(file: &GateFile, tree: &Tree<'_>, warnings: &mut Warnings) {
    let rated = file.drive.as_ref().and_then(|drive| drive.rated_mass);
    if let (Some(leaf), Some(rated)) = (file.gate.leaf_mass, rated)
        && leaf > rated
    {
        let at = tree.place(&["gate", "leaf_mass_kg"]);
        warnings.push((
            Warning::LeafHeavierThanRated {
                leaf_kg: leaf,
                rated_kg: rated,
            },
            at,
        ));
    }
}

fn calibration(
    gauge: &GaugeSection,
    file: &GateFile,
    tree: &Tree<'_>,
    problems: &mut Problems,
    warnings: &mut Warnings,
) {
    if let (Some(calibrated), Some(due)) = (gauge.calibrated_on, gauge.calibration_due)
        && due < calibrated
    {
        let at = tree.place(&["gauge", "calibration_due"]);
        problems.push((Kind::DueBeforeCalibrated { calibrated, due }, at));
    }
    if let Some(certificate) = &gauge.certificate
        && certificate.expanded_uncertainty_percent.is_none()
        && certificate.expanded_uncertainty.is_none()
    {
        let at = tree.place(&["gauge", "certificate", "number"]);
        problems.push((Kind::EmptyCertificate, at));
    }
    for (index, later) in gauge.certificates.iter().enumerate() {
        dated(later, &index.to_string(), tree, problems);
    }
    let Some(visit) = file.visit.as_ref().map(|visit| visit.date) else {
        return;
    };
    let known = file.calibrations(None);
    if limitation::calibration(&known, &file.gauge_changes(), visit).is_none() {
        return;
    }
    if let Some(due) = gauge.calibration_due.filter(|due| *due < visit) {
        let at = tree.place(&["gauge", "calibration_due"]);
        warnings.push((Warning::CalibrationExpired { due, visit }, at));
    }
    if let Some(calibrated) = gauge.calibrated_on.filter(|day| *day > visit) {
        let at = tree.place(&["gauge", "calibrated_on"]);
        warnings.push((Warning::CalibratedAfterVisit { calibrated, visit }, at));
    }
}

fn dated(certificate: &DatedCertificate, index: &str, tree: &Tree<'_>, problems: &mut Problems) {
    let at = |key| tree.place(&["gauge", "certificates", index, key]);
    let calibrated = certificate.calibrated_on;
    if let Some(due) = certificate.calibration_due.filter(|due| *due < calibrated) {
        problems.push((
            Kind::DueBeforeCalibrated { calibrated, due },
            at("calibration_due"),
        ));
    }
    if certificate.states_uncertainty() && certificate.coverage_factor.is_none() {
        problems.push((Kind::CertificateWithoutFactor, at("number")));
    }
}

fn names(logs: &LogsSection, tree: &Tree<'_>, problems: &mut Problems) {
    let at = tree.place(&["logs", "names"]);
    match &logs.names {
        Some(_) if !logs.list.is_empty() => problems.push((Kind::NamesAndList, at)),
        None if logs.list.is_empty() => problems.push((Kind::NeitherNamesNorList, at)),
        Some(names) => {
            if let Err(error) = Pattern::parse(names) {
                let at = within(names, &error, at);
                problems.push((Kind::Pattern(error), at));
            }
        }
        None => {}
    }
}

/// The bytes of the gate file at which a pattern goes wrong, where the pattern is written without escapes.
fn within(names: &str, error: &PatternError, value: Range<usize>) -> Range<usize> {
    let quotes = value.len().saturating_sub(names.len());
    match error.at() {
        Some(at) if quotes == 2 => {
            let from = value.start + 1 + at;
            let length = names[at..].find('}').map_or(1, |end| end + 1);
            from..from + length
        }
        Some(_) | None => value,
    }
}
