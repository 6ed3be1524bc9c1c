//! For a hit over a limit: what would bring it under, in the order in which to try it, with predicted numbers.
//!
//! Everything here is a prediction from the closed forms, anchored at the measured peak. It decides nothing: after a change the
//! gate is tested again. The order (mechanics, speed, slow-down zone, edge, sensitivity last) follows HSE RR1056 (2015, its
//! abstract): force control by the drive was found inadequate, pressure-sensitive edges effective.

use std::fmt;

use super::closed_form::{EdgeNeeded, edge_for_limit, greatest_speed, peak_force, rate_from_peak};
use super::{ImpactError, SpringHit, metre_per_second, not_negative, positive};
use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};

/// What is known of a hit that was over a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredHit {
    /// Measured peak force.
    pub peak: Newton,
    /// Limit that it is over.
    pub limit: Newton,
    /// Approach speed, measured or declared.
    pub speed: MillimetrePerSecond,
    /// Force with which the drive pushes until it notices.
    pub drive: Newton,
    /// Spring rate of the gauge.
    pub gauge: NewtonPerMillimetre,
    /// Mass of the leaf.
    pub mass: Kilogram,
    /// Opening left between the edges at contact.
    pub gap: Millimetre,
}

/// What to change, in the order in which to try it; a prediction.
#[derive(Clone, Debug, PartialEq)]
pub struct Prediction {
    /// The hit that it starts from.
    pub hit: MeasuredHit,
    /// The leaf on a spring that explains the measured peak: the rate of all that gives way, taken as linear.
    pub leaf: SpringHit,
    /// The changes.
    pub changes: Vec<Change>,
}

/// One thing to change and what the model expects of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// A leaf that runs freely needs less push: rollers, rail, hinges, balance, then the drive's force.
    Mechanics {
        /// Peak with half the push.
        peak_with_half_the_push: Newton,
        /// Peak with no push at all: the part that mass and speed give.
        peak_without_push: Newton,
    },
    /// A lower approach speed.
    Speed {
        /// Greatest speed at which the peak stays at the limit; `None` if the push alone exceeds it.
        greatest: Option<MillimetrePerSecond>,
    },
    /// A zone in which the leaf is slow, long enough to include this gap.
    SlowDownZone {
        /// Speed in the zone; `None` if no speed is low enough.
        speed: Option<MillimetrePerSecond>,
        /// Gap at which slowing down must begin, with the push of the drive as the braking force.
        begins_at: Option<Millimetre>,
    },
    /// An edge that gives way far enough.
    Edge {
        /// The stiffest that is enough, at the present speed.
        needed: EdgeNeeded,
    },
    /// A drive that notices sooner.
    Sensitivity {
        /// Peak if it stopped pushing at contact: the least that sensitivity alone can reach, short of braking the leaf.
        peak_left: Newton,
    },
}

/// Why there is nothing to predict from.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoPrediction {
    /// A number that makes no sense.
    #[error(transparent)]
    Number(#[from] ImpactError),
    /// The hit is not over the limit.
    #[error("the peak of {peak} is not over the limit of {limit}: nothing to change")]
    NotOver {
        /// The peak.
        peak: Newton,
        /// The limit.
        limit: Newton,
    },
    /// The leaf would have to meet something stiffer than the gauge.
    #[error(
        "{mass} at {speed} with a push of {drive} cannot give a peak of {peak} on {gauge}: one of them is more than stated"
    )]
    MoreThanStated {
        /// The mass.
        mass: Kilogram,
        /// The approach speed.
        speed: MillimetrePerSecond,
        /// The push.
        drive: Newton,
        /// The peak.
        peak: Newton,
        /// Rate of the gauge.
        gauge: NewtonPerMillimetre,
    },
    /// Twice the push is more than the peak.
    #[error(
        "a push of {drive} alone would give more than the peak of {peak}: the drive does not push that hard at contact"
    )]
    PushExplainsMore {
        /// The push.
        drive: Newton,
        /// The peak.
        peak: Newton,
    },
}

/// Predicts what would bring a hit under its limit.
///
/// The rate of all that gives way is the one with which [`peak_force`] gives the measured peak; speed and push are then changed on
/// that spring. The edge is computed for the whole mass on the gauge with the push on, whatever the drive does. A slow-down from v to
/// v′ by a braking force F_m takes (v² − v′²) m / (2 F_m) of way.
///
/// # Quantities
/// in: a [`MeasuredHit`] (N, mm/s, N/mm, mm); out: a [`Prediction`].
///
/// # Holds when
/// as the closed forms. Where the edge had gone solid or the drive already braked at the peak, speed and edge come out more
/// cautious than needed (held against simulations in `tests/properties/impact_changes.rs`). A push stated too low makes the
/// speed come out too high.
///
/// # Errors
/// [`NoPrediction`] for a hit that is not over, a push or a leaf that explains more or less than the peak, or a number that makes no
/// sense.
///
/// # Source
/// The closed forms; order after HSE RR1056 (2015), abstract.
pub fn what_to_change(hit: &MeasuredHit) -> Result<Prediction, NoPrediction> {
    positive("limit", Newton::SYMBOL, hit.limit.get())?;
    not_negative("gap", Millimetre::SYMBOL, hit.gap.get())?;
    if hit.peak <= hit.limit {
        return Err(NoPrediction::NotOver {
            peak: hit.peak,
            limit: hit.limit,
        });
    }
    let leaf = explained(hit)?;
    let peak_with = |push: Newton| Ok::<_, ImpactError>(peak_force(&leaf.with_drive(push)?));
    let without_push = peak_with(Newton(0.0))?;
    let slow = greatest_speed(leaf.mass(), leaf.drive(), leaf.rate(), hit.limit)?;
    let changes = vec![
        Change::Mechanics {
            peak_with_half_the_push: peak_with(hit.drive / 2.0)?,
            peak_without_push: without_push,
        },
        Change::Speed { greatest: slow },
        Change::SlowDownZone {
            speed: slow,
            begins_at: slow.and_then(|speed| slowing_begins(&leaf, speed, hit.gap)),
        },
        Change::Edge {
            needed: edge_for_limit(&leaf.on_spring(hit.gauge)?, hit.limit)?,
        },
        Change::Sensitivity {
            peak_left: without_push,
        },
    ];
    Ok(Prediction {
        hit: *hit,
        leaf,
        changes,
    })
}

