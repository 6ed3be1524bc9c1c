//! Thirty-one ways to make a log look like another hit.

use relent::trace::Trace;

use super::chance::Chance;
use super::hits::{Logger, Noise, rounded};

/// Instants and forces.
#[derive(Clone)]
struct Log {
    times: Vec<f64>,
    forces: Vec<f64>,
}

impl Log {
    fn each(&self, change: impl FnMut(f64) -> f64) -> Self {
        Self {
            times: self.times.clone(),
            forces: self.forces.iter().copied().map(change).collect(),
        }
    }

    fn rounded(&self, step: f64) -> Self {
        self.each(|force| rounded(force, step))
    }

    fn cut(&self, first: usize, last: usize) -> Self {
        let end = self.times.len() - last;
        Self {
            times: self.times[first..end].to_vec(),
            forces: self.forces[first..end].to_vec(),
        }
    }

    fn every(&self, nth: usize) -> Self {
        let thin = |values: &[f64]| values.iter().skip(nth / 2).step_by(nth).copied().collect();
        Self {
            times: thin(&self.times),
            forces: thin(&self.forces),
        }
    }

    /// Straight lines between the samples, read at another rate from another instant on.
    fn resampled(&self, rate: f64, from: f64) -> Self {
        let (first, last) = (self.times[0] + from, self.times[self.times.len() - 1]);
        let count = ((last - first) * rate).floor() as usize;
        let times: Vec<f64> = (0..count).map(|nth| first + nth as f64 / rate).collect();
        let mut at = 0;
        let forces = times.iter().map(|time| {
            while at + 2 < self.times.len() && self.times[at + 1] < *time {
                at += 1;
            }
            let share = (time - self.times[at]) / (self.times[at + 1] - self.times[at]);
            self.forces[at] * (1.0 - share) + self.forces[at + 1] * share
        });
        let forces = forces.collect();
        Self { times, forces }
    }

    /// The mean over so many samples, with each in the middle.
    fn smoothed(&self, samples: usize) -> Self {
        let (half, count) = (samples / 2, self.forces.len());
        let means = (0..count).map(|at| {
            let around = &self.forces[at.saturating_sub(half)..(at + half + 1).min(count)];
            around.iter().sum::<f64>() / around.len() as f64
        });
        Self {
            times: self.times.clone(),
            forces: means.collect(),
        }
    }

    /// Its first samples once more before them.
    fn with_more_quiet(&self, samples: usize) -> Self {
        let step = self.times[1] - self.times[0];
        let mut forces = self.forces[..samples].to_vec();
        forces.extend(&self.forces);
        Self {
            times: (0..forces.len()).map(|at| at as f64 * step).collect(),
            forces,
        }
    }

    fn peak_edited(mut self) -> Self {
        let places = 0..self.forces.len();
        let peak = places.max_by(|a, b| self.forces[*a].total_cmp(&self.forces[*b]));
        self.forces[peak.unwrap()] *= 0.93;
        self
    }
}

/// The log altered in every way, each with its name; the result is written in the steps of the log, as its logger would.
pub(crate) fn all(trace: &Trace, logger: &Logger, seed: u64) -> Vec<(&'static str, Trace)> {
    let log = Log {
        times: trace.times().to_vec(),
        forces: trace.forces().to_vec(),
    };
    let mut altered = rewritten(&log, logger, seed);
    altered.extend(cut_or_shifted(&log, logger));
    altered.extend(made_new(&log, logger, seed));
    let trace = |log: Log| Trace::new(log.times, log.forces).unwrap();
    altered
        .into_iter()
        .map(|(name, log)| (name, trace(log)))
        .collect()
}

fn rewritten(log: &Log, logger: &Logger, seed: u64) -> Vec<(&'static str, Log)> {
    let step = logger.step;
    let mut chance = Chance::new(seed + 99);
    let thousandth_of_a_kgf = 9.806_65e-3;
    let (mut nth, all) = (0.0, log.forces.len() as f64);
    let drifting = log.each(|force| {
        nth += 1.0;
        force + 3.0 * nth / all
    });
    vec![
        ("identical", log.clone()),
        (
            "written in kgf with three decimals",
            log.rounded(thousandth_of_a_kgf),
        ),
        (
            "last decimals invented",
            log.each(|force| force + step * chance.between(-0.1, 0.1)),
        ),
        (
            "offset by 20 N",
            log.each(|force| force + 20.0).rounded(step),
        ),
        (
            "offset by a part of a step",
            log.each(|force| force + 1.37 * step).rounded(step),
        ),
        ("offset that drifts by 3 N", drifting.rounded(step)),
        (
            "scaled by 1.01",
            log.each(|force| force * 1.01).rounded(step),
        ),
        ("scaled by 0.9", log.each(|force| force * 0.9).rounded(step)),
        (
            "scaled by 1.25 and offset by 5 N",
            log.each(|force| force * 1.25 + 5.0).rounded(step),
        ),
        ("peak sample lowered", log.clone().peak_edited()),
    ]
}

fn cut_or_shifted(log: &Log, logger: &Logger) -> Vec<(&'static str, Log)> {
    let samples = |seconds: f64| (seconds * logger.rate).round() as usize;
    let (rate, step) = (logger.rate, logger.step);
    let late = Log {
        times: log.times.iter().map(|at| at + 1.234).collect(),
        forces: log.forces.clone(),
    };
    vec![
        ("first row cut off", log.cut(1, 0)),
        ("last row cut off", log.cut(0, 1)),
        ("first 200 ms cut off", log.cut(samples(0.2), 0)),
        ("last 500 ms cut off", log.cut(0, samples(0.5))),
        ("both ends cut off", log.cut(samples(0.137), samples(0.9))),
        ("clock starts 1.234 s later", late),
        (
            "100 ms of its own quiet put before",
            log.with_more_quiet(samples(0.1)),
        ),
        (
            "shifted by half a sample",
            log.resampled(rate, 0.5 / rate).rounded(step),
        ),
    ]
}

fn made_new(log: &Log, logger: &Logger, seed: u64) -> Vec<(&'static str, Log)> {
    let (rate, step) = (logger.rate, logger.step);
    let mut chance = Chance::new(seed + 101);
    let noise = match logger.noise {
        Noise::None => step / 3.0,
        Noise::White(noise) | Noise::Coloured(noise) | Noise::Hum(_, noise) => {
            noise.max(step / 3.0)
        }
    };
    let by_a_step = log.each(|force| force + step * chance.between(-1.0, 1.0));
    let by_noise = log.each(|force| force + noise * chance.normal());
    vec![
        ("every second sample", log.every(2)),
        ("every third sample", log.every(3)),
        ("every fifth sample", log.every(5)),
        (
            "resampled to 0.8 of the rate",
            log.resampled(0.8 * rate, 0.0).rounded(step),
        ),
        (
            "resampled to 1.25 of the rate",
            log.resampled(1.25 * rate, 0.0).rounded(step),
        ),
        (
            "every second sample of means over three",
            log.smoothed(3).every(2).rounded(step),
        ),
        ("smoothed over 3 samples", log.smoothed(3).rounded(step)),
        ("smoothed over 5 samples", log.smoothed(5).rounded(step)),
        ("smoothed over 9 samples", log.smoothed(9).rounded(step)),
        ("rounded to twice the step", log.rounded(2.0 * step)),
        ("rounded to five times the step", log.rounded(5.0 * step)),
        ("dithered by up to a step", by_a_step.rounded(step)),
        (
            "dithered with as much noise as it has",
            by_noise.rounded(step),
        ),
    ]
}
