//! Does it say it? The command line as a user meets it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod archive;
mod assess;
#[cfg(unix)]
mod bounds;
mod compare;
mod demo_report;
#[cfg(unix)]
mod faults;
mod gate_file;
mod history;
mod manners;
mod measure;
mod mistakes;
#[cfg(unix)]
mod outputs;
mod questions;
mod recheck;
mod run;
mod schema;
mod seal;
#[cfg(unix)]
mod serve;
mod signature;
#[cfg(target_os = "linux")]
mod terminal;
mod test_points;
mod validity;
mod visit;
mod watch;
mod whole_visit;
