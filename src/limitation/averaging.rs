//! Averaging declared in the log.

use super::Limitation;
use crate::trace::Trace;

/// The log declares that its forces are averaged or smoothed: they under-read, and times are smeared either way.
#[must_use]
pub fn averaging(trace: &Trace) -> Option<Limitation> {
    let declared = trace.averaging.clone()?;
    Some(Limitation::Averaging { declared })
}
