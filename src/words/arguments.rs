//! The fields of a fact as the variables of its message.

use std::borrow::Cow;

use fluent_bundle::{FluentArgs, FluentValue};
use serde_json::{Map, Value};

use super::Words;
use crate::fact::Fact;

/// What stands for a field without a value.
const NONE: &str = "none";

impl Words {
    /// The id of the message of a fact, and its variables.
    pub(super) fn arguments_of<F: Fact>(&self, fact: &F) -> (String, FluentArgs<'static>) {
        let mut args = FluentArgs::new();
        let code = match fact.fields() {
            Value::String(code) => Some(code),
            Value::Object(fields) => {
                self.set_all(&mut args, &fields);
                let code = fields.get("code").and_then(Value::as_str);
                code.map(str::to_owned)
            }
            _ => None,
        };
        let id = code.map_or_else(
            || F::FAMILY.to_owned(),
            |code| format!("{}-{code}", F::FAMILY),
        );
        (id, args)
    }

    fn set_all(&self, args: &mut FluentArgs<'static>, fields: &Map<String, Value>) {
        for (name, value) in fields {
            if name != "code" {
                self.set(args, name, value);
            }
        }
    }

    fn set(&self, args: &mut FluentArgs<'static>, name: &str, value: &Value) {
        match value {
            Value::Number(number) => {
                args.set(name.to_owned(), number.as_f64().unwrap_or(f64::NAN));
            }
            Value::String(text) => {
                args.set(name.to_owned(), self.read(name, value));
                args.set(format!("{name}_code"), text.clone());
            }
            Value::Object(fields) => {
                args.set(name.to_owned(), self.read(name, value));
                if let Some(code) = fields.get("code").and_then(Value::as_str) {
                    args.set(format!("{name}_code"), code.to_owned());
                }
            }
            Value::Array(items) => {
                args.set(format!("{name}_count"), items.len());
                args.set(name.to_owned(), self.read(name, value));
            }
            Value::Bool(_) | Value::Null => args.set(name.to_owned(), self.read(name, value)),
        }
    }

    /// A value as it stands in a sentence.
    fn read(&self, name: &str, value: &Value) -> FluentValue<'static> {
        let message = |id: &str, fields: &Map<String, Value>| {
            let mut args = FluentArgs::new();
            self.set_all(&mut args, fields);
            self.message(id, None, &args).map(Cow::into_owned)
        };
        let field = name.replace('_', "-");
        match value {
            Value::Null => NONE.into(),
            Value::Bool(yes) => yes.to_string().into(),
            Value::Number(number) => number.as_f64().unwrap_or(f64::NAN).into(),
            Value::String(text) => match self.is_code(text) {
                true => message(&format!("{field}-{text}"), &Map::new()),
                false => None,
            }
            .unwrap_or_else(|| text.clone())
            .into(),
            Value::Object(fields) => {
                let code = fields.get("code").and_then(Value::as_str);
                let id = code.map_or_else(|| field.clone(), |code| format!("{field}-{code}"));
                message(&id, fields).unwrap_or(id).into()
            }
            Value::Array(items) => {
                let one = name.strip_suffix('s').unwrap_or(name);
                let texts: Vec<String> = items.iter().map(|item| self.text(one, item)).collect();
                self.list(&texts).into()
            }
        }
    }

    fn text(&self, name: &str, value: &Value) -> String {
        match self.read(name, value) {
            FluentValue::String(text) => text.into_owned(),
            FluentValue::Number(number) => number.as_string().into_owned(),
            _ => String::new(),
        }
    }

    /// Whether a text can be a code: users' names and texts are never looked up.
    #[expect(clippy::unused_self, reason = "reads like the others")]
    fn is_code(&self, text: &str) -> bool {
        !text.is_empty()
            && text
                .bytes()
                .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
    }
}
