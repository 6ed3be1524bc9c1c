//! Random numbers from a seed.

use std::f64::consts::TAU;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// A row of random numbers; the same seed gives the same row.
pub(crate) struct Chance {
    generator: Pcg64,
    spare: Option<f64>,
}

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            generator: Pcg64::seed_from_u64(seed),
            spare: None,
        }
    }

    /// Uniform in (0, 1].
    pub(crate) fn uniform(&mut self) -> f64 {
        ((self.generator.next_u64() >> 11) + 1) as f64 * 2_f64.powi(-53)
    }

    pub(crate) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.uniform()
    }

    /// Standard normal, by Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        let (sine, cosine) = (TAU * self.uniform()).sin_cos();
        self.spare = Some(radius * sine);
        radius * cosine
    }
}
