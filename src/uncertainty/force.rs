//! The budget of a force.

use super::budget::{Budget, Component, Distribution, Source, combine};
use super::{GaugeAccuracy, PooledSpread, ReadingFacts, greatest};
use crate::limitation::SpringBand;
use crate::limits::Assessed;
use crate::measure::{Kind, Measure};

/// By how much of the noise the greatest of thousands of samples lies above the force: 4 standard deviations are passed once in
/// 30,000 samples.
const GREATEST_NOISES: f64 = 4.0;

/// Components of a force: calibration, resolution, zero, and repeatability; for the peak also sampling and spring rate.
pub(super) fn budget(
    measure: Measure,
    assessed: Assessed,
    held: &[f64],
    facts: &[ReadingFacts],
    gauge: &GaugeAccuracy,
    spring: Option<SpringBand>,
    pool: Option<PooledSpread>,
) -> Budget {
    let value = (held.iter().sum::<f64>() / held.len() as f64).abs();
    let mut lines: Vec<Component> = Vec::new();
    let mut left_out: Vec<Source> = Vec::new();
    match calibration(gauge, value) {
        Some(line) => lines.push(line),
        None => left_out.push(Source::Calibration),
    }
    let twelve = 12.0_f64.sqrt();
    let three = 3.0_f64.sqrt();
    let resolution = greatest(facts, |one| one.resolution.get());
    lines.push(Component::known(
        Source::Resolution,
        resolution,
        Distribution::Rectangular,
        twelve,
    ));
    zero(facts, &mut lines, &mut left_out);
    let mut correction = 0.0;
    if measure.kind() == Kind::Top {
        let unseen = greatest(facts, |one| one.unseen.get());
        correction =
            facts.iter().map(|one| one.unseen.get() / 2.0).sum::<f64>() / facts.len().max(1) as f64;
        lines.push(Component::known(
            Source::Sampling,
            unseen,
            Distribution::Rectangular,
            twelve,
        ));
        if let Some(SpringBand { rate, either_way }) = spring {
            let half_width = value * 0.5 * (either_way / rate);
            lines.push(Component::known(
                Source::SpringRate,
                half_width,
                Distribution::Rectangular,
                three,
            ));
        }
    }
    if matches!(measure.kind(), Kind::Window(_)) {
        // The greatest of the many samples of a window lies above the force by some of the noise.
        let above = GREATEST_NOISES * greatest(facts, |one| one.noise.get());
        correction = -above / 2.0;
        lines.push(Component::known(
            Source::GreatestOfNoise,
            above,
            Distribution::Rectangular,
            twelve,
        ));
    }
    let pooled = pool.filter(|_| assessed == Assessed::Mean);
    let pooled = pooled.map(|pool| Component::pooled(held, pool));
    match pooled.or_else(|| Component::repeatability(held)) {
        Some(line) => lines.push(line),
        None => {
            let noise = greatest(facts, |one| one.noise.get());
            lines.push(Component::known(
                Source::NoiseOfOneHit,
                noise,
                Distribution::Normal,
                1.0,
            ));
            // The mean of one hit: how far another hit would lie from it is not known.
            left_out.extend((assessed == Assessed::Mean).then_some(Source::Repeatability));
        }
    }
    if facts.is_empty() {
        left_out.extend([Source::Resolution, Source::ZeroNoise]);
    }
    combine(lines, correction, left_out)
}

/// Calibration at a force; `None` where neither certificate nor class is known.
pub(super) fn calibration(gauge: &GaugeAccuracy, force: f64) -> Option<Component> {
    match *gauge {
        GaugeAccuracy::Certificate {
            expanded,
            expanded_share,
            k,
        } => Some(Component::known(
            Source::Calibration,
            expanded.get() + expanded_share * force,
            Distribution::Normal,
            k,
        )),
        GaugeAccuracy::Class {
            share_of_reading,
            absolute,
        } => Some(Component::known(
            Source::Calibration,
            share_of_reading * force + absolute.get(),
            Distribution::Rectangular,
            3.0_f64.sqrt(),
        )),
        GaugeAccuracy::Unknown => None,
    }
}

/// The zero: noise of the quiet stretch over √n, and drift.
fn zero(facts: &[ReadingFacts], lines: &mut Vec<Component>, left_out: &mut Vec<Source>) {
    let standard = |one: &ReadingFacts| one.noise.get() / (one.quiet_samples.max(1) as f64).sqrt();
    if let Some(least_sure) = facts
        .iter()
        .max_by(|one, other| standard(one).total_cmp(&standard(other)))
    {
        let root = (least_sure.quiet_samples.max(1) as f64).sqrt();
        let noise = least_sure.noise.get();
        lines.push(Component::known(
            Source::ZeroNoise,
            noise,
            Distribution::Normal,
            root,
        ));
    }
    if facts.iter().any(|one| one.drift.is_none()) {
        left_out.push(Source::ZeroDrift);
    }
    let drift = greatest(facts, |one| {
        one.drift.map_or(0.0, |drift| drift.get().abs())
    });
    lines.push(Component::known(
        Source::ZeroDrift,
        drift,
        Distribution::Rectangular,
        3.0_f64.sqrt(),
    ));
}
