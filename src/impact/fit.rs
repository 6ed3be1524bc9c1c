//! A hit from its measured curve: mass presented, approach speed and push that explain the rising and falling of the force.

use super::{ImpactError, newton_per_metre, positive};
use crate::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};

/// What a stretch of a measured pulse says about the leaf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Mass that the leaf presents at the point of contact.
    pub mass: Kilogram,
    /// Speed at contact.
    pub speed: MillimetrePerSecond,
    /// Push during the stretch; negative for a drive that brakes.
    pub drive: Newton,
    /// Contact, as the curve runs back to zero force, on the clock of the samples.
    pub contact: Second,
    /// Root mean square of what the curve leaves unexplained.
    pub residual: Newton,
    /// Angular frequency ω in rad/s.
    pub angular_frequency: f64,
}

/// Least samples that a fit of three numbers and a frequency is made from.
pub const LEAST_SAMPLES: usize = 8;

/// Fits a leaf on a spring to a stretch of a force curve.
///
/// F(t) = F_m + a sin ω(t − t₀) + b cos ω(t − t₀), linear in F_m, a, b for a given ω; ω by search. Then m = k/ω²,
/// v = ω √(a² + b² − F_m²)/k, and contact where the curve is zero before its top.
///
/// # Quantities
/// in: instants (s) and zeroed forces (N) of the stretch, equally many, at least [`LEAST_SAMPLES`]; rate k (N/mm, > 0) of all
/// that gives way, gauge and edge in series; out: a [`Fitted`].
///
/// # Holds when
/// during the stretch the leaf touches, the springs are linear, the push is constant and little is lost: from just after
/// contact to just after the peak of a hit whose drive has not yet braked. A stretch of less than a quarter period does not bend
/// enough to tell push from mass.
///
/// # Errors
/// [`ImpactError::TooFewSamples`], [`ImpactError::NoPulse`] where no frequency fits better than its neighbours, and
/// [`ImpactError::NotPositive`] for a rate of 0 or less.
///
/// # Source
/// Separable least squares: the linear part by normal equations, ω by a scan and golden-section search; both in every text on
/// numerical methods.
pub fn fit(
    times: &[f64],
    forces: &[f64],
    rate: NewtonPerMillimetre,
) -> Result<Fitted, ImpactError> {
    positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
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
    let k = newton_per_metre(rate);
    let speed = omega * (amplitude.powi(2) - curve.push.powi(2)).sqrt() / k;
    // F = push + R sin(ωτ + ψ) is zero on its way up at ωτ = −ψ − asin(push/R), last before the top at ωτ = π/2 − ψ.
    let psi = curve.cosine.atan2(curve.sine);
    let mut angle = -psi - (curve.push / amplitude).asin();
    let top = stretch.top * omega;
    while angle > top {
        angle -= std::f64::consts::TAU;
    }
    while angle + std::f64::consts::TAU <= top {
        angle += std::f64::consts::TAU;
    }
    Ok(Fitted {
        mass: Kilogram(k / omega.powi(2)),
        speed: MillimetrePerSecond(speed * 1e3),
        drive: Newton(curve.push),
        contact: Second(stretch.start + angle / omega),
        residual: Newton((curve.square_sum / samples as f64).sqrt()),
        angular_frequency: omega,
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
            std::f64::consts::TAU * share / length
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
