//! The form of a gate file: keys, kinds of values, words, days and the bounds of numbers, held against the JSON Schema
//! that comes from the structs. So what an editor completes and what the reader accepts cannot drift apart, and every
//! fault of form is found in one go.

use std::ops::Range;

use jiff::civil::Date;
use serde_json::Value;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::likely::{nearest, slip, unit};
use super::problem::{Bounds, Found, Kind, MOST_PROBLEMS, Wanted};
use super::warning::Warning;
use crate::toml_tree::{item as item_of, within};

/// Problems after which the rest of a file is not looked at: they are put into its order, and the first of them are told.
const ENOUGH: usize = 10 * MOST_PROBLEMS;

/// A walk over a gate file beside its schema.
pub(super) struct Form<'s> {
    schema: &'s Value,
    pub(super) problems: Vec<(Kind, Range<usize>)>,
    pub(super) warnings: Vec<(Warning, Range<usize>)>,
}

impl<'s> Form<'s> {
    /// Walks the whole file.
    pub(super) fn of(root: &DeValue<'_>, schema: &'s Value) -> Self {
        let mut form = Self {
            schema,
            problems: Vec::new(),
            warnings: Vec::new(),
        };
        if let Some(root) = root.as_table() {
            form.section(root, schema, "", &(0..0));
        }
        form
    }

    /// Holds a section and all below it against its shape. `path` is empty for the whole file; `at` is the section's place.
    fn section(&mut self, table: &DeTable<'_>, shape: &Value, path: &str, at: &Range<usize>) {
        let none = serde_json::Map::new();
        let keys = shape["properties"].as_object().unwrap_or(&none);
        let free = &shape["additionalProperties"];
        let mut meant = Vec::new();
        for (key, value) in table {
            if self.problems.len() >= ENOUGH {
                return;
            }
            let name = within(path, key.get_ref());
            if let Some(shape) = keys.get(key.get_ref().as_ref()) {
                self.value(value, shape, &name);
            } else if free.is_object() {
                self.setting(value, &name);
            } else {
                meant.extend(self.unknown(key, value.get_ref(), keys, path));
            }
        }
        for key in shape["required"].as_array().into_iter().flatten() {
            let there = |key: &&str| table.contains_key(*key) || meant.iter().any(|it| it == key);
            let Some(key) = key.as_str().filter(|key| !there(key)) else {
                continue;
            };
            let what = first_sentence(&keys[key]);
            let kind = if keys[key]["type"] == "object" {
                let section = within(path, key);
                Kind::MissingSection { section, what }
            } else {
                Kind::MissingKey {
                    section: path.to_owned(),
                    key: key.to_owned(),
                    what,
                    words: words(&keys[key]),
                }
            };
            self.problems.push((kind, at.clone()));
        }
    }

    /// Notes a key that no section has, and returns the key that was likely meant.
    fn unknown(
        &mut self,
        key: &Spanned<DeString<'_>>,
        value: &DeValue<'_>,
        keys: &serde_json::Map<String, Value>,
        path: &str,
    ) -> Option<String> {
        let sections = value.is_table();
        let alike = keys
            .iter()
            .filter(|(_, shape)| (shape["type"] == "object") == sections);
        let known: Vec<String> = alike.map(|(key, _)| key.clone()).collect();
        let nearest = nearest(key.get_ref(), &known);
        let meant = nearest.clone();
        let kind = if sections {
            let section = within(path, key.get_ref());
            Kind::UnknownSection {
                section,
                nearest,
                known,
            }
        } else {
            let (section, key) = (path.to_owned(), key.get_ref().to_string());
            Kind::UnknownKey {
                home: self.home(&key),
                section,
                key,
                nearest,
                known,
            }
        };
        self.problems.push((kind, key.span()));
        meant
    }

    /// The section that has this key.
    fn home(&self, key: &str) -> Option<String> {
        let mut sections = self.schema["properties"].as_object()?.iter();
        let home = sections.find(|(_, shape)| shape["properties"].get(key).is_some());
        home.map(|(section, _)| section.clone())
    }

    fn value(&mut self, value: &Spanned<DeValue<'_>>, shape: &Value, key: &str) {
        let span = value.span();
        let wanted = wanted(shape);
        match (value.get_ref(), wanted) {
            (DeValue::Table(table), Wanted::Table) => self.section(table, shape, key, &span),
            (DeValue::Array(items), Wanted::List) => {
                for (index, item) in items.iter().enumerate() {
                    self.value(item, &shape["items"], &item_of(key, index + 1));
                }
            }
            (DeValue::String(text), Wanted::Text) => self.text(text, shape, key, span),
            (DeValue::String(text), Wanted::Day) => {
                if text.parse::<Date>().is_err() || text.len() != "2026-03-02".len() {
                    let (key, text) = (key.to_owned(), text.to_string());
                    self.problems.push((Kind::NotADay { key, text }, span));
                }
            }
            (DeValue::Datetime(day), Wanted::Day) if day.time.is_none() => {}
            (DeValue::Boolean(_), Wanted::Switch) => {}
            (DeValue::Integer(_) | DeValue::Float(_), Wanted::Number)
            | (DeValue::Integer(_), Wanted::WholeNumber) => {
                self.number(value.get_ref(), shape, key, span);
            }
            (found, wanted) => {
                let kind = Kind::WrongKind {
                    key: key.to_owned(),
                    found: kind_of(found),
                    wanted,
                    unit: unit(key),
                };
                self.problems.push((kind, span));
            }
        }
    }

