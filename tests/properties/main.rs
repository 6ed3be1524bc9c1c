//! Does it hold? Laws on generated input.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, unreachable_pub)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    unreachable_pub
)]

mod evidence;
mod evidence_faults;
mod evidence_gauge;
mod gate;
mod response;
mod impact;
mod impact_changes;
mod impact_demo;
mod report;
mod verdict;
