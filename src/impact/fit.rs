//! A hit from its measured curve: push, angular frequency and rise that explain a stretch of it, and from them mass, speed and rate.

use std::f64::consts::TAU;

use super::{ImpactError, metre_per_second, newton_per_metre, positive};
use crate::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};

/// What a stretch of a measured pulse says by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse {
    /// Push during the stretch; negative for a drive that brakes.
    pub push: Newton,
    /// Angular frequency ω = √(k/m) in rad/s.
    pub angular_frequency_rad_s: f64,
    /// Rise of the force at contact, k v, in N/s.
    pub rise_n_per_s: f64,
    /// Contact, as the curve runs back to zero force, on the clock of the samples.
    pub contact: Second,
    /// Root mean square of what the curve leaves unexplained.
    pub residual: Newton,
}

/// A leaf that explains a pulse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Mass that it presents at the point of contact.
    pub mass: Kilogram,
    /// Speed at contact.
    pub speed: MillimetrePerSecond,
    /// Spring rate of all that gives way.
    pub rate: NewtonPerMillimetre,
}

impl Pulse {
    /// The leaf behind the pulse where the spring rate is known: m = k/ω², v = rise/k.
    ///
    /// # Errors
    /// [`ImpactError::NotPositive`] for a rate of 0 or less.
    pub fn with_rate(&self, rate: NewtonPerMillimetre) -> Result<Fitted, ImpactError> {
        positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
        let k = newton_per_metre(rate);
        Ok(Fitted {
            mass: Kilogram(k / self.angular_frequency_rad_s.powi(2)),
            speed: MillimetrePerSecond(self.rise_n_per_s / k * 1e3),
            rate,
        })
    }

    /// The leaf behind the pulse where its speed is known, from a position channel for example: k = rise/v, m = k/ω².
    ///
    /// # Errors
    /// [`ImpactError::NotPositive`] for a speed of 0 or less.
    pub fn with_speed(&self, speed: MillimetrePerSecond) -> Result<Fitted, ImpactError> {
        positive("approach speed", MillimetrePerSecond::SYMBOL, speed.get())?;
        let k = self.rise_n_per_s / metre_per_second(speed);
        Ok(Fitted {
            mass: Kilogram(k / self.angular_frequency_rad_s.powi(2)),
            speed,
            rate: NewtonPerMillimetre(k / 1e3),
        })
    }
}

/// Least samples that a fit of three numbers and a frequency is made from.
pub const LEAST_SAMPLES: usize = 8;

/// Fits a leaf on a spring to a stretch of a force curve.
///
/// F(t) = F_m + a sin ω(t − t₀) + b cos ω(t − t₀), linear in F_m, a, b for a given ω; ω by search. The rise where the curve is zero
/// before its top is ω √(a² + b² − F_m²).
///
/// # Quantities
/// in: instants (s) and zeroed forces (N) of the stretch, equally many, at least [`LEAST_SAMPLES`]; out: a [`Pulse`].
///
/// # Holds when
/// during the stretch the leaf touches, the springs are linear, the push is constant and little is lost: from just after
/// contact to just after the peak of a hit whose drive has not yet braked. A stretch of less than a quarter period does not bend
/// enough to tell push from mass.
///
/// # Errors
/// [`ImpactError::TooFewSamples`], and [`ImpactError::NoPulse`] where no frequency fits better than its neighbours or the curve
/// never comes from zero.
///
/// # Source
/// Separable least squares: the linear part by normal equations, ω by a scan and golden-section search; both in every text on
/// numerical methods.
pub fn fit(times: &[f64], forces: &[f64]) -> Result<Pulse, ImpactError> {
    let samples = times.len().min(forces.len());
    if samples < LEAST_SAMPLES {
        return Err(ImpactError::TooFewSamples {
            samples,
            least: LEAST_SAMPLES,
        });
    }
    let stretch = Stretch::new(&times[..samples], &forces[..samples]);
    let omega = stretch.best_frequency().ok_or(ImpactError::NoPulse)?;
    let curve = stretch.curve(omega).ok_or(ImpactError::NoPulse)?;
    let amplitude = curve.sine.hypot(curve.cosine);
    if amplitude <= curve.push.abs() {
        return Err(ImpactError::NoPulse);
    }
    Ok(Pulse {
        push: Newton(curve.push),
        angular_frequency_rad_s: omega,
        rise_n_per_s: omega * (amplitude.powi(2) - curve.push.powi(2)).sqrt(),
        contact: Second(stretch.start + curve.zero_before(stretch.top * omega) / omega),
        residual: Newton((curve.square_sum / samples as f64).sqrt()),
    })
}

