//! What a gauge would log of a hit: sampled, noisy, shifted, stepped and clipped.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;

use super::simulate::Motion;
use super::{ImpactError, not_negative, positive};
use crate::quantity::{Hertz, Newton, Second};
use crate::trace::Trace;

/// A gauge and its logger.
///
/// # Quantities
/// all positive or zero as each field says; forces in N, times in s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    /// Sampling rate, greater than 0.
    pub rate: Hertz,
    /// Where contact falls between two samples, as a share of the step: 0 samples at contact itself.
    pub phase: f64,
    /// Quiet stretch that is logged before contact.
    pub lead: Second,
    /// Record after contact.
    pub record: Second,
    /// Mean of the force over this long before each sample, as a slow logger gives it.
    pub averaging: Averaging,
    /// Standard deviation of the noise, normally distributed and independent from sample to sample.
    pub noise: Newton,
    /// Start of the noise generator (PCG XSL RR 128/64): the same number gives the same log.
    pub seed: u64,
    /// What the gauge shows without load at its first sample.
    pub zero: Newton,
    /// Change of the zero in newtons a second.
    pub drift_n_per_s: f64,
    /// Greatest force that it shows, of either sign.
    pub capacity: Newton,
    /// Step of the values.
    pub resolution: Newton,
}

/// Whether the logger gives samples or means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Averaging {
    /// Each value is the force at its instant.
    None,
    /// Each value is the mean force over the stretch before its instant.
    Over(Second),
}

/// Logs a hit with a gauge.
///
/// Each sample i, at tᵢ = (i + phase)/rate − lead rounded up to whole samples after contact, is the true force or its mean, plus
/// zero, drift and noise, then clipped at ± capacity and rounded to the resolution.
///
/// # Quantities
/// in: a [`Motion`], a [`Gauge`]; out: a [`Trace`] with instants from its first sample and the position of the leaf (mm).
///
/// # Holds when
/// the gauge's own dynamics are fast against the pulse.
///
/// # Errors
/// [`ImpactError`] for a rate, time or step that makes no sense.
///
/// # Source
/// Noise: Box and Muller 1958, A note on the generation of random normal deviates, on uniform deviates of 53 bits.
pub fn log(motion: &Motion, gauge: &Gauge) -> Result<Trace, ImpactError> {
    check(gauge)?;
    let mut noise = Noise::new(gauge.seed);
    let instants = instants(gauge);
    let first = instants.first().copied().unwrap_or(0.0);
    let forces: Vec<f64> = instants
        .iter()
        .map(|t| {
            let zero = gauge.zero.get() + gauge.drift_n_per_s * (t - first);
            let shown = felt(motion, *t, gauge.averaging) + zero + gauge.noise.get() * noise.next();
            let clipped = shown.clamp(-gauge.capacity.get(), gauge.capacity.get());
            (clipped / gauge.resolution.get()).round() * gauge.resolution.get()
        })
        .collect();
    let position: Vec<f64> = instants
        .iter()
        .map(|t| motion.at(Second(*t)).position.get())
        .collect();
    let mut trace = Trace::new(instants, forces)?;
    trace.position_mm = Some(position.into());
    if let Averaging::Over(window) = gauge.averaging {
        trace.averaging = Some(format!("mean over {window}"));
    }
    Ok(trace)
}

/// Instants of the samples, in seconds after contact.
fn instants(gauge: &Gauge) -> Vec<f64> {
    let rate = gauge.rate.get();
    let before = (gauge.lead.get() * rate).ceil();
    let count = (before + gauge.record.get() * rate).floor() as usize;
    (0..=count)
        .map(|i| (i as f64 - before + gauge.phase) / rate)
        .collect()
}

fn felt(motion: &Motion, t: f64, averaging: Averaging) -> f64 {
    match averaging {
        Averaging::None => motion.force_at(Second(t)).get(),
        Averaging::Over(window) => {
            let from = motion.impulse_at(Second(t) - window);
            (motion.impulse_at(Second(t)) - from).get() / window.get()
        }
    }
}

/// Standard normal deviates, two at a time.
struct Noise {
    generator: Pcg64,
    spare: Option<f64>,
}

impl Noise {
    fn new(seed: u64) -> Self {
        Self {
            generator: Pcg64::seed_from_u64(seed),
            spare: None,
        }
    }

    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        let (sine, cosine) = (std::f64::consts::TAU * self.uniform()).sin_cos();
        self.spare = Some(radius * sine);
        radius * cosine
    }

    /// Uniform in (0, 1], so that its logarithm is finite.
    fn uniform(&mut self) -> f64 {
        ((self.generator.next_u64() >> 11) + 1) as f64 * 2.0_f64.powi(-53)
    }
}

fn check(gauge: &Gauge) -> Result<(), ImpactError> {
    positive("sampling rate", Hertz::SYMBOL, gauge.rate.get())?;
    positive("capacity", Newton::SYMBOL, gauge.capacity.get())?;
    positive("resolution", Newton::SYMBOL, gauge.resolution.get())?;
    not_negative("lead", Second::SYMBOL, gauge.lead.get())?;
    not_negative("record", Second::SYMBOL, gauge.record.get())?;
    not_negative("noise", Newton::SYMBOL, gauge.noise.get())?;
    if let Averaging::Over(window) = gauge.averaging {
        positive("averaging window", Second::SYMBOL, window.get())?;
    }
    if (0.0..1.0).contains(&gauge.phase) {
        return Ok(());
    }
    Err(ImpactError::OutOfRange {
        what: "phase",
        unit: "of a step",
        value: gauge.phase,
        least: 0.0,
        most: 1.0,
    })
}
