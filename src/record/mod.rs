//! Machine-readable records of what was measured and found; the sealed record, and checking one again.

pub mod digests;

pub mod history;

pub mod canonical;

pub mod build;

pub mod knows;

pub mod sealed_log;

pub mod sealed_finding;

pub mod body;

pub mod seal;

pub mod difference;

pub mod case;

pub mod reassess;

pub mod signature;

pub mod recheck;
