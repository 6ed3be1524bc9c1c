//! Lines, cells, numbers, clock times and units: what logs are made of.

pub(super) mod cells;
pub(super) mod decimal;
pub(super) mod delimiter;
pub(super) mod number;
pub(super) mod stamp;
pub(super) mod units;
