//! Machine-readable records of what was measured and found.

pub mod measured;

pub mod cell;

pub mod archive;

pub mod history;
