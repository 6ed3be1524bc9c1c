//! Is it right? Values from outside this crate, each with its source. `README.md` beside this file names the origins.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod approach_speed;
mod archive;
mod butterworth;
mod canonical_json;
mod cfc;
mod check;
mod compare;
mod compare_programs;
mod conformance;
mod contact;
mod coverage;
mod crossings;
mod distributions;
mod dynamic_period;
mod effective_force;
mod energy;
mod history;
mod impact;
mod impact_fit;
mod impact_solid_edge;
mod impulse;
mod ingest_logs;
mod limits;
mod maxima;
mod mean_dynamic_force;
mod over_travel;
mod peak_force;
mod readiness;
mod records;
mod release;
mod residual_force;
mod reversal_time;
mod rolling_force;
mod static_force;
mod stop_time;
mod time_above_residual;
mod time_above_static;
mod uncertainty;
mod verdict;
mod zero;

/// Every topic of outside checks, in the order of the report.
fn topics() -> Vec<(&'static str, Vec<check::Check>)> {
    vec![
        ("A hit in closed form and simulated", impact::checks()),
        (
            "A hit on an edge that goes solid",
            impact_solid_edge::checks(),
        ),
        ("A leaf fitted to a measured pulse", impact_fit::checks()),
        ("Logs and their units", ingest_logs::checks()),
        ("Zero", zero::checks()),
        ("Contact", contact::checks()),
        ("Crossings of a level", crossings::checks()),
        ("Prominent maxima", maxima::checks()),
        ("Peak force", peak_force::checks()),
        ("Time above static", time_above_static::checks()),
        ("Dynamic period", dynamic_period::checks()),
        ("Static force", static_force::checks()),
        ("Residual force", residual_force::checks()),
        ("Time above residual", time_above_residual::checks()),
        ("Mean dynamic force", mean_dynamic_force::checks()),
        ("Effective force", effective_force::checks()),
        ("Impulse", impulse::checks()),
        ("Release", release::checks()),
        ("Stop time", stop_time::checks()),
        ("Reversal time", reversal_time::checks()),
        ("Over-travel", over_travel::checks()),
        ("Energy", energy::checks()),
        ("Approach speed", approach_speed::checks()),
        ("Channel frequency class", cfc::checks()),
        ("Butterworth low-pass", butterworth::checks()),
        ("Limits as published", limits::checks()),
        ("Checks before a gate is driven", readiness::checks()),
        ("Rolling and slope", rolling_force::checks()),
        ("Distributions", distributions::checks()),
        ("Uncertainty", uncertainty::checks()),
        ("Decision rules", verdict::checks()),
        ("Coverage by simulation", coverage::checks()),
        ("A gate over its visits", history::checks()),
        ("Canonical JSON of sealed records", canonical_json::checks()),
        ("Comparison, published values", compare::checks()),
        ("Comparison, other programs", compare_programs::checks()),
    ]
}
