//! The budget of a time.

use super::budget::{Budget, Component, Distribution, Source, combine};
use super::force::calibration;
use super::{GaugeAccuracy, ReadingFacts, greatest};

/// Noise of a crossing in multiples of the noise of a sample: the force crosses a level several times in its noise, and the first or
/// the last of them counts.
const CROSSING_NOISES: f64 = 2.0;

/// Components of a time: for an instant that is read from the shape of the force how much earlier and later it may be (the best
/// estimate is the middle); sampling step, noise of the force over its slope at each crossing, the gauge's calibration at the
/// level over the slope, clock jitter, and repeatability.
///
/// The calibration error is the same at every crossing of one record and moves a rising and a falling crossing apart, so
/// its parts add up; the others are independent from crossing to crossing.
pub(super) fn budget(held: &[f64], facts: &[ReadingFacts], gauge: &GaugeAccuracy) -> Budget {
    let mut lines = Vec::new();
    let mut left_out = Vec::new();
    let step = greatest(facts, |one| one.step.get() * crossings(one).sqrt());
    lines.push(Component::known(
        Source::SamplingStep,
        step,
        Distribution::Rectangular,
        12.0_f64.sqrt(),
    ));
    let noise = greatest(facts, |one| {
        let over_slope = |slope: f64| (CROSSING_NOISES * one.noise.get() / slope).powi(2);
        one.crossings
            .iter()
            .map(|it| over_slope(it.slope_n_s))
            .sum::<f64>()
            .sqrt()
    });
    lines.push(Component::known(
        Source::NoiseAtLevel,
        noise,
        Distribution::Normal,
        1.0,
    ));
    if matches!(gauge, GaugeAccuracy::Unknown) {
        left_out.push(Source::Calibration);
    }
    lines.extend(level(facts, gauge));
    let jitter = greatest(facts, |one| one.jitter.get() * crossings(one).sqrt());
    lines.push(Component::known(
        Source::ClockJitter,
        jitter,
        Distribution::Normal,
        1.0,
    ));
    let earlier = greatest(facts, |one| one.doubt.earlier.get());
    let later = greatest(facts, |one| one.doubt.later.get());
    if earlier + later > 0.0 {
        lines.push(Component::known(
            Source::InstantFromForce,
            earlier + later,
            Distribution::Rectangular,
            12.0_f64.sqrt(),
        ));
    }
    lines.extend(Component::repeatability(held));
    if facts.is_empty() {
        left_out.push(Source::SamplingStep);
    }
    combine(lines, (later - earlier) / 2.0, left_out)
}

fn crossings(one: &ReadingFacts) -> f64 {
    one.crossings.len().max(1) as f64
}

/// The gauge's calibration at the levels crossed, as a time.
fn level(facts: &[ReadingFacts], gauge: &GaugeAccuracy) -> Option<Component> {
    let at = |one: &ReadingFacts| -> f64 {
        one.crossings
            .iter()
            .filter_map(|it| Some((calibration(gauge, it.level.get())?.value / it.slope_n_s).abs()))
            .sum()
    };
    let like = calibration(gauge, 0.0)?;
    Some(Component::known(
        Source::CalibrationAtLevel,
        greatest(facts, at),
        like.distribution,
        like.divisor,
    ))
}
