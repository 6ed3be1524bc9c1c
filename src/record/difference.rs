//! What differs between what was recorded and what is found now, number by number and word by word.

use serde::Serialize;
use serde_json::Value;

use super::knows::Knows;

/// Two numbers that differ by less than this share of the greater one were rounded differently by two machines: the functions
/// of a machine's mathematics library agree to some 10⁻¹⁵, and no measure or budget loses more than a few digits of that. They
/// are counted and told, and the numbers are called the same. Chosen here, no source.
pub const ROUNDING: f64 = 1e-9;

/// One thing that differs.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Difference {
    /// Where it stands in the record.
    pub key: String,
    /// As it was recorded; absent where it is new.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recorded: Option<Value>,
    /// As it is found now; absent where it is gone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<Value>,
}

/// All that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Differences<'a> {
    /// What differs by more than [`ROUNDING`].
    pub list: Vec<Difference>,
    /// How many numbers differ by no more than that.
    pub rounding: usize,
    /// What is found now and could not be found by the build that made the record.
    pub new: Vec<Difference>,
    /// What that build could find.
    knows: &'a Knows,
}

impl<'a> Differences<'a> {
    /// Nothing yet, from a build that knew this.
    #[must_use]
    pub const fn since(knows: &'a Knows) -> Self {
        Self {
            list: Vec::new(),
            rounding: 0,
            new: Vec::new(),
            knows,
        }
    }

    /// Adds what differs between two values that stand at the same place.
    pub fn add(&mut self, key: &str, recorded: &Value, now: &Value) {
        match (recorded, now) {
            _ if recorded == now => {}
            (Value::Object(old), Value::Object(new)) => {
                for (name, value) in old {
                    self.member(&join(key, name), Some(value), new.get(name));
                }
                for (name, value) in new.iter().filter(|(name, _)| !old.contains_key(*name)) {
                    self.added(&join(key, name), member(key), name, value);
                }
            }
            (Value::Array(old), Value::Array(new)) => self.items(key, old, new),
            (Value::Number(old), Value::Number(new)) => {
                let close = old.as_f64().zip(new.as_f64()).is_some_and(|(old, new)| {
                    (old - new).abs() <= ROUNDING * old.abs().max(new.abs())
                });
                if close {
                    self.rounding += usize::from(old.as_f64() != new.as_f64());
                } else {
                    self.push(key, Some(recorded), Some(now));
                }
            }
            _ => self.push(key, Some(recorded), Some(now)),
        }
    }

    fn member(&mut self, key: &str, recorded: Option<&Value>, now: Option<&Value>) {
        match (recorded, now) {
            (Some(recorded), Some(now)) => self.add(key, recorded, now),
            _ => self.push(key, recorded, now),
        }
    }

    /// Items are held against each other by their names, else by their places.
    fn items(&mut self, key: &str, old: &[Value], new: &[Value]) {
        let (old, new) = (named(old), named(new));
        for (name, value) in &old {
            let now = new.iter().find(|(other, _)| other == name);
            self.member(
                &format!("{key}[{name}]"),
                Some(value),
                now.map(|(_, it)| *it),
            );
        }
        for (name, value) in &new {
            if !old.iter().any(|(other, _)| other == name) {
                let code = code(value).unwrap_or_default();
                self.added(&format!("{key}[{name}]"), member(key), code, value);
            }
        }
    }

    /// What was not recorded: new since then if it could not be found then, else a difference.
    fn added(&mut self, key: &str, member: &str, code: &str, now: &Value) {
        if self.knows.could_find(member, code) {
            self.push(key, None, Some(now));
        } else {
            self.new.push(Difference {
                key: key.to_owned(),
                recorded: None,
                now: Some(now.clone()),
            });
        }
    }

    fn push(&mut self, key: &str, recorded: Option<&Value>, now: Option<&Value>) {
        self.list.push(Difference {
            key: key.to_owned(),
            recorded: recorded.cloned(),
            now: now.cloned(),
        });
    }
}

/// The last member in a key: `measures` in `logs[…].measured.measures`.
fn member(key: &str) -> &str {
    key.rsplit('.').next().unwrap_or(key)
}

/// The code of a fact.
fn code(fact: &Value) -> Option<&str> {
    fact.as_str().or_else(|| fact.get("code")?.as_str())
}

fn join(key: &str, name: &str) -> String {
    if key.is_empty() {
        name.to_owned()
    } else {
        format!("{key}.{name}")
    }
}

/// The items with their names; a name that comes again gets its place behind it.
fn named(items: &[Value]) -> Vec<(String, &Value)> {
    let mut all: Vec<(String, &Value)> = Vec::with_capacity(items.len());
    for (place, item) in items.iter().enumerate() {
        let name = name(item).unwrap_or_else(|| (place + 1).to_string());
        let again = all.iter().any(|(other, _)| *other == name);
        let name = if again {
            format!("{name}, {}", place + 1)
        } else {
            name
        };
        all.push((name, item));
    }
    all
}

/// What an item is called: a code by itself, the code of a fact with the log that it is about, a file, a log, a name, or a limit with
/// the test point.
fn name(item: &Value) -> Option<String> {
    if let Some(code) = code(item) {
        let log = item.get("log").and_then(Value::as_str);
        return Some(log.map_or_else(|| code.to_owned(), |log| format!("{code} in {log}")));
    }
    let source = item.get("source").and_then(code);
    let words = ["file", "log", "limit", "name"];
    let own = words.iter().find_map(|word| item.get(word)?.as_str());
    let own = own.or(source);
    let point = item.get("test_point").and_then(point);
    match (own, point) {
        // A file says where it was taken by itself.
        (Some(own), _) if item.get("file").is_some() => Some(own.to_owned()),
        (Some(own), Some(point)) => Some(format!("{own} at {point}")),
        (Some(own), None) => Some(own.to_owned()),
        (None, point) => point,
    }
}

fn point(point: &Value) -> Option<String> {
    let point: crate::limits::TestPoint = serde_json::from_value(point.clone()).ok()?;
    Some(point.key())
}
