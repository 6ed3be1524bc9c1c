//! A fact: what a stage of the pipeline has to tell, as a code and its numbers.
//!
//! A fact is an enum that derives `Serialize` and `Deserialize` with `#[serde(tag = "code", rename_all = "kebab-case")]`. Its code and
//! its fields are its form in JSON, in the tables and in the sealed record. A field that holds a number ends in its unit. The sentence
//! for a reader is made in `words`, from the message `<family>-<code>`, and nowhere else.

use serde::Serialize;
use serde_json::Value;

/// A family of facts.
pub trait Fact: Serialize {
    /// The first part of the names of its messages: `limitation` in `limitation-ends-early`.
    const FAMILY: &'static str;

    /// The code and the fields.
    fn fields(&self) -> Value {
        serde_json::to_value(self).unwrap_or_default()
    }

    /// The code: what the fact is called in every output.
    fn code(&self) -> String {
        match self.fields() {
            Value::String(code) => code,
            fields => fields["code"].as_str().unwrap_or_default().to_owned(),
        }
    }
}

impl<F: Fact> Fact for &F {
    const FAMILY: &'static str = F::FAMILY;
}
