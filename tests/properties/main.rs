//! Does it hold? Laws on generated input.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod gate;
mod report;
mod report_gate;
mod report_page;
mod verdict;
