//! The command line: one file a command.

pub mod complaint;
pub mod exit;
