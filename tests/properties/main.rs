//! Does it hold? Laws on generated data.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod compare_simulation;
//! Does it hold? Laws on generated input.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    unreachable_pub
)]

mod evidence;
mod gate;
mod impact;
mod impact_changes;
mod impact_demo;
mod report;
mod response;
mod verdict;
