//! Second-order sections and how a signal is run through them.

use super::super::{Measured, Unmeasured};

/// One second-order section: y = b₀x + b₁x₋₁ + b₂x₋₂ − a₁y₋₁ − a₂y₋₂.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// b₀, b₁, b₂
    pub b: [f64; 3],
    /// a₁, a₂ (a₀ = 1)
    pub a: [f64; 2],
}

impl Section {
    /// Runs the section over a signal in place, starting as if its first value had stood for ever (direct form II transposed).
    fn run(&self, signal: &mut [f64]) {
        let Some(first) = signal.first() else {
            return;
        };
        let (b, a) = (self.b, self.a);
        let settled = first * (b[0] + b[1] + b[2]) / (1.0 + a[0] + a[1]);
        let mut later = b[2] * first - a[1] * settled;
        let mut next = b[1] * first - a[0] * settled + later;
        for value in signal {
            let x = *value;
            let y = b[0] * x + next;
            next = b[1] * x - a[0] * y + later;
            later = b[2] * x - a[1] * y;
            *value = y;
        }
    }

    /// Number of numerator and of denominator coefficients, each without trailing zeros.
    fn lengths(&self) -> [usize; 2] {
        let used = |coefficients: &[f64]| {
            coefficients
                .iter()
                .rposition(|c| *c != 0.0)
                .map_or(0, |i| i + 1)
        };
        [used(&self.b), 1 + used(&self.a)]
    }
}

/// The signal run once forward through the sections.
#[must_use]
pub fn forward(sections: &[Section], signal: &[f64]) -> Vec<f64> {
    let mut filtered = signal.to_vec();
    for section in sections {
        section.run(&mut filtered);
    }
    filtered
}

/// The signal run forward and back through the sections, so that it is not delayed; both ends are first continued by their
/// point reflection.
///
/// # Errors
/// [`Unmeasured`] if the signal is not longer than that continuation.
///
/// # Source
/// Same result as `scipy.signal.sosfiltfilt` with its default padding (`filtfilt` for one section); the tests compare both.
pub fn two_pass(sections: &[Section], signal: &[f64]) -> Measured<Vec<f64>> {
    let pad = padding(sections);
    let last = signal.len().saturating_sub(1);
    if signal.len() <= pad {
        return Err(Unmeasured::LowPassTooFewSamples { needs: pad });
    }
    let before = (1..=pad).rev().map(|i| 2.0 * signal[0] - signal[i]);
    let after = (1..=pad).map(|i| 2.0 * signal[last] - signal[last - i]);
    let mut padded: Vec<f64> = before.chain(signal.iter().copied()).chain(after).collect();
    for _ in 0..2 {
        for section in sections {
            section.run(&mut padded);
        }
        padded.reverse();
    }
    Ok(padded[pad..pad + signal.len()].to_vec())
}

/// Three times the number of coefficients of the whole filter, those that vanish in every section's b or a not counted.
fn padding(sections: &[Section]) -> usize {
    let vanish = |which: usize| sections.iter().filter(|s| s.lengths()[which] < 3).count();
    3 * (2 * sections.len() + 1 - vanish(0).min(vanish(1)))
}
