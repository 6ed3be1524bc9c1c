//! Effects in plain words. "Equal" is not one of them.

use crate::compare::{Change, Claim, Effect, Interval, Margin, MeasureStudy};
use crate::measure::Measure;

/// By what a value is multiplied to be read, and the unit it then has.
pub(super) fn scale(measure: Measure) -> (f64, &'static str) {
    match measure.unit() {
        "s" => (1000.0, "ms"),
        unit => (1.0, unit),
    }
}

/// A number with as many decimals as the width of its interval supports, and more where fewer would put it on the other side
/// of zero or of a margin, or on it.
pub(super) fn figure(value: f64, half_width: f64, margin: Option<f64>) -> String {
    let marks = [Some(0.0), margin, margin.map(|it| -it)];
    let sides = |number: f64| marks.map(|mark| mark.map(|mark| number.total_cmp(&mark)));
    let first = if half_width >= 20.0 {
        0
    } else if half_width >= 0.5 {
        1
    } else {
        2
    };
    let plain = value + 0.0;
    (first..=9_usize)
        .map(|decimals| format!("{plain:.decimals$}"))
        .find(|text| {
            text.parse()
                .is_ok_and(|number| sides(number) == sides(plain))
        })
        .unwrap_or_else(|| plain.to_string())
        .replace('-', "−")
}

/// An interval in the unit that is read, without it.
pub(super) fn range(interval: Interval, measure: Measure, margin: Option<Margin>) -> String {
    let (factor, _) = scale(measure);
    let half = (interval.upper - interval.lower) / 2.0 * factor;
    let margin = margin.map(|it| it.get() * factor);
    format!(
        "{} to {}",
        figure(interval.lower * factor, half, margin),
        figure(interval.upper * factor, half, margin)
    )
}

/// A margin in the unit that is read, with it.
pub(super) fn margin_words(margin: Margin, measure: Measure) -> String {
    let (factor, unit) = scale(measure);
    // A margin given in ms comes back as it was typed.
    format!("{} {unit}", (margin.get() * factor * 1e9).round() / 1e9)
}

/// The estimate and its interval: "−41 (−52 to −30)".
pub(super) fn numbers(effect: &Effect, measure: Measure) -> String {
    let (factor, _) = scale(measure);
    let half = (effect.interval.upper - effect.interval.lower) / 2.0 * factor;
    let margin = effect.against.map(|it| it.equivalence.margin);
    format!(
        "{} ({})",
        figure(
            effect.estimate.value() * factor,
            half,
            margin.map(|it| it.get() * factor)
        ),
        range(effect.interval, measure, margin)
    )
}

/// The effect as a clause after the name of the later version.
pub(super) fn sentence(effect: &Effect, measure: Measure) -> String {
    let shown = change_words(effect, measure);
    match claim_words(effect, measure) {
        Some(claim) => format!("{shown}; {claim}"),
        None => shown,
    }
}

/// A measure over all test points as a clause. Where the points differ the mean of them claims nothing about the margin: the
/// weakest claim over the points stands instead.
pub(super) fn summary(study: &MeasureStudy, pooled: &Effect) -> String {
    if study.pooled_speaks() {
        return sentence(pooled, study.measure);
    }
    let shown = change_words(pooled, study.measure);
    let margin = study.margin.map(|it| margin_words(it, study.measure));
    let (Some(claim), Some(margin)) = (study.weakest_claim(), margin) else {
        return format!("on the mean of the points, {shown}");
    };
    let claim = match claim {
        Claim::WorseBeyond => format!("worse by more than {margin} at one point or more"),
        Claim::LessThanMargin => format!("changed by less than {margin} either way at every point"),
        Claim::NotWorse => format!("not worse by more than {margin} at any point"),
        Claim::NotShown => format!("a worsening of {margin} at some point is not excluded"),
    };
    format!("on the mean of the points, {shown}; {claim}")
}

fn change_words(effect: &Effect, measure: Measure) -> String {
    let (factor, unit) = scale(measure);
    let margin = effect.against.map(|it| it.equivalence.margin);
    let percent = (effect.interval.confidence * 1e4).round() / 1e2;
    let half = (effect.interval.upper - effect.interval.lower) / 2.0 * factor;
    let size = figure(
        effect.estimate.value().abs() * factor,
        half,
        margin.map(|it| it.get() * factor),
    );
    let turned = Interval {
        lower: -effect.interval.upper,
        upper: -effect.interval.lower,
        confidence: effect.interval.confidence,
    };
    match effect.change() {
        Change::NotShown => format!(
            "{measure}: no difference shown ({percent} %: {} {unit})",
            range(effect.interval, measure, margin)
        ),
        Change::Higher => format!(
            "{} ({percent} %: {})",
            with_size(measure, &format!("{size} {unit}"), Change::Higher),
            range(effect.interval, measure, margin)
        ),
        Change::Lower => format!(
            "{} ({percent} %: {})",
            with_size(measure, &format!("{size} {unit}"), Change::Lower),
            range(turned, measure, margin)
        ),
    }
}

fn with_size(measure: Measure, size: &str, change: Change) -> String {
    let higher = change == Change::Higher;
    match measure {
        Measure::StopTime => format!("stops {size} {}", if higher { "later" } else { "sooner" }),
        Measure::ReversalTime => {
            format!(
                "reverses {size} {}",
                if higher { "later" } else { "sooner" }
            )
        }
        _ if measure.unit() == "s" => {
            format!(
                "{measure} {size} {}",
                if higher { "longer" } else { "shorter" }
            )
        }
        _ => format!(
            "{measure} {size} {}",
            if higher { "higher" } else { "lower" }
        ),
    }
}

/// What is shown about the margin.
pub(super) fn claim_words(effect: &Effect, measure: Measure) -> Option<String> {
    let margin = margin_words(effect.against?.equivalence.margin, measure);
    Some(match effect.claim()? {
        Claim::WorseBeyond => format!("worse by more than {margin}"),
        Claim::LessThanMargin => format!("changed by less than {margin} either way"),
        Claim::NotWorse => format!("not worse by more than {margin}"),
        Claim::NotShown => format!("a worsening of {margin} is not excluded"),
    })
}

/// A probability for people.
pub(super) fn probability(p: f64) -> String {
    if p < 0.001 {
        "under 0.001".to_owned()
    } else {
        format!("{p:.3}")
    }
}
