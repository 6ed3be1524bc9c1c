//! A log of the force needed to move the leaf by hand → break-away force, steady force, and where along the travel it binds.

use std::ops::Range;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::fact::Fact;
use crate::quantity::Newton;
use crate::trace::Trace;

/// What the travel is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// Position of the leaf, mm.
    Position,
    /// Time, s, where the log has no position.
    Time,
}

impl Along {
    /// Symbol of the unit.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Position => "mm",
            Self::Time => "s",
        }
    }
}

/// What the person who assesses a pull has to choose; the record prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PullSettings {
    /// How much of the pulled stretch counts as the start, in the unit of the travel.
    pub start: f64,
    /// The leaf binds where the force is above this many times the steady force.
    pub binds_above: f64,
}

/// What a pull shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// What the travel is counted in.
    pub along: Along,
    /// The settings.
    pub settings: PullSettings,
    /// Where the pull begins and ends along the travel.
    pub pulled: Range<f64>,
    /// Greatest force of the start.
    pub break_away: Newton,
    /// Where it is.
    pub break_away_at: f64,
    /// Median force along the travel after the start.
    pub steady: Newton,
    /// Greatest force after the start.
    pub greatest: Newton,
    /// Where it is.
    pub greatest_at: f64,
    /// Where the leaf binds.
    pub binds: Vec<Stretch>,
    /// Why the true forces may be greater; empty for a record without fault.
    pub lower_bound: Vec<PullDoubt>,
    /// The force along the travel: (travel, N), for a plot.
    pub curve: Vec<(f64, f64)>,
}

/// Why the true forces of a pull may be greater than those read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum PullDoubt {
    /// The log starts with the leaf already pulled: its start may be missing.
    StartMissing,
    /// Rows have no usable force.
    LostRows {
        /// How many.
        rows: usize,
    },
    /// The log says that it averages.
    Averaging {
        /// In the log's own words.
        averaging: String,
    },
}

impl Fact for PullDoubt {
    const FAMILY: &'static str = "pull-doubt";
}

/// A stretch of the travel where the leaf binds.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Along the travel.
    pub along: Range<f64>,
    /// The greatest force in it.
    pub greatest: Newton,
}

/// Why a log is no pull.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PullError {
    /// No force that pulls.
    #[error("the force is never above 0: expected the pull as a positive force")]
    NoPull,
    /// The pulled stretch is not longer than its start.
    #[error(
        "the leaf is pulled along {pulled} {unit} only: expected more than the start of {start} {unit}"
    )]
    TooShort {
        /// How long it is pulled.
        pulled: f64,
        /// How long the start is.
        start: f64,
        /// The unit of the travel.
        unit: &'static str,
    },
    /// Some rows have no position.
    #[error("the log has a position, but {missing} of its {rows} rows give none")]
    PositionGaps {
        /// Rows without.
        missing: usize,
        /// All rows.
        rows: usize,
    },
    /// A setting that cannot be used.
    #[error("{what} is {found}: expected {expected}")]
    BadSetting {
        /// Which.
        what: &'static str,
        /// What was given.
        found: f64,
        /// What was expected.
        expected: &'static str,
    },
}

/// Reads a pull: break-away force, steady force, greatest force after the start, where the leaf binds.
///
/// With d the travel (position from its first sample, in the direction of the pull, where the log has one; else time) and F the
/// force as logged: L = half the median of all forces above a tenth of the greatest. The leaf is pulled from the first to the
/// last sample with F ≥ L. The break-away force is the greatest F over the first `start` of that stretch; the steady force is the
/// median of F over the rest, each sample weighted by the travel it stands for; the leaf binds where F > `binds_above` × steady.
///
/// # Quantities
/// Forces in N, positive when pulled, not zeroed; travel in mm or s; `start` in the unit of the travel, above 0;
/// `binds_above` a pure number above 1.
///
/// # Holds when
/// The leaf moves one way over the stretch and the gauge reads zero unloaded.
///
/// # Errors
/// [`PullError`]
///
/// # Source
/// Common practice, no source.
///
/// # Example
/// ```
/// use relent::readiness::{PullSettings, pull};
/// use relent::trace::Trace;
/// // 0.1 s at 180 N, then 100 N up to 10 s.
/// let times: Vec<f64> = (0..=100).map(|k| f64::from(k) / 10.0).collect();
/// let forces: Vec<f64> = (0..=100).map(|k| if k < 2 { 180.0 } else { 100.0 }).collect();
/// let settings = PullSettings { start: 1.0, binds_above: 1.5 };
/// let pull = pull(&Trace::new(times, forces)?, settings)?;
/// assert_eq!((pull.break_away.get(), pull.steady.get()), (180.0, 100.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pull(trace: &Trace, settings: PullSettings) -> Result<Pull, PullError> {
    check(settings)?;
    let (along, travel) = travel(trace)?;
    let forces: Vec<f64> = trace.forces().to_vec();
    let level = level(&forces)?;
    let first = forces.iter().position(|force| *force >= level);
    let last = forces.iter().rposition(|force| *force >= level);
    let (Some(first), Some(last)) = (first, last) else {
        return Err(PullError::NoPull);
    };
    let length = (travel[last] - travel[first]).abs();
    let from_start = |index: usize| (travel[index] - travel[first]).abs();
    let start_end = (first..=last)
        .find(|index| from_start(*index) > settings.start)
        .ok_or(PullError::TooShort {
            pulled: length,
            start: settings.start,
            unit: along.unit(),
        })?;
    let greatest_in = |range: Range<usize>| {
        range
            .max_by(|a, b| forces[*a].total_cmp(&forces[*b]))
            .unwrap_or(first)
    };
    let (break_away, greatest) = (
        greatest_in(first..start_end),
        greatest_in(start_end..last + 1),
    );
    let steady = steady(&travel, &forces, start_end..last + 1);
    Ok(Pull {
        along,
        settings,
        pulled: travel[first]..travel[last],
        break_away: Newton(forces[break_away]),
        break_away_at: travel[break_away],
        steady: Newton(steady),
        greatest: Newton(forces[greatest]),
        greatest_at: travel[greatest],
        binds: binds(
            &travel,
            &forces,
            start_end..last + 1,
            settings.binds_above * steady,
        ),
        lower_bound: doubts(trace, first),
        curve: travel.iter().copied().zip(forces.iter().copied()).collect(),
    })
}