    fn text(&mut self, text: &str, shape: &Value, key: &str, span: Range<usize>) {
        let words = words(shape);
        let key = key.to_owned();
        if words.is_empty() {
            let lines = shape["lines"] == "many";
            let control = |c: &char| c.is_control() && !(lines && matches!(c, '\n' | '\r' | '\t'));
            if text.trim().is_empty() {
                self.problems.push((Kind::Blank { key }, span));
            } else if let Some(character) = text.chars().find(control) {
                self.problems
                    .push((Kind::ControlCharacter { key, character }, span));
            }
        } else if !words.iter().any(|word| word == text) {
            let kind = Kind::UnknownWord {
                key,
                word: text.to_owned(),
                nearest: nearest(text, &words),
                words,
            };
            self.problems.push((kind, span));
        }
    }

    fn number(&mut self, value: &DeValue<'_>, shape: &Value, key: &str, span: Range<usize>) {
        let (text, value) = number(value);
        let unit = unit(key);
        let key = key.to_owned();
        if !value.is_finite() {
            self.problems
                .push((Kind::NotFinite { key, text, unit }, span));
            return;
        }
        let bounds = Bounds {
            above: shape["exclusiveMinimum"].as_f64(),
            least: shape["minimum"].as_f64(),
            most: shape["maximum"].as_f64(),
        };
        let usual = shape["plausible"][0]
            .as_f64()
            .zip(shape["plausible"][1].as_f64());
        let slip = usual.and_then(|usual| slip(unit, value, usual));
        let outside = bounds.above.is_some_and(|above| value <= above)
            || bounds.least.is_some_and(|least| value < least)
            || bounds.most.is_some_and(|most| value > most);
        if outside {
            let kind = Kind::OutOfRange {
                key,
                value,
                unit,
                bounds,
                slip,
            };
            self.problems.push((kind, span));
        } else if let Some(usual) = usual.filter(|usual| value < usual.0 || value > usual.1) {
            let warning = Warning::Unusual {
                key,
                value,
                unit,
                usual_from: usual.0,
                usual_to: usual.1,
                slip,
            };
            self.warnings.push((warning, span));
        }
    }

    /// A setting of the drive: a number, a text or a switch under any key.
    fn setting(&mut self, value: &Spanned<DeValue<'_>>, key: &str) {
        let span = value.span();
        let key = key.to_owned();
        match value.get_ref() {
            DeValue::String(text) => {
                if let Some(character) = text.chars().find(|c| c.is_control()) {
                    self.problems
                        .push((Kind::ControlCharacter { key, character }, span));
                }
            }
            DeValue::Boolean(_) | DeValue::Integer(_) => {}
            DeValue::Float(_) => {
                let (text, number) = number(value.get_ref());
                if !number.is_finite() {
                    let unit = None;
                    self.problems
                        .push((Kind::NotFinite { key, text, unit }, span));
                }
            }
            found @ (DeValue::Datetime(_) | DeValue::Array(_) | DeValue::Table(_)) => {
                let kind = Kind::WrongKind {
                    key,
                    found: kind_of(found),
                    wanted: Wanted::Setting,
                    unit: None,
                };
                self.problems.push((kind, span));
            }
        }
    }
}

fn wanted(shape: &Value) -> Wanted {
    match shape["type"].as_str() {
        Some("object") => Wanted::Table,
        Some("array") => Wanted::List,
        Some("number") => Wanted::Number,
        Some("integer") => Wanted::WholeNumber,
        Some("boolean") => Wanted::Switch,
        _ if shape["format"] == "date" => Wanted::Day,
        _ => Wanted::Text,
    }
}

/// The words a text must be one of; empty for free text.
fn words(shape: &Value) -> Vec<String> {
    let single = |shape: &Value| -> Vec<String> {
        let listed = shape["enum"].as_array().into_iter().flatten();
        let words = listed.chain(shape.get("const"));
        words.filter_map(Value::as_str).map(str::to_owned).collect()
    };
    let choices = shape["oneOf"].as_array().into_iter().flatten();
    let mut words = single(shape);
    words.extend(choices.flat_map(single));
    words
}

fn number(value: &DeValue<'_>) -> (String, f64) {
    let (text, radix) = match value {
        DeValue::Integer(number) => (number.as_str(), number.radix()),
        DeValue::Float(number) => (number.as_str(), 10),
        _ => ("", 10),
    };
    let plain = text.replace('_', "");
    let value = if radix == 10 {
        plain.parse().unwrap_or(f64::NAN)
    } else {
        i64::from_str_radix(&plain, radix).map_or(f64::NAN, |whole| whole as f64)
    };
    (text.to_owned(), value)
}

fn kind_of(value: &DeValue<'_>) -> Found {
    match value {
        DeValue::String(text) => Found::Text(text.to_string()),
        DeValue::Integer(_) | DeValue::Float(_) => Found::Number(number(value).0),
        DeValue::Boolean(switch) => Found::Switch(*switch),
        DeValue::Datetime(day) => Found::Day(day.to_string()),
        DeValue::Array(_) => Found::List,
        DeValue::Table(_) => Found::Table,
    }
}

/// What a key says, from its description, without the full stop.
fn first_sentence(shape: &Value) -> String {
    let description = shape["description"].as_str().unwrap_or_default();
    let line = description.replace('\n', " ");
    let sentence = line
        .split_once(". ")
        .map_or(line.as_str(), |(first, _)| first);
    sentence.trim_end_matches('.').to_owned()
}
