//! Effects in plain words. "Equal" is not one of them.

use crate::compare::{Change, Effect, Interval, Margin, MeasureStudy, NoAnswer};
use crate::fact::Fact;
use crate::measure::Measure;
use crate::words::Words;

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

/// The ends of an interval in the unit that is read.
fn ends(interval: Interval, measure: Measure, margin: Option<Margin>) -> (String, String) {
    let (factor, _) = scale(measure);
    let half = (interval.upper - interval.lower) / 2.0 * factor;
    let margin = margin.map(|it| it.get() * factor);
    let end = |value: f64| figure(value * factor, half, margin);
    (end(interval.lower), end(interval.upper))
}

/// A margin in the unit that is read, with it.
pub(super) fn margin_text(words: &Words, margin: Margin, measure: Measure) -> String {
    let (factor, unit) = scale(measure);
    // A margin given in ms comes back as it was typed.
    let size = (margin.get() * factor * 1e9).round() / 1e9;
    let fields = [("size", size.into()), ("unit", unit.into())];
    words.with("comparison-margin", &fields)
}

/// The estimate and its interval: "−41 (−52 to −30)".
pub(super) fn numbers(words: &Words, effect: &Effect, measure: Measure) -> String {
    let (factor, _) = scale(measure);
    let half = (effect.interval.upper - effect.interval.lower) / 2.0 * factor;
    let margin = effect.against.map(|it| it.equivalence.margin);
    let least = margin.map(|it| it.get() * factor);
    let (lower, upper) = ends(effect.interval, measure, margin);
    let fields = [
        (
            "estimate",
            figure(effect.estimate.value() * factor, half, least).into(),
        ),
        ("lower", lower.into()),
        ("upper", upper.into()),
    ];
    words.with("comparison-numbers", &fields)
}

/// The effect as a clause after the name of the later version.
pub(super) fn sentence(words: &Words, effect: &Effect, measure: Measure) -> String {
    let shown = change_text(words, effect, measure);
    match claim_text(words, effect, measure) {
        Some(claim) => with_claim(words, "comparison-and-claim", shown, claim),
        None => shown,
    }
}

fn with_claim(words: &Words, id: &str, shown: String, claim: String) -> String {
    words.with(id, &[("shown", shown.into()), ("claim", claim.into())])
}

/// A measure over all test points as a clause. Where the points differ the mean of them claims nothing about the margin: the
/// weakest claim over the points stands instead.
pub(super) fn summary(words: &Words, study: &MeasureStudy, pooled: &Effect) -> String {
    if study.pooled_speaks() {
        return sentence(words, pooled, study.measure);
    }
    let shown = change_text(words, pooled, study.measure);
    let (Some(claim), Some(margin)) = (study.weakest_claim(), study.margin) else {
        return words.with("comparison-on-the-mean", &[("shown", shown.into())]);
    };
    let fields = [
        ("claim", claim.code().into()),
        ("margin", margin_text(words, margin, study.measure).into()),
    ];
    let claim = words.with("comparison-claim-over-points", &fields);
    with_claim(words, "comparison-on-the-mean-and-claim", shown, claim)
}

fn change_text(words: &Words, effect: &Effect, measure: Measure) -> String {
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
    let (id, interval) = match effect.change() {
        Change::NotShown => ("comparison-change-not-shown", effect.interval),
        Change::Higher => ("comparison-change-higher", effect.interval),
        Change::Lower => ("comparison-change-lower", turned),
    };
    let (lower, upper) = ends(interval, measure, margin);
    let fields = [
        ("measure", words.fact(&measure).into()),
        ("measure_code", measure.code().into()),
        ("size", size.into()),
        ("unit", unit.into()),
        ("percent", percent.into()),
        ("lower", lower.into()),
        ("upper", upper.into()),
    ];
    words.with(id, &fields)
}

/// What is shown about the margin.
pub(super) fn claim_text(words: &Words, effect: &Effect, measure: Measure) -> Option<String> {
    let margin = margin_text(words, effect.against?.equivalence.margin, measure);
    let fields = [
        ("claim", effect.claim()?.code().into()),
        ("margin", margin.into()),
    ];
    Some(words.with("comparison-claim", &fields))
}

/// That a measure was not compared, and why.
pub(super) fn not_compared(words: &Words, measure: Measure, why: &NoAnswer) -> String {
    let fields = [
        ("measure", words.fact(&measure).into()),
        ("why", words.fact(why).into()),
    ];
    words.with("comparison-measure-not-compared", &fields)
}

/// A probability for people.
pub(super) fn probability(words: &Words, p: f64) -> String {
    if p < 0.001 {
        words.say("comparison-p-small").into_owned()
    } else {
        words.with("comparison-p", &[("p", p.into())])
    }
}