fn check(settings: PullSettings) -> Result<(), PullError> {
    if !(settings.start.is_finite() && settings.start > 0.0) {
        return Err(PullError::BadSetting {
            what: "start",
            found: settings.start,
            expected: "a stretch above 0",
        });
    }
    if !(settings.binds_above.is_finite() && settings.binds_above > 1.0) {
        return Err(PullError::BadSetting {
            what: "binding factor",
            found: settings.binds_above,
            expected: "a number above 1",
        });
    }
    Ok(())
}

/// The travel of each sample: position from its first sample, grown the way the leaf went; time where there is none.
fn travel(trace: &Trace) -> Result<(Along, Vec<f64>), PullError> {
    let Some(position) = &trace.position_mm else {
        return Ok((Along::Time, trace.times().to_vec()));
    };
    let missing = position.iter().filter(|mm| !mm.is_finite()).count();
    let rows = position.len();
    if missing > 0 {
        return Err(PullError::PositionGaps { missing, rows });
    }
    let (from, to) = (position[0], position[rows - 1]);
    let way = if to < from { -1.0 } else { 1.0 };
    Ok((
        Along::Position,
        position.iter().map(|mm| way * (mm - from)).collect(),
    ))
}

/// Half the median of the forces above a tenth of the greatest.
fn level(forces: &[f64]) -> Result<f64, PullError> {
    let most = forces.iter().copied().fold(0.0_f64, f64::max);
    let mut pulling: Vec<f64> = forces
        .iter()
        .copied()
        .filter(|force| *force > most / 10.0)
        .collect();
    if pulling.is_empty() {
        return Err(PullError::NoPull);
    }
    pulling.sort_by(f64::total_cmp);
    Ok(pulling[pulling.len() / 2] / 2.0)
}

/// Median of the forces of a stretch, each weighted by half the travel to its neighbours.
fn steady(travel: &[f64], forces: &[f64], stretch: Range<usize>) -> f64 {
    let last = travel.len() - 1;
    let weight = |k: usize| (travel[(k + 1).min(last)] - travel[k.saturating_sub(1)]).abs() / 2.0;
    let mut weighted: Vec<(f64, f64)> = stretch.map(|k| (forces[k], weight(k))).collect();
    weighted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half = weighted.iter().map(|(_, weight)| weight).sum::<f64>() / 2.0;
    let mut passed = 0.0;
    let middle = weighted.iter().find(|(_, weight)| {
        passed += weight;
        passed >= half
    });
    middle.map_or(f64::NAN, |(force, _)| *force)
}

/// The stretches in which the force stays above a level.
fn binds(travel: &[f64], forces: &[f64], stretch: Range<usize>, level: f64) -> Vec<Stretch> {
    let over: Vec<usize> = stretch.filter(|k| forces[*k] > level).collect();
    over.chunk_by(|a, b| a + 1 == *b)
        .map(|run| {
            let (from, to) = (travel[run[0]], travel[run[run.len() - 1]]);
            let greatest = run.iter().map(|k| forces[*k]).fold(0.0, f64::max);
            Stretch {
                along: from.min(to)..from.max(to),
                greatest: Newton(greatest),
            }
        })
        .collect()
}

/// Why the true forces may be greater than those read.
fn doubts(trace: &Trace, first: usize) -> Vec<PullDoubt> {
    let rows = trace.lost.len();
    let averaging = trace.averaging.clone();
    [
        (first == 0).then_some(PullDoubt::StartMissing),
        (rows > 0).then_some(PullDoubt::LostRows { rows }),
        averaging.map(|averaging| PullDoubt::Averaging { averaging }),
    ]
    .into_iter()
    .flatten()
    .collect()
}
