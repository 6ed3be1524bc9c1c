//! Before the gate is driven: is it ready to be? A list of checks as data, held against what the gate file answers; the force
//! needed to move the leaf by hand; what papers are missing.
//!
//! A check without an answer is "not checked", never good.

mod answer;
mod check;
mod pull;
mod rolling;
mod unit;

pub use answer::{
    Answer, AnswerError, CheckState, Checked, Converted, NoRating, Permitted, RatedBy, Readiness,
    rated_pull, readiness,
};
pub use check::{Check, CheckError, GivenBy, Paper, Rating, Reference, built_in, papers, parse};
pub use pull::{Along, Pull, PullDoubt, PullError, PullSettings, Stretch, pull};
pub use rolling::{friction_of, rolling_force};
pub use unit::Unit;
