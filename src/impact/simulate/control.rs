//! What the drive does, step by step: push, notice, brake, hold, go back.

use super::{After, Detection, Drive, Full, Model, Push, Reaction};
use crate::impact::{metre_per_second, newton_per_metre};
use crate::quantity::Second;

/// When the drive did what, in seconds after contact; `None` for what did not happen.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// It noticed the hit.
    pub noticed: Option<Second>,
    /// It began to brake.
    pub braked: Option<Second>,
    /// It had braked and began to hold.
    pub held: Option<Second>,
    /// It began to reverse or let go.
    pub let_go: Option<Second>,
}

#[derive(Clone, Copy, Debug)]
enum Phase {
    Pushes,
    Brakes {
        since: f64,
        from_x: f64,
        from_v: f64,
    },
    Holds {
        since: f64,
        at: f64,
    },
    Reverses {
        since: f64,
        from: f64,
    },
    Free,
}

/// The drive as it goes through its phases.
#[derive(Clone, Copy, Debug)]
pub(super) struct Controller {
    push: f64,
    set_speed: f64,
    drive: Drive,
    phase: Phase,
    moments: Moments,
}

impl Controller {
    pub(super) fn new(model: &Model) -> Self {
        Self {
            push: model.hit.drive().get(),
            set_speed: metre_per_second(model.hit.speed()),
            drive: model.drive,
            phase: Phase::Pushes,
            moments: Moments::default(),
        }
    }

    /// Goes to the next phase where its time has come; called once a step, at its beginning.
    pub(super) fn update(&mut self, t: f64, state: &Full, front_force: f64) {
        let Drive::Reacts(reaction) = self.drive else {
            return;
        };
        match self.phase {
            Phase::Pushes => self.watch(t, state, front_force, &reaction),
            Phase::Brakes { since, from_x, .. } if t >= since + reaction.braking.get() => {
                let at = from_x + self.braking_way(reaction.braking.get());
                self.moments.held = Some(Second(t));
                self.phase = Phase::Holds { since: t, at };
            }
            Phase::Holds { since, at } if t >= since + reaction.pause.get() => {
                self.leave_hold(t, at, &reaction);
            }
            Phase::Brakes { .. } | Phase::Holds { .. } | Phase::Reverses { .. } | Phase::Free => {}
        }
    }

    fn watch(&mut self, t: f64, state: &Full, front_force: f64, reaction: &Reaction) {
        let seen = match reaction.detection {
            Detection::EdgeForce { threshold } => front_force >= threshold.get(),
            Detection::MotorLoad { threshold, .. } => state.load >= threshold.get(),
        };
        if seen && self.moments.noticed.is_none() {
            self.moments.noticed = Some(Second(t));
        }
        let Some(noticed) = self.moments.noticed else {
            return;
        };
        if t >= noticed.get() + reaction.delay.get() {
            self.moments.braked = Some(Second(t));
            self.phase = Phase::Brakes {
                since: t,
                from_x: state.x,
                from_v: state.v,
            };
        }
    }

    fn leave_hold(&mut self, t: f64, at: f64, reaction: &Reaction) {
        self.phase = match reaction.after {
            After::Holds => return,
            After::LetsGo => Phase::Free,
            After::Reverses { .. } => Phase::Reverses { since: t, from: at },
        };
        self.moments.let_go = Some(Second(t));
    }

    /// How far the set point runs on while its speed falls evenly to zero.
    fn braking_way(&self, braking: f64) -> f64 {
        match self.phase {
            Phase::Brakes { from_v, .. } => from_v * braking / 2.0,
            _ => 0.0,
        }
    }

    /// Force of the drive on the leaf, positive towards the gauge.
    pub(super) fn force(&self, t: f64, state: &Full) -> f64 {
        let Drive::Reacts(reaction) = &self.drive else {
            return self.push;
        };
        let (x, v) = match self.phase {
            Phase::Free => return 0.0,
            Phase::Pushes => return self.pushing_force(state, reaction.push),
            Phase::Brakes {
                since,
                from_x,
                from_v,
            } => braking_point(t - since, from_x, from_v, reaction.braking.get()),
            Phase::Holds { at, .. } => (at, 0.0),
            Phase::Reverses { since, from } => reversing_point(t - since, from, &reaction.after),
        };
        let gear = &reaction.gear;
        let wanted = newton_per_metre(gear.stiffness) * (x - state.x)
            + gear.damping_n_s_per_m * (v - state.v);
        wanted.clamp(-gear.greatest.get(), gear.greatest.get())
    }

    fn pushing_force(&self, state: &Full, push: Push) -> f64 {
        match push {
            Push::Constant => self.push,
            Push::SpeedControl { slope_n_s_per_m } => {
                (slope_n_s_per_m * (self.set_speed - state.v)).clamp(0.0, self.push)
            }
        }
    }

    /// Rate at which the load that the drive sees follows its push.
    pub(super) fn load_rate(&self, push: f64, load: f64) -> f64 {
        match &self.drive {
            Drive::Reacts(Reaction {
                detection: Detection::MotorLoad { time_constant, .. },
                ..
            }) => (push - load) / time_constant.get(),
            Drive::Reacts(_) | Drive::NeverNotices => 0.0,
        }
    }

    /// Whether the drive no longer works towards the gauge.
    pub(super) const fn has_let_go(&self) -> bool {
        matches!(self.phase, Phase::Reverses { .. } | Phase::Free)
    }

    pub(super) const fn moments(&self) -> Moments {
        self.moments
    }

    /// Where the leaf comes to rest after a reversal, in m; `None` if the drive does not decide that.
    pub(super) fn rest(&self) -> Option<f64> {
        match (self.phase, &self.drive) {
            (
                Phase::Reverses { from, .. },
                Drive::Reacts(Reaction {
                    after: After::Reverses { distance, .. },
                    ..
                }),
            ) => Some(from - distance.get() / 1e3),
            _ => None,
        }
    }
}

/// Set point and set speed while the set speed falls evenly to zero.
fn braking_point(since: f64, x: f64, v: f64, braking: f64) -> (f64, f64) {
    if since >= braking {
        return (x + v * braking / 2.0, 0.0);
    }
    let left = 1.0 - since / braking;
    (x + v * since * (1.0 + left) / 2.0, v * left)
}

/// Set point and set speed on the way back: an even ramp, then the reversal speed, then rest.
fn reversing_point(since: f64, from: f64, after: &After) -> (f64, f64) {
    let After::Reverses {
        speed,
        ramp,
        distance,
    } = after
    else {
        return (from, 0.0);
    };
    let (speed, ramp) = (metre_per_second(*speed), ramp.get());
    let (gone, now) = if since < ramp {
        (speed * since * since / (2.0 * ramp), speed * since / ramp)
    } else {
        (speed * (since - ramp / 2.0), speed)
    };
    if gone >= distance.get() / 1e3 {
        return (from - distance.get() / 1e3, 0.0);
    }
    (from - gone, -now)
}
