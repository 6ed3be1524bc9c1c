//! Simulated hits of invented gates on invented gauges, all from a seed: what the detectors are tried on.

pub(crate) mod altered;
pub(crate) mod chance;
pub(crate) mod hits;
