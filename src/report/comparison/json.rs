//! `compare.json`: the machine-readable comparison, `relent.compare/1`.

use serde::Serialize;

use super::words::{sentence, summary};
use super::{Against, Comparison, outcome_text};
use crate::compare::{
    AdditiveEffect, Aspect, Change, Claim, Difference, Effect, Estimate, Excluded, Interaction,
    Margin, MeasureStudy, NoAnswer, OpenReason, Outcome, PermutationTest, PointStudy, Pooled,
    Reading, Sample, Series, Terms, Unmatched, Worsening,
};
use crate::gate::GateFile;
use crate::limits::TestPoint;
use crate::measure::{Basis, Measure};
use crate::report::cautions::cautions;
use crate::words::{Said, Words};

/// Declares what stands in the file: structs that are written, and described by their schema.
macro_rules! lines {
    ($($(#[doc = $about:literal])+ $Line:ident { $($name:ident: $Type:ty,)+ })+) => {$(
        $(#[doc = $about])+
        #[derive(Serialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        pub struct $Line<'a> { $($name: $Type,)+ }
    )+};
}

lines! {
    /// A comparison of series. Differences are after − before, in the unit of each measure's key.
    Document {
        schema: &'static str,
        tool: &'static str,
        series: Vec<SeriesLine<'a>>,
        accepted: &'a [Aspect],
        temperature_band_c: f64,
        terms: Option<&'a Terms>,
        comparisons: Vec<AgainstLine<'a>>,
        cautions: Vec<String>,
    }
    /// A series and its logs.
    SeriesLine { name: &'a str, gate: &'a GateFile, logs: Vec<LogLine<'a>>, }
    /// A log of a series.
    LogLine { file: &'a str, sha256: &'a str, test_point: TestPoint, repeat: u32, }
    /// A series beside the reference.
    AgainstLine {
        before: &'a str,
        after: &'a str,
        outcome: &'static str,
        text: String,
        reasons: Vec<Told>,
        differences: Vec<Said<&'a Difference>>,
        unmatched: &'a [Unmatched],
        measures: Vec<MeasureLine<'a>>,
    }
    /// One measure over all common test points.
    MeasureLine {
        measure: Measure,
        key: &'static str,
        unit: &'static str,
        margin: Option<Margin>,
        pooled: Compared<'a, PooledLine<'a>>,
        points: Vec<PointLine<'a>>,
    }
    /// One measure at one test point.
    PointLine {
        test_point: TestPoint,
        before: SampleLine<'a>,
        after: SampleLine<'a>,
        effect: Compared<'a, EffectLine<'a>>,
    }
    /// The hits of a series at a test point.
    SampleLine { kept: &'a [Reading], left_out: Vec<LeftOutLine<'a>>, read_from: &'a [Basis], }
    /// A hit that does not enter.
    LeftOutLine { log: &'a str, repeat: u32, why: Said<&'a Excluded>, }
    /// All common test points at once.
    PooledLine {
        points: usize,
        effect: EffectLine<'a>,
        speaks_for_the_points: bool,
        text: String,
        residual_deviation: f64,
        differs_between_points: Option<&'a Interaction>,
        mean_of_points: Option<Estimate>,
        permutation: Option<&'a PermutationTest>,
        permutation_not_made: Option<Said<&'a NoAnswer>>,
    }
    /// A difference and what is shown about it.
    EffectLine { numbers: &'a Effect, change: Change, claim: Option<Claim>, text: String, }
}

/// A worsening, or a reason why nothing is decided.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
enum Told {
    Worse(Said<Worsening>),
    Open(Said<OpenReason>),
}

/// What was compared, or why it was not.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
enum Compared<'a, T> {
    Made(T),
    Not { not_compared: Said<&'a NoAnswer> },
}

impl<'a, T> Compared<'a, T> {
    fn of<R>(words: &Words, found: &'a Result<R, NoAnswer>, made: impl Fn(&'a R) -> T) -> Self {
        match found {
            Ok(it) => Self::Made(made(it)),
            Err(why) => Self::Not {
                not_compared: words.said(why),
            },
        }
    }
}

/// The comparison as JSON, with an end of line after it.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known for a comparison.
pub fn compare_json(words: &Words, comparison: &Comparison) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(&Document {
        schema: "relent.compare/1",
        tool: concat!("relent ", env!("CARGO_PKG_VERSION")),
        series: comparison.series.iter().map(series).collect(),
        accepted: &comparison.accepted,
        temperature_band_c: comparison.temperature_band_c,
        terms: comparison.against.first().map(|it| &it.study.terms),
        comparisons: comparison
            .against
            .iter()
            .map(|it| against(words, it))
            .collect(),
        cautions: cautions(words),
    })?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn series(series: &Series) -> SeriesLine<'_> {
    let logs = series.assessment.hits.iter().map(|hit| LogLine {
        file: &hit.file,
        sha256: &hit.sha256,
        test_point: hit.point,
        repeat: hit.repeat,
    });
    SeriesLine {
        name: &series.name,
        gate: &series.assessment.gate,
        logs: logs.collect(),
    }
}

fn against<'a>(words: &Words, against: &'a Against) -> AgainstLine<'a> {
    let study = &against.study;
    let (outcome, reasons) = match study.outcome() {
        Outcome::NoMargin => ("no-margin", Vec::new()),
        Outcome::NotWorse => ("not-worse", Vec::new()),
        Outcome::WorseBeyondMargin { places } => {
            let places = places.into_iter();
            let told = places.map(|it| Told::Worse(words.said(it)));
            ("worse-beyond-margin", told.collect())
        }
        Outcome::Undecided { reasons } => {
            let reasons = reasons.into_iter();
            let told = reasons.map(|it| Told::Open(words.said(it)));
            ("undecided", told.collect())
        }
    };
    AgainstLine {
        before: &study.before,
        after: &study.after,
        outcome,
        text: outcome_text(words, study),
        reasons,
        differences: words.all_said(&against.differences),
        unmatched: &study.unmatched,
        measures: study.measures.iter().map(|it| measure(words, it)).collect(),
    }
}

fn measure<'a>(words: &Words, study: &'a MeasureStudy) -> MeasureLine<'a> {
    let points = study.points.iter();
    MeasureLine {
        measure: study.measure,
        key: study.measure.key(),
        unit: study.measure.unit(),
        margin: study.margin,
        pooled: Compared::of(words, &study.pooled, |it| pooled(words, it, study)),
        points: points.map(|it| point(words, it, study.measure)).collect(),
    }
}

