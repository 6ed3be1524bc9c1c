//! How many hits are needed, as text and as JSON.

use std::fmt::Write as _;

use serde::Serialize;

use super::words::{figure, margin_text, scale};
use crate::compare::{Goal, Margin, Need, NoAnswer, Pilot, Question, Terms};
use crate::measure::Measure;
use crate::words::{Said, Words};

/// The numbers of hits as a table of text.
#[must_use]
pub fn design_text(words: &Words, needs: &[Need], terms: &Terms, goal: Goal) -> String {
    let wrong = ((1.0 - terms.confidence.level()) * 50.0 * 1e6).round() / 1e6;
    let fields = [
        ("power_percent", (goal.power * 100.0).into()),
        ("wrong_percent", wrong.into()),
        ("care_percent", (goal.care.level() * 100.0).into()),
    ];
    let mut text = format!(
        "{}\n{}\n",
        words.with("design-asked", &fields),
        words.with("design-terms", &fields)
    );
    for need in needs {
        let _ = writeln!(text, "\n{}", heading(words, need));
        let pilot = match &need.pilot {
            Err(why) => {
                let _ = writeln!(text, "  {}", no_answer(words, "design-no-answer", why));
                continue;
            }
            Ok(pilot) => pilot,
        };
        let (factor, unit) = scale(need.measure);
        let planned = need.planned_deviation.unwrap_or(f64::NAN) * factor;
        let spread = [
            ("spread", figure(pilot.deviation * factor, 0.0, None).into()),
            ("planned", figure(planned, 0.0, None).into()),
            ("freedom", pilot.degrees_of_freedom.into()),
            ("unit", unit.into()),
        ];
        let place = [("points", need.points.into())];
        for line in [
            words.with("design-spread", &spread),
            answer(words, &words.say("design-one-point"), &need.one_point),
            answer(words, &words.with("design-pooled", &place), &need.pooled),
            powers(words, need),
        ] {
            let _ = writeln!(text, "  {line}");
        }
    }
    text
}

fn heading(words: &Words, need: &Need) -> String {
    let margin = margin_text(words, need.margin, need.measure);
    let fields = [
        ("measure", words.fact(&need.measure).into()),
        ("margin", margin.into()),
    ];
    words.with("comparison-measure-with-margin", &fields)
}

fn no_answer(words: &Words, id: &str, why: &NoAnswer) -> String {
    words.with(id, &[("why", words.fact(why).into())])
}

fn answer(words: &Words, place: &str, found: &Result<(u32, f64), NoAnswer>) -> String {
    let found = match found {
        Ok((hits, power)) => words.with(
            "design-hits",
            &[
                ("hits", (*hits).into()),
                ("power_percent", (power * 100.0).into()),
            ],
        ),
        Err(why) => no_answer(words, "design-no-answer", why),
    };
    let fields = [("place", place.into()), ("answer", found.into())];
    words.with("design-answer", &fields)
}

fn powers(words: &Words, need: &Need) -> String {
    let power = |(hits, power): &(u32, f64)| {
        let fields = [
            ("hits", (*hits).into()),
            ("power_percent", (power * 100.0).into()),
        ];
        words.with("design-power", &fields)
    };
    let powers: Vec<String> = need.powers.iter().map(power).collect();
    let powers = powers.join(&words.say("list-comma"));
    words.with("design-powers", &[("powers", powers.into())])
}

/// How many hits are needed, `relent.compare-design/1`.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Document<'a> {
    schema: &'static str,
    terms: &'a Terms,
    power_wanted: f64,
    question: Question,
    true_difference: f64,
    measures: Vec<NeedLine<'a>>,
}

/// The hits that one measure needs.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct NeedLine<'a> {
    measure: Measure,
    key: &'static str,
    unit: &'static str,
    margin: Margin,
    pilot: Option<&'a Pilot>,
    no_pilot: Option<Said<&'a NoAnswer>>,
    planned_deviation: Option<f64>,
    points: u32,
    one_point: Hits<'a>,
    pooled: Hits<'a>,
    power_at_one_point: Vec<Hits<'a>>,
}

/// Hits a version with the power that they reach, or why there is no number.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
enum Hits<'a> {
    Found { hits: u32, power: f64 },
    None { no_answer: Said<&'a NoAnswer> },
}

impl<'a> Hits<'a> {
    fn new(words: &Words, found: &'a Result<(u32, f64), NoAnswer>) -> Self {
        match found {
            Ok(found) => Self::of(*found),
            Err(why) => Self::None {
                no_answer: words.said(why),
            },
        }
    }

    const fn of((hits, power): (u32, f64)) -> Self {
        Self::Found { hits, power }
    }
}

/// The numbers of hits as JSON.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known.
pub fn design_json(
    words: &Words,
    needs: &[Need],
    terms: &Terms,
    goal: Goal,
) -> Result<Vec<u8>, serde_json::Error> {
    let lines = needs.iter().map(|need| NeedLine {
        measure: need.measure,
        key: need.measure.key(),
        unit: need.measure.unit(),
        margin: need.margin,
        pilot: need.pilot.as_ref().ok(),
        no_pilot: need.pilot.as_ref().err().map(|why| words.said(why)),
        planned_deviation: need.planned_deviation,
        points: need.points,
        one_point: Hits::new(words, &need.one_point),
        pooled: Hits::new(words, &need.pooled),
        power_at_one_point: need.powers.iter().copied().map(Hits::of).collect(),
    });
    let mut bytes = serde_json::to_vec_pretty(&Document {
        schema: "relent.compare-design/1",
        terms,
        power_wanted: goal.power,
        question: goal.question,
        true_difference: 0.0,
        measures: lines.collect(),
    })?;
    bytes.push(b'\n');
    Ok(bytes)
}
