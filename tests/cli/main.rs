//! Does it say it? The command line as a user meets it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod assess;
mod compare;
mod demo_report;
mod gate_file;
mod manners;
mod measure;
mod recheck;
mod run;
mod seal;
mod signature;
mod test_points;
mod validity;
mod visit;
