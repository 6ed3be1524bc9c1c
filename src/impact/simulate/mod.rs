//! The hit integrated in time: what the closed forms leave out, a drive that notices, brakes, holds and reverses.
//!
//! m ẍ = F_drive(t, x, ẋ) − F(x) − c ẋ, where x is how far the front of the leaf has come since contact, F the force on the
//! gauge and c the loss between leaf and ground. Fourth-order Runge–Kutta of fixed step.
//!
//! Accuracy at a step of [`STEP`], shown by `tests/reference/impact.rs` and `impact_solid_edge.rs`: peak and impulse within 10⁻⁸ of
//! the closed forms and of SciPy's `solve_ivp`, also where an edge goes solid, with losses and with bounces. What the drive does
//! begins at the first step after its cause, so up to a step late; with a reaction, forces agree within 10⁻⁴ and times within 40 µs.

mod control;
mod motion;

pub use motion::{Moments, Motion, State};

use self::control::Controller;
use super::closed_form::rate_in_series;
use super::{ImpactError, Nose, SpringHit, newton_per_metre, not_negative, positive};
use crate::impact::closed_form::check_damping_ratio;
use crate::quantity::{Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};

/// A step of 10 µs: a thousandth of the shortest pulse that a gate makes on a gauge of 500 N/mm.
pub const STEP: Second = Second(10e-6);

/// All that decides a hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Model {
    /// Mass, approach speed, push of the drive, and the rate of the gauge alone.
    pub hit: SpringHit,
    /// What the leaf carries at its front.
    pub nose: Nose,
    /// Loss between leaf and ground, as a share of critical damping of the leaf on gauge and edge (0 ≤ ζ < 1).
    pub damping_ratio: f64,
    /// What the drive does about the hit.
    pub drive: Drive,
}

/// What the drive does about the hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// It pushes on with its constant force, whatever happens.
    NeverNotices,
    /// It notices, brakes, holds, and then does what [`After`] says.
    Reacts(Reaction),
}

/// How the drive reacts to a hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reaction {
    /// How the drive pushes until it has noticed.
    pub push: Push,
    /// What it notices the hit by.
    pub detection: Detection,
    /// From noticing to the beginning of the braking.
    pub delay: Second,
    /// Time in which the set speed falls to zero.
    pub braking: Second,
    /// Time for which it then holds.
    pub pause: Second,
    /// What it does after the pause.
    pub after: After,
    /// The gear between motor and leaf, which brakes, holds and pulls back.
    pub gear: Gear,
}

/// How the drive pushes until it has noticed the hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Push {
    /// With its constant force from contact on.
    Constant,
    /// As a speed control would: the more the leaf falls behind the approach speed, the harder, up to the drive force.
    SpeedControl {
        /// Force for each m/s that the leaf lags behind, in N·s/m.
        slope_n_s_per_m: f64,
    },
}

/// What the drive notices a hit by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Detection {
    /// A pressure-sensitive edge: the force at the front of the leaf.
    EdgeForce {
        /// Force at which it answers.
        threshold: Newton,
    },
    /// The load of the motor, as its current shows it, through a first-order low-pass.
    MotorLoad {
        /// Push of the drive at which it answers.
        threshold: Newton,
        /// Time constant of the low-pass.
        time_constant: Second,
    },
}

/// What the drive does after it has braked and paused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum After {
    /// It moves the leaf away.
    Reverses {
        /// Speed of the way back.
        speed: MillimetrePerSecond,
        /// Time in which that speed is reached.
        ramp: Second,
        /// How far it moves back from where the leaf stood.
        distance: Millimetre,
    },
    /// It lets go: the springs push the leaf away.
    LetsGo,
    /// It stays where it is.
    Holds,
}

/// The gear between motor and leaf: a spring and a damper that cannot carry more than a greatest force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gear {
    /// Force for each millimetre that the leaf is away from where the motor wants it.
    pub stiffness: NewtonPerMillimetre,
    /// Force for each m/s of difference, in N·s/m.
    pub damping_n_s_per_m: f64,
    /// Greatest force that motor and gear give while they brake, hold or pull back.
    pub greatest: Newton,
}

/// Integrates a hit from contact until a given time.
///
/// # Quantities
/// in: a [`Model`], end of the record (s after contact, > 0), step (s, > 0; [`STEP`]); out: a [`Motion`], which gives force,
/// position and impulse at any instant. It ends early once the leaf is on its way back from the gauge.
///
/// # Holds when
/// as the module says. A step that is not short against the pulse gives wrong forces without a warning.
///
/// # Errors
/// [`ImpactError`] for a time, rate or ratio that makes no sense.
///
/// # Source
/// Classical Runge–Kutta method of fourth order, in every text on numerical analysis.
///
/// # Example
/// ```
/// use relent::impact::simulate::{Drive, Model, STEP, simulate};
/// use relent::impact::{Nose, SpringHit};
/// use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};
/// let (m, v, k) = (Kilogram(200.0), MillimetrePerSecond(200.0), NewtonPerMillimetre(500.0));
/// let hit = SpringHit::new(m, v, Newton(0.0), k)?;
/// let model = Model { hit, nose: Nose::Bare, damping_ratio: 0.0, drive: Drive::NeverNotices };
/// let motion = simulate(&model, Second(0.05), STEP)?;
/// assert!((motion.peak_force().get() - 2000.0).abs() < 1e-4);
/// # Ok::<(), relent::impact::ImpactError>(())
/// ```
pub fn simulate(model: &Model, until: Second, step: Second) -> Result<Motion, ImpactError> {
    check(model, until, step)?;
    let chain = Chain::new(&model.hit, &model.nose)?;
    let loss = 2.0 * model.damping_ratio * (model.hit.mass().get() * chain.soft).sqrt();
    let mut control = Controller::new(model);
    let mut motion = Motion::starting(chain, step, super::metre_per_second(model.hit.speed()));
    let steps = (until / step).ceil() as usize;
    let mut state = Full {
        x: 0.0,
        v: super::metre_per_second(model.hit.speed()),
        load: 0.0,
    };
    for number in 0..steps {
        let t = number as f64 * step.get();
        control.update(t, &state, chain.force(state.x));
        let law = |t: f64, s: &Full| {
            let push = control.force(t, s);
            Full {
                x: s.v,
                v: (push - chain.force(s.x) - loss * s.v) / model.hit.mass().get(),
                load: control.load_rate(push, s.load),
            }
        };
        state = runge_kutta(law, t, &state, step.get());
        motion.push(state.x, state.v);
        if control.has_let_go() && state.x < 0.0 && state.v < 0.0 {
            break;
        }
    }
    motion.finish(control.moments(), control.rest());
    Ok(motion)
}