/// The leaf on the spring that gives the measured peak.
fn explained(hit: &MeasuredHit) -> Result<SpringHit, NoPrediction> {
    let on_gauge = SpringHit::new(hit.mass, hit.speed, hit.drive, hit.gauge)?;
    let rate = rate_from_peak(hit.peak, &on_gauge)?.ok_or(NoPrediction::PushExplainsMore {
        drive: hit.drive,
        peak: hit.peak,
    })?;
    if rate > hit.gauge {
        return Err(NoPrediction::MoreThanStated {
            mass: hit.mass,
            speed: hit.speed,
            drive: hit.drive,
            peak: hit.peak,
            gauge: hit.gauge,
        });
    }
    Ok(on_gauge.on_spring(rate)?)
}

/// Gap plus the way on which the push of the drive, turned round, slows the leaf down; `None` without a push.
fn slowing_begins(
    leaf: &SpringHit,
    slow: MillimetrePerSecond,
    gap: Millimetre,
) -> Option<Millimetre> {
    let push = leaf.drive().get();
    if push <= 0.0 {
        return None;
    }
    let square = |speed| metre_per_second(speed).powi(2);
    let way_m = (square(leaf.speed()) - square(slow)) * leaf.mass().get() / (2.0 * push);
    Some(gap + Millimetre(way_m * 1e3))
}

impl Change {
    /// Whether the model expects this change alone to bring the peak to the limit.
    #[must_use]
    pub fn may_suffice(&self, limit: Newton) -> bool {
        match self {
            Self::Mechanics {
                peak_without_push, ..
            } => *peak_without_push <= limit,
            Self::Speed { greatest } => greatest.is_some(),
            Self::SlowDownZone { begins_at, .. } => begins_at.is_some(),
            Self::Edge { needed } => *needed != EdgeNeeded::PushTooStrong,
            Self::Sensitivity { peak_left } => *peak_left <= limit,
        }
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mechanics {
                peak_with_half_the_push,
                peak_without_push,
            } => write!(
                f,
                "mechanics: let the leaf run freely, then lower the push. Predicted peak: {:.0} N with half the push, {:.0} N without any",
                peak_with_half_the_push.get().ceil(),
                peak_without_push.get().ceil()
            ),
            Self::Speed { greatest: Some(v) } => write!(
                f,
                "speed: predicted to stay at the limit at {:.0} mm/s or less",
                v.get().floor()
            ),
            Self::Speed { greatest: None } => {
                f.write_str("speed: predicted not to help, the push alone exceeds the limit")
            }
            Self::SlowDownZone {
                speed: Some(v),
                begins_at: Some(gap),
            } => write!(
                f,
                "slow-down zone: predicted to need {:.0} mm/s here, so slowing down must begin at a gap of {:.0} mm or more",
                v.get().floor(),
                gap.get().ceil()
            ),
            Self::SlowDownZone { .. } => {
                f.write_str("slow-down zone: no length can be predicted from this push")
            }
            Self::Edge { needed } => write_edge(f, needed),
            Self::Sensitivity { peak_left } => write!(
                f,
                "sensitivity, last: predicted peak of {:.0} N even if the drive stopped pushing at contact",
                peak_left.get().ceil()
            ),
        }
    }
}

fn write_edge(f: &mut fmt::Formatter<'_>, needed: &EdgeNeeded) -> fmt::Result {
    match needed {
        EdgeNeeded::Edge(edge) => write!(
            f,
            "edge: predicted to need one of at most {:.1} N/mm that gives way at least {:.0} mm before it is solid",
            (edge.rate().get() * 10.0).floor() / 10.0,
            edge.travel().get().ceil()
        ),
        EdgeNeeded::None => f.write_str("edge: predicted not to be needed"),
        EdgeNeeded::PushTooStrong => {
            f.write_str("edge: predicted not to help, the push alone exceeds the limit")
        }
    }
}

impl fmt::Display for Prediction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "prediction, not a measurement: a leaf of {:.0} kg at {:.0} mm/s on {:.1} N/mm in all",
            self.leaf.mass().get(),
            self.leaf.speed().get(),
            self.leaf.rate().get()
        )?;
        for (number, change) in self.changes.iter().enumerate() {
            writeln!(f, "{}. {change}", number + 1)?;
        }
        f.write_str("after any change, test again")
    }
}
