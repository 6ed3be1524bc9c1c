//! A value of the tree as serde reads it.
//!
//! The deserialiser of the `toml` crate builds every struct in three ways (with places, as a day, as a table). This one
//! builds it from a table and nothing else, and notes where it reads, so that an error needs no place of its own.

use std::cell::Cell;
use std::fmt;

use serde::de::value::StrDeserializer;
use serde::de::{
    self, DeserializeSeed, Deserializer, EnumAccess, Expected, IntoDeserializer, MapAccess,
    SeqAccess, Unexpected, VariantAccess, Visitor,
};
use toml::Spanned;
use toml::de::{DeFloat, DeInteger, DeString, DeValue};

/// What does not belong; where it stands is in the cell of the [`Node`].
#[derive(Debug)]
pub(super) struct Refusal(pub(super) String);

/// A key or a value of the tree.
#[derive(Clone, Copy)]
pub(super) enum Part<'t> {
    Key(&'t Spanned<DeString<'t>>),
    Value(&'t Spanned<DeValue<'t>>),
}

/// A value, and the cell that notes what is being read.
#[derive(Clone, Copy)]
pub(super) struct Node<'t> {
    value: &'t Spanned<DeValue<'t>>,
    reading: &'t Cell<Part<'t>>,
}

impl std::error::Error for Refusal {}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl de::Error for Refusal {
    fn custom<T: fmt::Display>(what: T) -> Self {
        Self(what.to_string())
    }
}

impl<'t> Node<'t> {
    pub(super) const fn new(value: &'t Spanned<DeValue<'t>>, reading: &'t Cell<Part<'t>>) -> Self {
        Self { value, reading }
    }

    /// Notes that this value is being read.
    fn entered(self) -> &'t DeValue<'t> {
        self.reading.set(Part::Value(self.value));
        self.value.get_ref()
    }

    /// Notes that this key is being read.
    fn at_key(self, key: &'t Spanned<DeString<'t>>) -> StrDeserializer<'t, Refusal> {
        self.reading.set(Part::Key(key));
        let key: &str = key.get_ref();
        key.into_deserializer()
    }

    fn entries(self) -> Option<Entries<'t>> {
        let table = self.entered().as_table()?;
        Some(Entries {
            rest: Box::new(table.iter()),
            table: self,
            value: None,
        })
    }

    fn items(self) -> Option<Items<'t>> {
        let rest = self.entered().as_array()?.iter();
        Some(Items { rest, list: self })
    }

    /// A word, or a table of one key: the word of a choice, and what belongs to it.
    fn choice(self) -> Result<Choice<'t>, Option<Refusal>> {
        match self.entered() {
            DeValue::String(word) => Ok(Choice {
                word: word.as_ref().into_deserializer(),
                content: None,
            }),
            DeValue::Table(table) => {
                let mut entries = table.iter();
                let (Some((key, value)), None) = (entries.next(), entries.next()) else {
                    let found = table.len();
                    let what = format!("a table of {found} keys, expected exactly one");
                    return Err(Some(Refusal(what)));
                };
                Ok(Choice {
                    word: self.at_key(key),
                    content: Some(Self::new(value, self.reading)),
                })
            }
            _ => Err(None),
        }
    }

    #[cold]
    fn wrong(self, expected: &dyn Expected) -> Refusal {
        let day;
        let found = match self.value.get_ref() {
            DeValue::String(text) => Unexpected::Str(text),
            DeValue::Integer(number) => match whole(number) {
                Ok(Whole::Signed(number)) => Unexpected::Signed(number),
                Ok(Whole::Unsigned(number)) => Unexpected::Unsigned(number),
                Err(refusal) => return refusal,
            },
            DeValue::Float(number) => {
                Unexpected::Float(number.as_str().parse().unwrap_or(f64::NAN))
            }
            DeValue::Boolean(switch) => Unexpected::Bool(*switch),
            DeValue::Datetime(found) => {
                day = found.to_string();
                Unexpected::Other(&day)
            }
            DeValue::Array(_) => Unexpected::Seq,
            DeValue::Table(_) => Unexpected::Map,
        };
        de::Error::invalid_type(found, expected)
    }
}

enum Whole {
    Signed(i64),
    Unsigned(u64),
}

