//! The comparison on a terminal: the outcome, one line a measure, then what the pooled line must not hide.

use std::fmt::Write as _;

use super::words::{probability, sentence, summary};
use super::{Against, Comparison, outcome_words};
use crate::compare::{Change, Claim, MeasureStudy, Outcome};

/// The comparison in plain text.
#[must_use]
pub fn compare_text(comparison: &Comparison) -> String {
    let mut text = String::new();
    for against in &comparison.against {
        one(&mut text, against);
    }
    text.push_str(
        "A difference that is not shown is not shown to be nothing. The hits say how the leaf met a gauge at these points, \
         not that a gate is free of danger; local codes and licensed practice come first.\n",
    );
    text
}

fn one(text: &mut String, against: &Against) {
    let study = &against.study;
    let _ = writeln!(text, "{}.\n", outcome_words(study));
    for measure in &study.measures {
        line(text, measure, &study.after);
    }
    if let Outcome::Undecided(reasons) = study.outcome() {
        let _ = writeln!(text, "\n  Undecided because:");
        reasons.iter().for_each(|reason| {
            let _ = writeln!(text, "  - {reason}");
        });
    }
    let left_out = left_out(study.measures.iter());
    if left_out > 0 {
        let _ = writeln!(
            text,
            "\n  {left_out} readings were left out: lower bounds, or without a value (see the report)."
        );
    }
    for it in &study.unmatched {
        let _ = writeln!(text, "  {}: no hit in {}", it.point, it.missing_in);
    }
    if !against.differences.is_empty() {
        let _ = writeln!(text, "\n  Different besides the hits:");
        for difference in &against.differences {
            let _ = writeln!(text, "  - {difference}");
        }
    }
    text.push('\n');
}

fn line(text: &mut String, study: &MeasureStudy, after: &str) {
    match &study.pooled {
        Err(why) => {
            let _ = writeln!(text, "  {after}: {}: not compared: {why}", study.measure);
        }
        Ok(pooled) => {
            let _ = writeln!(text, "  {after}: {}", summary(study, &pooled.effect));
            if let Some(it) = &pooled.additive.interaction
                && pooled.points_differ()
            {
                let p = probability(it.p);
                let _ = writeln!(
                    text,
                    "    the test points differ in this (p {p}): read them one by one"
                );
            }
        }
    }
    for point in &study.points {
        if let Ok(effect) = &point.effect
            && (effect.change() == Change::Higher || effect.claim() == Some(Claim::WorseBeyond))
        {
            let _ = writeln!(
                text,
                "    {}: {}",
                point.point,
                sentence(effect, study.measure)
            );
        }
    }
}

/// How many readings did not enter.
pub(super) fn left_out<'a>(measures: impl Iterator<Item = &'a MeasureStudy>) -> usize {
    let points = measures.flat_map(|it| &it.points);
    points
        .map(|it| it.before.left_out.len() + it.after.left_out.len())
        .sum()
}
