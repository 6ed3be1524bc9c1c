//! Clock values → instants in seconds, one run after another.

pub(super) mod bounds;
pub(super) mod instants;
mod parted;
pub(super) mod steps;
pub(super) mod wraps;