fn point<'a>(words: &Words, point: &'a PointStudy, measure: Measure) -> PointLine<'a> {
    PointLine {
        test_point: point.point,
        before: sample(words, &point.before),
        after: sample(words, &point.after),
        effect: Compared::of(words, &point.effect, |it| effect(words, it, measure)),
    }
}

fn sample<'a>(words: &Words, sample: &'a Sample) -> SampleLine<'a> {
    let left_out = sample.left_out.iter().map(|it| LeftOutLine {
        log: &it.log,
        repeat: it.repeat,
        why: words.said(&it.why),
    });
    SampleLine {
        kept: &sample.kept,
        left_out: left_out.collect(),
        read_from: &sample.read_from,
    }
}

fn pooled<'a>(words: &Words, pooled: &'a Pooled, study: &MeasureStudy) -> PooledLine<'a> {
    let AdditiveEffect {
        residual_deviation,
        interaction,
        ..
    } = &pooled.additive;
    let not_made = pooled.permutation.as_ref().err();
    PooledLine {
        points: pooled.points,
        effect: effect(words, &pooled.effect, study.measure),
        speaks_for_the_points: study.pooled_speaks(),
        text: summary(words, study, &pooled.effect),
        residual_deviation: *residual_deviation,
        differs_between_points: interaction.as_ref(),
        mean_of_points: pooled.mean_of_points,
        permutation: pooled.permutation.as_ref().ok(),
        permutation_not_made: not_made.map(|why| words.said(why)),
    }
}

fn effect<'a>(words: &Words, effect: &'a Effect, measure: Measure) -> EffectLine<'a> {
    EffectLine {
        numbers: effect,
        change: effect.change(),
        claim: effect.claim(),
        text: sentence(words, effect, measure),
    }
}
