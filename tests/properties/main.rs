//! Does it hold? Laws on generated data.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod compare_simulation;
