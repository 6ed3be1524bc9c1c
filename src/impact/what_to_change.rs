//! For a hit over a limit: what would bring it under, in the order in which to try it, with predicted numbers.
//!
//! Everything here is a prediction from the closed forms, anchored at the measured peak. It decides nothing: after a change the
//! gate is tested again. The order (mechanics, speed, slow-down zone, edge, sensitivity last) follows HSE RR1056 (2015, its
//! abstract): force control by the drive was found inadequate, pressure-sensitive edges effective.

use std::fmt;

use super::closed_form::{
    EdgeNeeded, edge_for_limit, greatest_speed_with_nose, mass_from_peak, peak_force_with_nose,
    rate_from_peak,
};
use super::{Edge, ImpactError, Nose, SpringHit, metre_per_second, not_negative, positive};
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
    /// What else is known of the leaf; the rest follows from the peak.
    pub known: Known,
    /// Opening left between the edges at contact.
    pub gap: Millimetre,
}

/// What is known of the leaf besides its speed and push, so that the measured peak gives the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// Rate and travel of its edge, or that it has none: the peak gives the mass that the leaf presents.
    Nose(Nose),
    /// Its mass: the peak gives the rate of all that gives way, taken as linear.
    Mass(Kilogram),
}

/// What to change, in the order in which to try it; a prediction.
#[derive(Clone, Debug, PartialEq)]
pub struct Prediction {
    /// The hit that it starts from.
    pub hit: MeasuredHit,
    /// The leaf on the gauge alone. Its mass is the known one, or the one that explains the measured peak at that speed and push:
    /// what the leaf presents there, not what it weighs.
    pub leaf: SpringHit,
    /// What stands between leaf and gauge: known, or a linear edge that explains the measured peak.
    pub nose: Nose,
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
/// What is not known, mass or edge, is the one with which [`peak_force_with_nose`] gives the measured peak; every change is then
/// computed with both. A slow-down from v to v′ by a braking force F_m takes (v² − v′²) m / (2 F_m) of way.
///
/// # Quantities
/// in: a [`MeasuredHit`] (N, mm/s, N/mm, mm); out: a [`Prediction`].
///
/// # Holds when
/// the drive still pushes at the peak. One that already brakes makes mass or rate come out smaller than they are.
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
    let (leaf, nose) = explained(hit)?;
    let peak_with = |push: Newton| peak_force_with_nose(&leaf.with_drive(push)?, &nose);
    let without_push = peak_with(Newton(0.0))?;
    let slow = greatest_speed_with_nose(&leaf, &nose, hit.limit)?;
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
            needed: edge_for_limit(&leaf, hit.limit)?,
        },
        Change::Sensitivity {
            peak_left: without_push,
        },
    ];
    Ok(Prediction {
        hit: *hit,
        leaf,
        nose,
        changes,
    })
}

/// Leaf and nose that give the measured peak.
fn explained(hit: &MeasuredHit) -> Result<(SpringHit, Nose), NoPrediction> {
    let too_much = NoPrediction::PushExplainsMore {
        drive: hit.drive,
        peak: hit.peak,
    };
    match hit.known {
        Known::Nose(nose) => {
            let mass = mass_from_peak(hit.peak, hit.speed, hit.drive, hit.gauge, &nose)?
                .ok_or(too_much)?;
            let leaf = SpringHit::new(mass, hit.speed, hit.drive, hit.gauge)?;
            Ok((leaf, nose))
        }
        Known::Mass(mass) => {
            let leaf = SpringHit::new(mass, hit.speed, hit.drive, hit.gauge)?;
            let rate = rate_from_peak(hit.peak, &leaf)?.ok_or(too_much)?;
            if rate > hit.gauge {
                return Err(NoPrediction::MoreThanStated {
                    mass,
                    speed: hit.speed,
                    drive: hit.drive,
                    peak: hit.peak,
                    gauge: hit.gauge,
                });
            }
            Ok((leaf, linear_edge(rate, hit.gauge, hit.peak)?))
        }
    }
}

/// The edge that makes a gauge as soft as a rate, with travel enough for a peak.
fn linear_edge(
    rate: NewtonPerMillimetre,
    gauge: NewtonPerMillimetre,
    peak: Newton,
) -> Result<Nose, ImpactError> {
    let give = 1.0 / rate.get() - 1.0 / gauge.get();
    if give <= 0.0 {
        return Ok(Nose::Bare);
    }
    // A little more travel than the peak uses, so that rounding does not make the edge solid at the peak itself.
    let travel = Millimetre(peak.get() * give * (1.0 + 1e-9));
    Ok(Nose::Elastic(Edge::new(
        NewtonPerMillimetre(1.0 / give),
        travel,
    )?))
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
        EdgeNeeded::None => f.write_str(
            "edge: predicted to be over only because the present edge goes solid; a bare leaf of this mass would stay at the limit",
        ),
        EdgeNeeded::PushTooStrong => f.write_str(
            "edge: predicted not to help, the push alone exceeds the limit",
        ),
    }
}

impl fmt::Display for Prediction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "prediction, not a measurement: a leaf that presents {:.0} kg at {:.0} mm/s",
            self.leaf.mass().get(),
            self.leaf.speed().get()
        )?;
        for (number, change) in self.changes.iter().enumerate() {
            writeln!(f, "{}. {change}", number + 1)?;
        }
        f.write_str("after any change, test again")
    }
}
