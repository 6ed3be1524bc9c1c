//! The parts of the page, one file each, in the order of the page.

pub(super) mod elevation;
pub(super) mod next;

pub(super) mod findings;
pub(super) mod hits;

pub(super) mod limitations;

pub(super) mod limits;

pub(super) mod gate;

pub(super) mod hazards;

mod files;
