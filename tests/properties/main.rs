//! Does it hold? Laws on generated input.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    unreachable_pub
)]

mod compare_simulation;
mod evidence;
mod gate;
mod impact;
mod impact_changes;
mod impact_demo;
mod report;
mod response;
mod verdict;
