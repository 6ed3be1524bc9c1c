//! How many hits are needed, as text and as JSON.

use std::fmt::Write as _;

use serde_json::json;

use super::words::{figure, margin_words, scale};
use crate::compare::{Goal, Need, Terms};

/// The numbers of hits as a table of text.
#[must_use]
pub fn design_text(needs: &[Need], terms: &Terms, goal: Goal) -> String {
    let mut text = format!(
        "Hits of each version that show \"not worse by the margin\" with a probability of {} %, if the versions truly do not differ\n\
         (each one-sided claim wrong in at most {} % of cases; spread of the pilot taken {} % sure; other questions not counted in).\n",
        goal.power * 100.0,
        ((1.0 - terms.confidence.level()) * 50.0 * 1e6).round() / 1e6,
        goal.care.level() * 100.0,
    );
    for need in needs {
        let (factor, unit) = scale(need.measure);
        let _ = writeln!(
            text,
            "\n{}, margin {}",
            need.measure,
            margin_words(need.margin, need.measure)
        );
        match &need.pilot {
            Err(why) => {
                let _ = writeln!(text, "  no answer: {why}");
                continue;
            }
            Ok(pilot) => {
                let spread = figure(pilot.deviation * factor, 0.0, None);
                let planned = need.planned_deviation.unwrap_or(f64::NAN) * factor;
                let _ = writeln!(
                    text,
                    "  spread of the pilot {spread} {unit} ({} degrees of freedom); planned with {} {unit}",
                    pilot.degrees_of_freedom,
                    figure(planned, 0.0, None)
                );
            }
        }
        answer(&mut text, "at one test point alone", &need.one_point);
        answer(
            &mut text,
            &format!("at each of {} test points, pooled", need.points),
            &need.pooled,
        );
        let powers: Vec<String> = need
            .powers
            .iter()
            .map(|(hits, power)| format!("{hits} hits {:.0} %", power * 100.0))
            .collect();
        let _ = writeln!(text, "  power at one test point: {}", powers.join(", "));
    }
    text
}

fn answer(text: &mut String, place: &str, found: &Result<(u32, f64), String>) {
    let _ = match found {
        Ok((hits, power)) => writeln!(
            text,
            "  {place}: {hits} hits a version (power {:.0} %)",
            power * 100.0
        ),
        Err(why) => writeln!(text, "  {place}: no answer: {why}"),
    };
}

/// The numbers of hits as JSON, `relent.compare-design/1`.
///
/// # Errors
/// [`serde_json::Error`] of the writer; none is known.
pub fn design_json(
    needs: &[Need],
    terms: &Terms,
    goal: Goal,
) -> Result<Vec<u8>, serde_json::Error> {
    let hits = |found: &Result<(u32, f64), String>| match found {
        Ok((hits, power)) => json!({ "hits": hits, "power": power }),
        Err(why) => json!({ "no_answer": why }),
    };
    let rows: Vec<_> = needs
        .iter()
        .map(|need| {
            json!({
                "measure": need.measure,
                "key": need.measure.key(),
                "unit": need.measure.unit(),
                "margin": need.margin,
                "pilot": need.pilot.as_ref().ok(),
                "no_pilot": need.pilot.as_ref().err(),
                "planned_deviation": need.planned_deviation,
                "points": need.points,
                "one_point": hits(&need.one_point),
                "pooled": hits(&need.pooled),
                "power_at_one_point": need.powers.iter().map(|(hits, power)| json!({ "hits": hits, "power": power })).collect::<Vec<_>>(),
            })
        })
        .collect();
    let record = json!({
        "schema": "relent.compare-design/1",
        "terms": terms,
        "power_wanted": goal.power,
        "question": goal.question,
        "true_difference": 0.0,
        "measures": rows,
    });
    let mut bytes = serde_json::to_vec_pretty(&record)?;
    bytes.push(b'\n');
    Ok(bytes)
}
