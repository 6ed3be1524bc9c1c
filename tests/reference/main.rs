//! Is it right? Values from outside this crate, each with its source. `README.md` beside this file names the origins.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod check;
mod conformance;
mod distributions;
mod impact;
mod impact_solid_edge;
mod limits;
mod uncertainty;
mod verdict;

/// Every topic of outside checks, in the order of the report.
fn topics() -> Vec<(&'static str, Vec<check::Check>)> {
    vec![
        ("A hit in closed form and simulated", impact::checks()),
        (
            "A hit on an edge that goes solid",
            impact_solid_edge::checks(),
        ),
        ("Limits as published", limits::checks()),
        ("Distributions", distributions::checks()),
        ("Uncertainty", uncertainty::checks()),
        ("Decision rules", verdict::checks()),
    ]
}
