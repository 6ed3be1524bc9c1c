//! The JSON Schema of a gate file, made from the structs: what `schema.json` must be.

use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, Transform};
use serde_json::Value;

use super::GateFile;

/// The JSON Schema of a gate file from the structs, their doc comments and their bounds.
#[must_use]
pub fn schema_of_structs() -> Value {
    let settings = SchemaSettings::draft2020_12().with(|settings| {
        settings.inline_subschemas = true;
    });
    let mut schema = settings.into_generator().into_root_schema_for::<GateFile>();
    RecursiveTransform(without_null).transform(&mut schema);
    RecursiveTransform(one_line).transform(&mut schema);
    schema.to_value()
}

fn one_line(schema: &mut schemars::Schema) {
    if let Some(Value::String(text)) = schema.get_mut("description") {
        *text = text.replace('\n', " ");
    }
}

/// TOML has no null: what may be absent is simply not required.
fn without_null(schema: &mut schemars::Schema) {
    let Some(object) = schema.as_object_mut() else {
        return;
    };
    if let Some(Value::Array(kinds)) = object.get_mut("type") {
        kinds.retain(|kind| kind != "null");
        if let [only] = kinds.as_slice() {
            let only = only.clone();
            object.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(words)) = object.get_mut("enum") {
        words.retain(|word| !word.is_null());
    }
    if object.get("default").is_some_and(Value::is_null) {
        object.remove("default");
    }
    let Some(Value::Array(choices)) = object.get_mut("anyOf") else {
        return;
    };
    choices.retain(|choice| choice["type"] != "null");
    if let [Value::Object(only)] = choices.as_slice() {
        let only = only.clone();
        object.remove("anyOf");
        for (key, value) in only {
            object.entry(key).or_insert(value);
        }
    }
}