/// Position (m), speed (m/s) and the load that the drive sees (N).
#[derive(Clone, Copy, Debug)]
struct Full {
    x: f64,
    v: f64,
    load: f64,
}

impl Full {
    fn plus(&self, rate: &Self, time: f64) -> Self {
        Self {
            x: self.x + rate.x * time,
            v: self.v + rate.v * time,
            load: self.load + rate.load * time,
        }
    }
}

fn runge_kutta(law: impl Fn(f64, &Full) -> Full, t: f64, from: &Full, h: f64) -> Full {
    let one = law(t, from);
    let two = law(t + h / 2.0, &from.plus(&one, h / 2.0));
    let three = law(t + h / 2.0, &from.plus(&two, h / 2.0));
    let four = law(t + h, &from.plus(&three, h));
    let mean = |a: f64, b: f64, c: f64, d: f64| (a + 2.0 * (b + c) + d) / 6.0;
    let rate = Full {
        x: mean(one.x, two.x, three.x, four.x),
        v: mean(one.v, two.v, three.v, four.v),
        load: mean(one.load, two.load, three.load, four.load),
    };
    from.plus(&rate, h)
}

/// The springs between leaf and ground, in SI units: force on the gauge as a function of how far the leaf has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Chain {
    soft: f64,
    stiff: f64,
    solid_at: f64,
}

impl Chain {
    fn new(hit: &SpringHit, nose: &Nose) -> Result<Self, ImpactError> {
        let stiff = newton_per_metre(hit.rate());
        Ok(match nose {
            Nose::Bare => Self {
                soft: stiff,
                stiff,
                solid_at: f64::INFINITY,
            },
            Nose::Elastic(edge) => {
                let soft = newton_per_metre(rate_in_series(hit.rate(), edge.rate())?);
                Self {
                    soft,
                    stiff,
                    solid_at: edge.solid_force().get() / soft,
                }
            }
        })
    }

    fn force(&self, x: f64) -> f64 {
        if x <= 0.0 {
            0.0
        } else if x <= self.solid_at {
            self.soft * x
        } else {
            self.soft * self.solid_at + self.stiff * (x - self.solid_at)
        }
    }
}

fn check(model: &Model, until: Second, step: Second) -> Result<(), ImpactError> {
    positive("end of the simulation", Second::SYMBOL, until.get())?;
    positive("step", Second::SYMBOL, step.get())?;
    check_damping_ratio(model.damping_ratio)?;
    let Drive::Reacts(reaction) = &model.drive else {
        return Ok(());
    };
    for (what, time) in [
        ("reaction delay", reaction.delay),
        ("braking time", reaction.braking),
        ("pause", reaction.pause),
    ] {
        not_negative(what, Second::SYMBOL, time.get())?;
    }
    if let Push::SpeedControl { slope_n_s_per_m } = reaction.push {
        positive("slope of the speed control", "N·s/m", slope_n_s_per_m)?;
    }
    check_detection(&reaction.detection)?;
    check_gear(&reaction.gear)?;
    check_after(&reaction.after)
}

fn check_detection(detection: &Detection) -> Result<(), ImpactError> {
    match detection {
        Detection::EdgeForce { threshold } => {
            positive("edge threshold", Newton::SYMBOL, threshold.get())
        }
        Detection::MotorLoad {
            threshold,
            time_constant,
        } => {
            positive("motor load threshold", Newton::SYMBOL, threshold.get())?;
            positive("time constant", Second::SYMBOL, time_constant.get())
        }
    }
}

fn check_gear(gear: &Gear) -> Result<(), ImpactError> {
    positive(
        "gear stiffness",
        NewtonPerMillimetre::SYMBOL,
        gear.stiffness.get(),
    )?;
    not_negative("gear damping", "N·s/m", gear.damping_n_s_per_m)?;
    positive(
        "greatest force of the gear",
        Newton::SYMBOL,
        gear.greatest.get(),
    )
}

fn check_after(after: &After) -> Result<(), ImpactError> {
    if let After::Reverses {
        speed,
        ramp,
        distance,
    } = after
    {
        positive("reversal speed", MillimetrePerSecond::SYMBOL, speed.get())?;
        positive("reversal ramp", Second::SYMBOL, ramp.get())?;
        positive("reversal distance", Millimetre::SYMBOL, distance.get())?;
    }
    Ok(())
}
