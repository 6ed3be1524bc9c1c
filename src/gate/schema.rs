//! The JSON Schema of a gate file: what an editor completes from, and what [`super::form`] checks by.
//!
//! It is written out in `schema.json`, which the feature `schema` makes from the structs: the ordinary build does without
//! what is needed for that.

use std::sync::LazyLock;

use serde_json::Value;

/// The JSON Schema of a gate file, with descriptions, units and bounds. Read once: each gate file is held against it.
#[must_use]
pub fn schema() -> &'static Value {
    static SCHEMA: LazyLock<Value> =
        LazyLock::new(|| serde_json::from_str(include_str!("schema.json")).unwrap_or_default());
    &SCHEMA
}
