//! The comparison on a terminal: the outcome, one line a measure, then what the pooled line must not hide.

use std::fmt::Write as _;

use super::words::{not_compared, probability, sentence, summary};
use super::{Against, Comparison, outcome_text};
use crate::compare::{Change, Claim, MeasureStudy, Outcome};
use crate::fact::Fact;
use crate::words::Words;

/// The comparison in plain text.
#[must_use]
pub fn compare_text(words: &Words, comparison: &Comparison) -> String {
    let mut text = String::new();
    for against in &comparison.against {
        one(words, &mut text, against);
    }
    let _ = writeln!(
        text,
        "{} {}",
        words.say("comparison-not-shown"),
        words.say("comparison-standing")
    );
    text
}

fn one(words: &Words, text: &mut String, against: &Against) {
    let study = &against.study;
    let _ = writeln!(text, "{}\n", outcome_text(words, study));
    for measure in &study.measures {
        line(words, text, measure, &study.after);
    }
    if let Outcome::Undecided { reasons } = study.outcome() {
        listed(words, text, "comparison-undecided-because", &reasons);
    }
    let left_out = left_out(study.measures.iter());
    if left_out > 0 {
        let left_out = words.with(
            "comparison-left-out-count",
            &[("readings", left_out.into())],
        );
        let _ = writeln!(text, "\n  {left_out}");
    }
    for it in &study.unmatched {
        let _ = writeln!(text, "  {}", words.fact(it));
    }
    if !against.differences.is_empty() {
        listed(words, text, "comparison-differences", &against.differences);
    }
    text.push('\n');
}

fn listed<F: Fact>(words: &Words, text: &mut String, heading: &str, facts: &[F]) {
    let _ = writeln!(text, "\n  {}:", words.say(heading));
    for fact in facts {
        let _ = writeln!(text, "  - {}", words.fact(fact));
    }
}

fn line(words: &Words, text: &mut String, study: &MeasureStudy, after: &str) {
    match &study.pooled {
        Err(why) => {
            let why = not_compared(words, study.measure, why);
            let _ = writeln!(text, "  {after}: {why}");
        }
        Ok(pooled) => {
            let _ = writeln!(text, "  {after}: {}", summary(words, study, &pooled.effect));
            if let Some(it) = &pooled.additive.interaction
                && pooled.points_differ()
            {
                let p = [("p", probability(words, it.p).into())];
                let _ = writeln!(text, "    {}", words.with("comparison-points-differ", &p));
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
                words.fact(&point.point),
                sentence(words, effect, study.measure)
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
