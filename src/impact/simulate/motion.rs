//! What the integration found: force, position and impulse at any instant.

use super::Chain;
pub use super::control::Moments;
use crate::quantity::{Millimetre, MillimetrePerSecond, Newton, NewtonSecond, Second};

/// A hit as it went, from contact on; before contact the leaf comes at its approach speed and the force is zero.
#[derive(Clone, Debug)]
pub struct Motion {
    chain: Chain,
    step: f64,
    approach: f64,
    positions: Vec<f64>,
    speeds: Vec<f64>,
    impulses: Vec<f64>,
    moments: Moments,
    rest: Option<f64>,
}

/// The leaf at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct State {
    /// Force on the gauge.
    pub force: Newton,
    /// How far the front of the leaf has come since contact; negative before it touches.
    pub position: Millimetre,
    /// Speed towards the gauge.
    pub speed: MillimetrePerSecond,
}

impl Motion {
    pub(super) fn starting(chain: Chain, step: Second, approach: f64) -> Self {
        Self {
            chain,
            step: step.get(),
            approach,
            positions: vec![0.0],
            speeds: vec![approach],
            impulses: vec![0.0],
            moments: Moments::default(),
            rest: None,
        }
    }

    /// Adds a step. The impulse grows by Simpson's rule, with the middle from the cubic through both ends.
    pub(super) fn push(&mut self, x: f64, v: f64) {
        let last = self.positions.len() - 1;
        let (x0, v0) = (self.positions[last], self.speeds[last]);
        let middle = (x0 + x) / 2.0 + self.step * (v0 - v) / 8.0;
        let sum = self.chain.force(x0) + 4.0 * self.chain.force(middle) + self.chain.force(x);
        self.impulses
            .push(self.impulses[last] + self.step * sum / 6.0);
        self.positions.push(x);
        self.speeds.push(v);
    }

    pub(super) const fn finish(&mut self, moments: Moments, rest: Option<f64>) {
        self.moments = moments;
        self.rest = rest;
    }

    /// When the drive did what.
    #[must_use]
    pub const fn moments(&self) -> Moments {
        self.moments
    }

    /// End of the integration, after contact.
    #[must_use]
    pub fn end(&self) -> Second {
        Second((self.positions.len() - 1) as f64 * self.step)
    }

    /// The leaf at an instant after contact (negative: before it).
    ///
    /// Between two steps the position is the cubic through both positions and speeds, and the force that of the springs there.
    /// After the end of the integration the leaf has left the gauge and goes on at its last speed until it rests.
    #[must_use]
    pub fn at(&self, instant: Second) -> State {
        let t = instant.get();
        if t <= 0.0 {
            return self.state(self.approach * t, self.approach);
        }
        let number = (t / self.step) as usize;
        if number + 1 >= self.positions.len() {
            return self.after_the_end(t);
        }
        let share = t / self.step - number as f64;
        let (x0, x1) = (self.positions[number], self.positions[number + 1]);
        let (v0, v1) = (
            self.speeds[number] * self.step,
            self.speeds[number + 1] * self.step,
        );
        let (square, cube) = (2.0 * v0 + v1, v0 + v1);
        let gap = x1 - x0;
        let x = x0 + share * (v0 + share * (3.0 * gap - square + share * (cube - 2.0 * gap)));
        let v = v0 + share * (2.0 * (3.0 * gap - square) + share * 3.0 * (cube - 2.0 * gap));
        self.state(x, v / self.step)
    }

    fn after_the_end(&self, t: f64) -> State {
        let last = self.positions.len() - 1;
        let (x, v) = (self.positions[last], self.speeds[last]);
        let gone = x + v * (t - self.end().get());
        match self.rest {
            Some(rest) if gone <= rest => self.state(rest, 0.0),
            _ => self.state(gone, v),
        }
    }

    fn state(&self, x: f64, v: f64) -> State {
        State {
            force: Newton(self.chain.force(x)),
            position: Millimetre(x * 1e3),
            speed: MillimetrePerSecond(v * 1e3),
        }
    }

    /// True force on the gauge at an instant after contact.
    #[must_use]
    pub fn force_at(&self, instant: Second) -> Newton {
        self.at(instant).force
    }

    /// Impulse on the gauge from contact to an instant.
    #[must_use]
    pub fn impulse_at(&self, instant: Second) -> NewtonSecond {
        if instant.get() <= 0.0 {
            return NewtonSecond(0.0);
        }
        let number = ((instant.get() / self.step) as usize).min(self.positions.len() - 1);
        let rest = (instant.get() - number as f64 * self.step).max(0.0);
        let begin = self.chain.force(self.positions[number]);
        let end = self.force_at(instant).get();
        NewtonSecond(self.impulses[number] + rest.min(self.step) * (begin + end) / 2.0)
    }

    /// Greatest force, from the steps and the parabola through the greatest and its neighbours.
    #[must_use]
    pub fn peak_force(&self) -> Newton {
        let (_, force) = self.peak();
        Newton(force)
    }

    /// Time from contact to the greatest force.
    #[must_use]
    pub fn time_to_peak(&self) -> Second {
        let (t, _) = self.peak();
        Second(t)
    }

    fn peak(&self) -> (f64, f64) {
        let top = self
            .positions
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map_or(0, |(index, _)| index);
        let around = |index: usize| self.chain.force(self.positions[index]);
        let t = top as f64 * self.step;
        if top == 0 || top + 1 >= self.positions.len() {
            return (t, around(top));
        }
        let (before, here, behind) = (around(top - 1), around(top), around(top + 1));
        let bend = before - 2.0 * here + behind;
        if bend >= 0.0 {
            return (t, here);
        }
        let shift = (before - behind) / (2.0 * bend);
        (t + shift * self.step, here - bend * shift * shift / 2.0)
    }

    /// Total time for which the force is above a level, crossings placed by straight lines between steps.
    #[must_use]
    pub fn time_above(&self, level: Newton) -> Second {
        let level = level.get();
        let share = |pair: &[f64]| {
            let (a, b) = (self.chain.force(pair[0]), self.chain.force(pair[1]));
            match (a > level, b > level) {
                (true, true) => 1.0,
                (false, false) => 0.0,
                (true, false) => (a - level) / (a - b),
                (false, true) => (b - level) / (b - a),
            }
        };
        Second(self.positions.windows(2).map(share).sum::<f64>() * self.step)
    }

    /// Instant at which the force first reaches a level; `None` if it never does.
    #[must_use]
    pub fn time_to_level(&self, level: Newton) -> Option<Second> {
        let forces = |index: usize| self.chain.force(self.positions[index]);
        let over = (1..self.positions.len()).find(|index| forces(*index) >= level.get())?;
        let (before, after) = (forces(over - 1), forces(over));
        let share = (level.get() - before) / (after - before);
        Some(Second((over as f64 - 1.0 + share) * self.step))
    }

    /// Instant at which the force last falls to a level; `None` if it is above it at the end or never was.
    #[must_use]
    pub fn last_fall_to(&self, level: Newton) -> Option<Second> {
        let forces = |index: usize| self.chain.force(self.positions[index]);
        let last = self.positions.len() - 1;
        let over = (0..=last)
            .rev()
            .find(|index| forces(*index) > level.get())?;
        if over == last {
            return None;
        }
        let share = (forces(over) - level.get()) / (forces(over) - forces(over + 1));
        Some(Second((over as f64 + share) * self.step))
    }
}
