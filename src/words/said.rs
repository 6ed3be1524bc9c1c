//! A fact beside its sentence, as the outputs hold it.

#[cfg(feature = "schema")]
use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::Words;
use crate::fact::Fact;

/// The fields of a fact, its sentence, and what to do where there is something to do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Said<F> {
    /// The fact.
    #[serde(flatten)]
    pub fact: F,
    /// Its sentence.
    pub text: String,
    /// What to do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
}

/// The schema of the fact, referred to, and the texts: what is derived would repeat the fact wherever it is said.
#[cfg(feature = "schema")]
impl<F: schemars::JsonSchema> schemars::JsonSchema for Said<F> {
    fn schema_name() -> Cow<'static, str> {
        format!("Said{}", F::schema_name()).into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "object",
            "allOf": [generator.subschema_for::<F>()],
            "properties": {
                "text": { "type": "string", "description": "Its sentence." },
                "help": { "type": "string", "description": "What to do." },
            },
            "required": ["text"],
        })
    }
}

impl<F: Fact> Said<F> {
    /// The sentence, and what to do after it.
    #[must_use]
    pub fn whole(&self) -> String {
        match &self.help {
            Some(help) => format!("{} {help}", self.text),
            None => self.text.clone(),
        }
    }
}

impl Words {
    /// A fact with its sentence.
    #[must_use]
    pub fn said<F: Fact>(&self, fact: F) -> Said<F> {
        Said {
            text: self.fact(&fact),
            help: self.part(&fact, "help"),
            fact,
        }
    }

    /// Facts with their sentences.
    #[must_use]
    pub fn all_said<F: Fact>(&self, facts: impl IntoIterator<Item = F>) -> Vec<Said<F>> {
        facts.into_iter().map(|fact| self.said(fact)).collect()
    }
}