/// A stretch of a curve, with times from its first sample.
struct Stretch<'a> {
    start: f64,
    times: Vec<f64>,
    forces: &'a [f64],
    /// Time of the greatest force.
    top: f64,
}

/// The best curve of one frequency.
struct Curve {
    push: f64,
    sine: f64,
    cosine: f64,
    square_sum: f64,
}

impl Curve {
    /// Angle ωτ at which the curve is zero on its way up, the last before the top.
    ///
    /// F = F_m + R sin(ωτ + ψ) is zero on its way up at ωτ = −ψ − asin(F_m/R), give or take whole turns.
    fn zero_before(&self, top: f64) -> f64 {
        let amplitude = self.sine.hypot(self.cosine);
        let angle = -self.cosine.atan2(self.sine) - (self.push / amplitude).asin();
        angle + ((top - angle) / TAU).floor() * TAU
    }
}

impl<'a> Stretch<'a> {
    fn new(times: &[f64], forces: &'a [f64]) -> Self {
        let start = times[0];
        let times: Vec<f64> = times.iter().map(|t| t - start).collect();
        let top = times
            .iter()
            .zip(forces)
            .max_by(|a, b| a.1.total_cmp(b.1))
            .map_or(0.0, |(t, _)| *t);
        Self {
            start,
            times,
            forces,
            top,
        }
    }

    /// Scans from a twentieth of a period to one and a half in the stretch, then closes in on the best.
    fn best_frequency(&self) -> Option<f64> {
        let length = self.times[self.times.len() - 1];
        if length <= 0.0 || !length.is_finite() {
            return None;
        }
        let (least, most) = (0.05, 1.5);
        let steps = 120;
        let omega = |step: f64| {
            let share: f64 = least * f64::powf(most / least, step / f64::from(steps));
            TAU * share / length
        };
        let costs: Vec<f64> = (0..=steps)
            .map(|step| self.cost(omega(f64::from(step))))
            .collect();
        let best = (0..costs.len()).min_by(|a, b| costs[*a].total_cmp(&costs[*b]))?;
        if best == 0 || best + 1 == costs.len() || !costs[best].is_finite() {
            return None;
        }
        let around = |shift: f64| omega(best as f64 + shift);
        Some(golden_section(around(-1.0), around(1.0), |w| self.cost(w)))
    }

    fn cost(&self, omega: f64) -> f64 {
        self.curve(omega)
            .map_or(f64::INFINITY, |curve| curve.square_sum)
    }

    /// Least squares of push, sine and cosine at a frequency; `None` where they cannot be told apart.
    fn curve(&self, omega: f64) -> Option<Curve> {
        let mut normal = [[0.0; 4]; 3];
        for (t, force) in self.times.iter().zip(self.forces) {
            let (sine, cosine) = (omega * t).sin_cos();
            let row = [1.0, sine, cosine, *force];
            for (i, line) in normal.iter_mut().enumerate() {
                for (cell, value) in line.iter_mut().zip(row) {
                    *cell += row[i] * value;
                }
            }
        }
        let [push, sine, cosine] = solve(normal)?;
        let square_sum = self
            .times
            .iter()
            .zip(self.forces)
            .map(|(t, force)| {
                let (s, c) = (omega * t).sin_cos();
                (push + sine * s + cosine * c - force).powi(2)
            })
            .sum();
        Some(Curve {
            push,
            sine,
            cosine,
            square_sum,
        })
    }
}

/// Gaussian elimination with the greatest pivot of each column; `None` for a matrix without an inverse.
fn solve(mut rows: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    let size = rows[0][0].abs();
    for column in 0..3 {
        let pivot =
            (column..3).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, pivot);
        if rows[column][column].abs() <= 1e-13 * size {
            return None;
        }
        for below in column + 1..3 {
            let factor = rows[below][column] / rows[column][column];
            let above = rows[column];
            for (cell, value) in rows[below].iter_mut().zip(above) {
                *cell -= factor * value;
            }
        }
    }
    let mut found = [0.0; 3];
    for row in (0..3).rev() {
        let known: f64 = (row + 1..3).map(|at| rows[row][at] * found[at]).sum();
        found[row] = (rows[row][3] - known) / rows[row][row];
    }
    Some(found)
}

fn golden_section(mut low: f64, mut high: f64, cost: impl Fn(f64) -> f64) -> f64 {
    let ratio = (5.0_f64.sqrt() - 1.0) / 2.0;
    for _ in 0..60 {
        let (left, right) = (high - ratio * (high - low), low + ratio * (high - low));
        if cost(left) < cost(right) {
            high = right;
        } else {
            low = left;
        }
    }
    (low + high) / 2.0
}
