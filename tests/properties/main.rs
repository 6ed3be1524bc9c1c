//! Does it hold? Laws on generated traces and logs.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod impact;
mod impact_changes;
