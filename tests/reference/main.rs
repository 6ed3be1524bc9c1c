//! Is it right? Values from outside this crate, each with its source. `README.md` beside this file names the origins.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod check;

mod compare;

mod compare_programs;
