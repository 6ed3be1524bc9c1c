//! The report in a real headless Chromium.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod chromium;
mod devtools;
mod drawings;
mod hits_of_a_gate;
mod page;
#[path = "../properties/report_gate.rs"]
mod report_gate;
mod watch;
