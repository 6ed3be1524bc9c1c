//! Rows → columns of numbers, with everything that could not be used and where it stood.

pub(super) mod alike;
pub(super) mod fast;
pub(super) mod read;
pub(super) mod slow;
pub(super) mod table;
