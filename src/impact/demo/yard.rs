//! The invented gate: a cantilever sliding gate at the packing yard of an orchard, before and after its edge was changed.

use crate::impact::simulate::{
    After, Detection, Drive, Gear, Model, Motion, Push, Reaction, STEP, simulate,
};
use crate::impact::{Edge, ImpactError, Nose, SpringHit};
use crate::quantity::{
    Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};

/// Which of the two visits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Visit {
    /// With the edge the gate came with.
    First,
    /// With a longer edge and a lower closing speed; firmware unchanged.
    AfterChange,
}

/// A hit of the plan: where the gauge stands and which of three hits it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Planned {
    /// The visit.
    pub visit: Visit,
    /// Opening left between the edges at contact, in mm.
    pub gap_mm: u32,
    /// Height above the ground in mm.
    pub height_mm: u32,
    /// 1, 2 or 3.
    pub repeat: u32,
}

impl Visit {
    /// Both, in order.
    pub const ALL: [Self; 2] = [Self::First, Self::AfterChange];

    /// Its folder.
    #[must_use]
    pub const fn folder(self) -> &'static str {
        match self {
            Self::First => "visit-1",
            Self::AfterChange => "visit-2",
        }
    }

    const fn number(self) -> u64 {
        match self {
            Self::First => 1,
            Self::AfterChange => 2,
        }
    }
}

impl Planned {
    /// The 27 hits of a visit, gap by gap, from the ground up.
    #[must_use]
    pub fn of(visit: Visit) -> Vec<Self> {
        let mut hits = Vec::with_capacity(27);
        for gap_mm in [50, 300, 500] {
            for height_mm in [50, 900, 1500] {
                for repeat in 1..=3 {
                    hits.push(Self {
                        visit,
                        gap_mm,
                        height_mm,
                        repeat,
                    });
                }
            }
        }
        hits
    }

    /// A number of its own for each hit, to start its noise from.
    pub(super) fn seed(self) -> u64 {
        ((self.visit.number() * 1000 + u64::from(self.gap_mm)) * 10_000 + u64::from(self.height_mm))
            * 10
            + u64::from(self.repeat)
    }

    pub(super) const fn is_at(self, gap_mm: u32, height_mm: u32) -> bool {
        self.gap_mm == gap_mm && self.height_mm == height_mm
    }

    /// Approach speed: full until the slow-down zone, slower in it, and never twice the same.
    fn speed(self) -> MillimetrePerSecond {
        let nominal = match (self.visit, self.gap_mm) {
            (Visit::First, 500) => 136.0,
            (Visit::First, 300) => 119.0,
            (Visit::First, _) => 104.0,
            (Visit::AfterChange, 500) => 118.0,
            (Visit::AfterChange, 300) => 104.0,
            (Visit::AfterChange, _) => 88.0,
        };
        let strayed = match (self.repeat, self.height_mm) {
            (1, _) => 0.0,
            (2, 900) => -0.008,
            (2, _) => 0.011,
            (_, 50) => 0.006,
            (_, _) => -0.012,
        };
        MillimetrePerSecond(nominal * (1.0 + strayed))
    }

    /// Mass that the leaf presents: it yields the more, the higher it is hit above its rail.
    fn mass(self) -> Kilogram {
        Kilogram(match self.height_mm {
            50 => 420.0,
            900 => 370.0,
            _ => 334.0,
        })
    }

    fn edge(self) -> Result<Edge, ImpactError> {
        match self.visit {
            Visit::First => Edge::new(NewtonPerMillimetre(22.0), Millimetre(17.0)),
            Visit::AfterChange => Edge::new(NewtonPerMillimetre(14.0), Millimetre(45.0)),
        }
    }

    pub(super) fn model(self) -> Result<Model, ImpactError> {
        Ok(Model {
            hit: SpringHit::new(
                self.mass(),
                self.speed(),
                Newton(120.0),
                NewtonPerMillimetre(500.0),
            )?,
            nose: Nose::Elastic(self.edge()?),
            damping_ratio: 0.1,
            drive: Drive::Reacts(reaction(Second(0.04 + 0.004 * f64::from(self.repeat)))),
        })
    }

    /// How the hit went.
    pub(super) fn motion(self) -> Result<Motion, ImpactError> {
        simulate(&self.model()?, Second(3.0), STEP)
    }
}

/// How the drive of the invented gate reacts: by its motor load, so long after it, and back within half a second.
#[must_use]
pub fn reaction(delay: Second) -> Reaction {
    Reaction {
        push: Push::SpeedControl {
            slope_n_s_per_m: 6000.0,
        },
        detection: Detection::MotorLoad {
            threshold: Newton(95.0),
            time_constant: Second(0.012),
        },
        delay,
        braking: Second(0.05),
        pause: Second(0.08),
        after: After::Reverses {
            speed: MillimetrePerSecond(120.0),
            ramp: Second(0.12),
            distance: Millimetre(400.0),
        },
        gear: Gear {
            stiffness: NewtonPerMillimetre(80.0),
            damping_n_s_per_m: 5000.0,
            greatest: Newton(420.0),
        },
    }
}
