//! Where one run of a log ends and the next begins.

use super::steps::{GAP, Steps};
use crate::ingest::rows::table::Table;

/// What the instants say about gaps.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::ingest) enum Source {
    /// A clock or a counter that goes on while nothing is logged.
    Clock,
    /// Nothing: they are the order of the rows.
    Rows,
}

/// Where runs begin: where the clock runs back, where the number of the run changes, where the name of a run or a blank line stands
/// between rows, and where heads do and the clock does not simply go on, or there is none.
pub(in crate::ingest) fn bounds(
    times: &[f64],
    steps: &Steps,
    source: Source,
    table: &Table,
) -> Vec<usize> {
    let mut bounds = vec![0];
    if steps.back > 0 {
        bounds.extend((1..times.len()).filter(|at| times[*at] < times[*at - 1]));
    }
    bounds.extend(&table.run_changes);
    let inside = |at: &&usize| (1..times.len()).contains(*at);
    let heads = &table.heads_again;
    let usual = match source {
        Source::Clock if !heads.is_empty() => steps.usual(times),
        _ => None,
    };
    let goes_on =
        |at: &usize| usual.is_some_and(|usual| times[*at] - times[*at - 1] <= GAP * usual);
    bounds.extend(heads.iter().filter(inside).filter(|at| !goes_on(at)));
    bounds.extend(table.blank_lines().iter().filter(inside));
    bounds.extend(table.named_runs.iter().filter(inside));
    bounds.sort_unstable();
    bounds.dedup();
    bounds.push(times.len());
    bounds
}