fn whole(number: &DeInteger<'_>) -> Result<Whole, Refusal> {
    let (text, radix) = (number.as_str(), number.radix());
    let signed = i64::from_str_radix(text, radix).map(Whole::Signed);
    signed
        .or_else(|_| u64::from_str_radix(text, radix).map(Whole::Unsigned))
        .map_err(|_| Refusal(format!("the whole number {number} has too many digits")))
}

fn float(number: &DeFloat<'_>) -> Result<f64, Refusal> {
    let text = number.as_str();
    let usable = |value: &f64| value.is_finite() || text.ends_with("inf") || text.ends_with("nan");
    let value = text.parse().ok().filter(usable);
    value.ok_or_else(|| Refusal(format!("the number {text} is too great")))
}

impl<'de> Deserializer<'de> for Node<'_> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.entered() {
            DeValue::String(text) => visitor.visit_str(text),
            DeValue::Integer(number) => match whole(number)? {
                Whole::Signed(number) => visitor.visit_i64(number),
                Whole::Unsigned(number) => visitor.visit_u64(number),
            },
            DeValue::Float(number) => visitor.visit_f64(float(number)?),
            DeValue::Boolean(switch) => visitor.visit_bool(*switch),
            DeValue::Datetime(day) => visitor.visit_str(&day.to_string()),
            DeValue::Array(_) => self.deserialize_seq(visitor),
            DeValue::Table(_) => self.deserialize_map(visitor),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.entries() {
            Some(entries) => visitor.visit_map(entries),
            None => Err(self.wrong(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.deserialize_map(visitor)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.items() {
            Some(items) => visitor.visit_seq(items),
            None => Err(self.wrong(&visitor)),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        match self.choice() {
            Ok(choice) => visitor.visit_enum(choice),
            Err(refusal) => Err(refusal.unwrap_or_else(|| self.wrong(&visitor))),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        visitor.visit_newtype_struct(self)
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct identifier
        ignored_any
    }
}

/// The keys of a table and their values.
struct Entries<'t> {
    rest: Box<dyn Iterator<Item = (&'t Spanned<DeString<'t>>, &'t Spanned<DeValue<'t>>)> + 't>,
    table: Node<'t>,
    value: Option<Node<'t>>,
}

impl<'de> MapAccess<'de> for Entries<'_> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Refusal> {
        let Some((key, value)) = self.rest.next() else {
            // What is missing is missing in the table.
            self.table.entered();
            return Ok(None);
        };
        self.value = Some(Node::new(value, self.table.reading));
        seed.deserialize(self.table.at_key(key)).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Refusal> {
        // serde asks for a value after its key only; should it not, it gets the table.
        seed.deserialize(self.value.take().unwrap_or(self.table))
    }
}

/// The items of a list.
struct Items<'t> {
    rest: std::slice::Iter<'t, Spanned<DeValue<'t>>>,
    list: Node<'t>,
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Refusal;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Refusal> {
        let Some(item) = self.rest.next() else {
            self.list.entered();
            return Ok(None);
        };
        let node = Node::new(item, self.list.reading);
        seed.deserialize(node).map(Some)
    }
}

/// One of several choices, by its word.
struct Choice<'t> {
    word: StrDeserializer<'t, Refusal>,
    content: Option<Node<'t>>,
}

impl Choice<'_> {
    fn lacking(expected: &str) -> Refusal {
        de::Error::invalid_type(Unexpected::UnitVariant, &expected)
    }
}

impl<'de> EnumAccess<'de> for Choice<'_> {
    type Error = Refusal;
    type Variant = Self;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<(S::Value, Self), Refusal> {
        Ok((seed.deserialize(self.word)?, self))
    }
}

impl<'de> VariantAccess<'de> for Choice<'_> {
    type Error = Refusal;

    fn unit_variant(self) -> Result<(), Refusal> {
        self.content.map_or(Ok(()), |content| {
            content.entered();
            Err(content.wrong(&"the word alone"))
        })
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, Refusal> {
        let content = self
            .content
            .ok_or_else(|| Self::lacking("a value with it"))?;
        seed.deserialize(content)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        let content = self
            .content
            .ok_or_else(|| Self::lacking("a list with it"))?;
        content.deserialize_seq(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let content = self
            .content
            .ok_or_else(|| Self::lacking("a table with it"))?;
        content.deserialize_map(visitor)
    }
}
