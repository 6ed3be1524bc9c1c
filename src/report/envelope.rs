//! The stepped boundary of a hit: peak limit, then the static limit, then what may remain.

/// One step of the boundary, in force from an instant after contact until the next step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Where it begins, in s after contact.
    pub from_s: f64,
    /// The greatest permitted force, in N.
    pub force_n: f64,
    /// What it is, with its value and unit.
    pub words: String,
}

/// The steps of a boundary inside a window of time, each with its two ends.
pub(super) fn within(steps: &[Step], start: f64, end: f64) -> Vec<(f64, f64, &Step)> {
    let ends = steps
        .iter()
        .skip(1)
        .map(|next| next.from_s)
        .chain([f64::INFINITY]);
    steps
        .iter()
        .zip(ends)
        .map(|(step, until)| (step.from_s.max(start), until.min(end), step))
        .filter(|(from, until, _)| from < until)
        .collect()
}
