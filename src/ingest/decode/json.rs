//! JSON → a table: an object a row, from an array or from one object a line.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

use crate::ingest::tokens::cells::WIDEST;

/// The rows of a JSON document under their heads, parted by tabs; `None` for anything but objects of numbers, texts and logical values.
/// The heads are one line more than the document has.
pub(super) fn table(text: &[u8]) -> Option<Vec<u8>> {
    let text = text.trim_ascii();
    let mut table = Table::default();
    if text.starts_with(b"[") {
        let mut json = serde_json::Deserializer::from_slice(text);
        Rows(&mut table).deserialize(&mut json).ok()?;
        json.end().ok()?;
    } else if text.starts_with(b"{") {
        table.lines(text)?;
    }
    table.text()
}

/// The rows so far.
#[derive(Default)]
struct Table {
    heads: Vec<String>,
    rows: Vec<u8>,
    cells: Vec<String>,
    objects: usize,
}

impl Table {
    /// Reads one object a line; a line that is none stays as it is, unless there are many.
    fn lines(&mut self, text: &[u8]) -> Option<()> {
        const OFTEN: usize = 10;
        let mut others = 0;
        for line in text.split(|byte| *byte == b'\n') {
            let mut json = serde_json::Deserializer::from_slice(line);
            let read = Row(self).deserialize(&mut json).and_then(|()| json.end());
            if read.is_err() {
                self.cells.clear();
                self.rows.extend_from_slice(line.trim_ascii());
                self.rows.push(b'\n');
                others += usize::from(!line.trim_ascii().is_empty());
            }
        }
        (others * OFTEN <= self.objects).then_some(())
    }

    fn enter(&mut self, key: &str, value: String) -> bool {
        let at = self.heads.iter().position(|head| head == key);
        let at = at.unwrap_or_else(|| {
            self.heads.push(key.to_owned());
            self.heads.len() - 1
        });
        if self.cells.len() <= at {
            self.cells.resize(at + 1, String::new());
        }
        self.cells[at] = value;
        at < WIDEST
    }

    fn end_row(&mut self) {
        self.objects += 1;
        self.rows
            .extend_from_slice(self.cells.join("\t").as_bytes());
        self.rows.push(b'\n');
        self.cells.clear();
    }

    fn text(self) -> Option<Vec<u8>> {
        let heads: Vec<String> = self.heads.iter().map(|head| cell(head)).collect();
        let mut text = heads.join("\t").into_bytes();
        text.push(b'\n');
        text.extend_from_slice(&self.rows);
        (self.objects > 0).then_some(text)
    }
}

/// A text as one cell.
fn cell(text: &str) -> String {
    if text.contains(['\t', '\n', '\r', '"']) {
        format!(
            "\"{}\"",
            text.replace('"', "\"\"").replace(['\n', '\r'], " ")
        )
    } else {
        text.to_owned()
    }
}

struct Rows<'a>(&'a mut Table);

impl<'de> DeserializeSeed<'de> for Rows<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Rows<'_> {
    type Value = ();

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("objects")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<(), A::Error> {
        while rows.next_element_seed(Row(self.0))?.is_some() {}
        Ok(())
    }
}

struct Row<'a>(&'a mut Table);

impl<'de> DeserializeSeed<'de> for Row<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for Row<'_> {
    type Value = ();

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut members: A) -> Result<(), A::Error> {
        while let Some(key) = members.next_key::<String>()? {
            let value = members.next_value_seed(Scalar)?;
            if !self.0.enter(&key, value) {
                return Err(serde::de::Error::custom("wide"));
            }
        }
        self.0.end_row();
        Ok(())
    }
}

/// One value as a cell.
struct Scalar;

impl<'de> DeserializeSeed<'de> for Scalar {
    type Value = String;

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<String, D::Error> {
        json.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Scalar {
    type Value = String;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("value")
    }

    fn visit_i64<E>(self, value: i64) -> Result<String, E> {
        Ok(value.to_string())
    }

    fn visit_u64<E>(self, value: u64) -> Result<String, E> {
        Ok(value.to_string())
    }

    fn visit_f64<E>(self, value: f64) -> Result<String, E> {
        Ok(format!("{value:?}"))
    }

    fn visit_bool<E>(self, value: bool) -> Result<String, E> {
        Ok(value.to_string())
    }

    fn visit_str<E>(self, value: &str) -> Result<String, E> {
        Ok(cell(value))
    }

    fn visit_unit<E>(self) -> Result<String, E> {
        Ok(String::new())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut members: A) -> Result<String, A::Error> {
        while members.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
        Err(serde::de::Error::custom("nested"))
    }
}
