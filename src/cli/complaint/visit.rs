//! What looks odd about a visit.

use super::{Complaint, gate_warnings, place_problem};
use crate::limitation::Original;
use crate::visit::{Beside, Visit};

/// What looks odd in the gate file of a visit.
#[must_use]
pub fn odd(visit: &Visit) -> Vec<Complaint> {
    let file = visit.file.display().to_string();
    gate_warnings(&file, &visit.sources.gate_file.text, &visit.warnings)
}

/// The files in the folder of the logs that have no place.
#[must_use]
pub fn unplaced(beside: &Beside) -> Vec<Complaint> {
    beside.problems.iter().map(place_problem).collect()
}

/// A log of an earlier visit that cannot be read.
#[must_use]
pub fn blind(original: &Original) -> Complaint {
    let (log, folder) = (&original.log, original.folder.as_deref());
    let folder = folder.unwrap_or_default();
    Complaint::warning(format_args!(
        "{log} of the earlier visit in {folder} cannot be read: whether a hit is a copy of it is not known"
    ))
}
