//! `compare.json`: the machine-readable comparison, `relent.compare/1`.

use serde_json::{Value, json};

use super::words::{sentence, summary};
use super::{Against, Comparison, outcome_text};
use crate::compare::{Effect, MeasureStudy, NoAnswer, Outcome, PointStudy, Pooled, Sample, Series};
use crate::fact::Fact;
use crate::measure::Measure;
use crate::report::cautions::cautions;
use crate::words::Words;

/// The comparison as JSON, with an end of line after it. Differences are after − before, in the unit of each measure's key.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for a comparison.
pub fn compare_json(words: &Words, comparison: &Comparison) -> Result<Vec<u8>, serde_json::Error> {
    let record = json!({
        "schema": "relent.compare/1",
        "tool": concat!("relent ", env!("CARGO_PKG_VERSION")),
        "series": comparison.series.iter().map(series).collect::<Vec<_>>(),
        "accepted": comparison.accepted,
        "temperature_band_c": comparison.temperature_band_c,
        "terms": comparison.against.first().map(|it| &it.study.terms),
        "comparisons": comparison.against.iter().map(|it| against(words, it)).collect::<Vec<_>>(),
        "cautions": cautions(words),
    });
    let mut bytes = serde_json::to_vec_pretty(&record)?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn series(series: &Series) -> Value {
    let logs: Vec<Value> = series
        .assessment
        .hits
        .iter()
        .map(|hit| json!({ "file": hit.file, "sha256": hit.sha256, "test_point": hit.point, "repeat": hit.repeat }))
        .collect();
    json!({ "name": series.name, "gate": series.assessment.gate, "logs": logs })
}

fn against(words: &Words, against: &Against) -> Value {
    fn told<F: Fact>(words: &Words, facts: &[F]) -> Vec<Value> {
        facts.iter().map(|fact| json!(words.said(fact))).collect()
    }
    let study = &against.study;
    let (outcome, reasons) = match study.outcome() {
        Outcome::NoMargin => ("no-margin", Vec::new()),
        Outcome::WorseBeyondMargin { places } => ("worse-beyond-margin", told(words, &places)),
        Outcome::NotWorse => ("not-worse", Vec::new()),
        Outcome::Undecided { reasons } => ("undecided", told(words, &reasons)),
    };
    json!({
        "before": study.before,
        "after": study.after,
        "outcome": outcome,
        "text": outcome_text(words, study),
        "reasons": reasons,
        "differences": told(words, &against.differences),
        "unmatched": study.unmatched,
        "measures": study.measures.iter().map(|it| measure(words, it)).collect::<Vec<_>>(),
    })
}

fn not_compared(words: &Words, why: &NoAnswer) -> Value {
    json!({ "not_compared": words.said(why) })
}

fn measure(words: &Words, study: &MeasureStudy) -> Value {
    json!({
        "measure": study.measure,
        "key": study.measure.key(),
        "unit": study.measure.unit(),
        "margin": study.margin,
        "pooled": match &study.pooled {
            Ok(it) => pooled(words, it, study),
            Err(why) => not_compared(words, why),
        },
        "points": study.points.iter().map(|it| point(words, it, study.measure)).collect::<Vec<_>>(),
    })
}

fn point(words: &Words, point: &PointStudy, measure: Measure) -> Value {
    json!({
        "test_point": point.point,
        "before": sample(words, &point.before),
        "after": sample(words, &point.after),
        "effect": match &point.effect {
            Ok(it) => effect(words, it, measure),
            Err(why) => not_compared(words, why),
        },
    })
}

fn sample(words: &Words, sample: &Sample) -> Value {
    let left_out = sample
        .left_out
        .iter()
        .map(|it| json!({ "log": it.log, "repeat": it.repeat, "why": words.said(&it.why) }));
    json!({
        "kept": sample.kept,
        "left_out": left_out.collect::<Vec<_>>(),
        "read_from": sample.read_from,
    })
}

fn pooled(words: &Words, pooled: &Pooled, study: &MeasureStudy) -> Value {
    let not_made = pooled.permutation.as_ref().err();
    json!({
        "points": pooled.points,
        "effect": effect(words, &pooled.effect, study.measure),
        "speaks_for_the_points": study.pooled_speaks(),
        "text": summary(words, study, &pooled.effect),
        "residual_deviation": pooled.additive.residual_deviation,
        "differs_between_points": pooled.additive.interaction,
        "mean_of_points": pooled.mean_of_points,
        "permutation": pooled.permutation.as_ref().ok(),
        "permutation_not_made": not_made.map(|why| words.said(why)),
    })
}

fn effect(words: &Words, effect: &Effect, measure: Measure) -> Value {
    json!({
        "numbers": effect,
        "change": effect.change(),
        "claim": effect.claim(),
        "text": sentence(words, effect, measure),
    })
}
