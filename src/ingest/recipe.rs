//! A recipe: the answers for all logs of one logger, as TOML.

use serde::Deserialize;

use crate::ingest::tokens::units;
use crate::ingest::{Answers, Sign};
use crate::quantity::Hertz;
use crate::toml_tree::{self, Fault};
use crate::trace::ChosenRun;

/// Why a recipe cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum RecipeError {
    /// Not TOML, an unknown key or a value of another kind.
    #[error("recipe {name}: {source}")]
    Toml {
        /// Name of the recipe.
        name: String,
        /// What is wrong, and where.
        source: Box<Fault>,
    },
    /// A value that is not among those expected.
    #[error("recipe {name}: {key} is `{found}`, expected {expected}")]
    Value {
        /// Name of the recipe.
        name: String,
        /// The key.
        key: &'static str,
        /// The value found.
        found: String,
        /// What was expected.
        expected: &'static str,
    },
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Recipe {
    file: Option<String>,
    force: Option<String>,
    force_unit: Option<String>,
    scale: Option<f64>,
    time: Option<String>,
    time_unit: Option<String>,
    rate_hz: Option<f64>,
    run: Option<ChosenRun>,
    push: Option<String>,
    decimal_mark: Option<String>,
    time_decimal_mark: Option<String>,
    delimiter: Option<String>,
}

/// The answers that a recipe holds, under the recipe's name.
///
/// # Errors
/// [`RecipeError`] for text that is no TOML, an unknown key or a value that is not an answer.
///
/// # Example
/// ```
/// use relent::ingest::{from_recipe, to_recipe};
/// let answers = from_recipe("old-logger", "force = \"Load\"\nforce_unit = \"lbf\"\nrate_hz = 500.0\n")?;
/// assert_eq!(answers.force.as_deref(), Some("Load"));
/// assert_eq!(from_recipe("old-logger", &to_recipe(&answers))?, answers);
/// # Ok::<(), relent::ingest::RecipeError>(())
/// ```
pub fn from_recipe(name: &str, text: &str) -> Result<Answers, RecipeError> {
    let recipe: Recipe = toml_tree::read(text).map_err(|source| RecipeError::Toml {
        name: name.to_owned(),
        source: Box::new(source),
    })?;
    let wrong = |key, found: &str, expected| RecipeError::Value {
        name: name.to_owned(),
        key,
        found: found.to_owned(),
        expected,
    };
    let force_unit = recipe.force_unit.as_deref().map(|text| {
        units::force_unit(text)
            .ok_or_else(|| wrong("force_unit", text, "N, mN, daN, kN, kgf, gf, lbf or ozf"))
    });
    let time_unit = recipe.time_unit.as_deref().map(|text| {
        units::time_unit(text).ok_or_else(|| wrong("time_unit", text, "s, ms, µs, ns, min, h or d"))
    });
    let rate = recipe.rate_hz.map(|rate| {
        let usable = rate.is_finite() && rate > 0.0;
        usable
            .then_some(Hertz(rate))
            .ok_or_else(|| wrong("rate_hz", &rate.to_string(), "a number above 0 in hertz"))
    });
    let scale = recipe.scale.map(|scale| {
        let usable = scale.is_finite() && scale > 0.0;
        usable
            .then_some(scale)
            .ok_or_else(|| wrong("scale", &scale.to_string(), "a number above 0"))
    });
    let sign = recipe.push.as_deref().map(|text| match text {
        "positive" => Ok(Sign::PushIsPositive),
        "negative" => Ok(Sign::PushIsNegative),
        other => Err(wrong("push", other, "positive or negative")),
    });
    let mark = |key, text: Option<&str>| {
        let mark = text.map(|text| match text {
            "." => Ok('.'),
            "," => Ok(','),
            other => Err(wrong(key, other, "`.` or `,`")),
        });
        mark.transpose()
    };
    let delimiter = recipe.delimiter.as_deref().map(|text| {
        let mut letters = text.chars();
        match (letters.next().filter(char::is_ascii), letters.next()) {
            (Some(letter), None) => Ok(letter),
            _ => Err(wrong("delimiter", text, "one ASCII character")),
        }
    });
    Ok(Answers {
        file: recipe.file,
        force: recipe.force,
        force_unit: force_unit.transpose()?,
        scale: scale.transpose()?,
        time: recipe.time,
        time_unit: time_unit.transpose()?,
        rate: rate.transpose()?,
        run: recipe.run,
        sign: sign.transpose()?,
        decimal_mark: mark("decimal_mark", recipe.decimal_mark.as_deref())?,
        time_decimal_mark: mark("time_decimal_mark", recipe.time_decimal_mark.as_deref())?,
        delimiter: delimiter.transpose()?,
        recipe: Some(name.to_owned()),
    })
}

/// Answers as the text of a recipe: one line an answer, in the order of the questions.
#[must_use]
pub fn to_recipe(answers: &Answers) -> String {
    let given = Answers {
        recipe: None,
        ..answers.clone()
    };
    // Texts, letters and numbers all have a form in TOML.
    toml::to_string(&given).unwrap_or_default()
}
