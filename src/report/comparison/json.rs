//! `compare.json`: the machine-readable comparison, `relent.compare/1`.

use serde_json::{Value, json};

use super::words::{sentence, summary};
use super::{Against, Comparison, outcome_words};
use crate::compare::{Effect, MeasureStudy, Outcome, PointStudy, Pooled, Series};
use crate::measure::Measure;
use crate::report::cautions::cautions;
use crate::words::{Language, Words};

/// The comparison as JSON, with an end of line after it. Differences are after − before, in the unit of each measure's key.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for a comparison.
pub fn compare_json(comparison: &Comparison) -> Result<Vec<u8>, serde_json::Error> {
    let accepted: Vec<String> = comparison
        .accepted
        .iter()
        .map(ToString::to_string)
        .collect();
    let record = json!({
        "schema": "relent.compare/1",
        "tool": concat!("relent ", env!("CARGO_PKG_VERSION")),
        "series": comparison.series.iter().map(series).collect::<Vec<_>>(),
        "accepted": accepted,
        "temperature_band_c": comparison.temperature_band_c,
        "terms": comparison.against.first().map(|it| &it.study.terms),
        "comparisons": comparison.against.iter().map(against).collect::<Vec<_>>(),
        "cautions": cautions(Words::of(Language::English)),
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

fn against(against: &Against) -> Value {
    let study = &against.study;
    let (outcome, reasons) = match study.outcome() {
        Outcome::NoMargin => ("no-margin", Vec::new()),
        Outcome::WorseBeyond(places) => ("worse-beyond-margin", places),
        Outcome::NotWorse => ("not-worse", Vec::new()),
        Outcome::Undecided(reasons) => ("undecided", reasons),
    };
    json!({
        "before": study.before,
        "after": study.after,
        "outcome": outcome,
        "outcome_words": outcome_words(study),
        "reasons": reasons,
        "differences": against.differences,
        "unmatched": study.unmatched,
        "measures": study.measures.iter().map(measure).collect::<Vec<_>>(),
    })
}

fn measure(study: &MeasureStudy) -> Value {
    json!({
        "measure": study.measure,
        "key": study.measure.key(),
        "unit": study.measure.unit(),
        "margin": study.margin,
        "pooled": match &study.pooled {
            Ok(it) => pooled(it, study),
            Err(why) => json!({ "not_compared": why }),
        },
        "points": study.points.iter().map(|it| point(it, study.measure)).collect::<Vec<_>>(),
    })
}

fn point(point: &PointStudy, measure: Measure) -> Value {
    json!({
        "test_point": point.point,
        "before": point.before,
        "after": point.after,
        "effect": match &point.effect {
            Ok(it) => effect(it, measure),
            Err(why) => json!({ "not_compared": why }),
        },
    })
}

fn pooled(pooled: &Pooled, study: &MeasureStudy) -> Value {
    json!({
        "points": pooled.points,
        "effect": effect(&pooled.effect, study.measure),
        "speaks_for_the_points": study.pooled_speaks(),
        "words": summary(study, &pooled.effect),
        "residual_deviation": pooled.additive.residual_deviation,
        "differs_between_points": pooled.additive.interaction,
        "mean_of_points": pooled.mean_of_points,
        "permutation": pooled.permutation.as_ref().ok(),
        "permutation_not_made": pooled.permutation.as_ref().err(),
    })
}

fn effect(effect: &Effect, measure: Measure) -> Value {
    json!({
        "numbers": effect,
        "change": effect.change(),
        "claim": effect.claim(),
        "words": sentence(effect, measure),
    })
}
