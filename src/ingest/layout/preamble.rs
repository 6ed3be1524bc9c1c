//! The lines above the columns: what they declare about rate, count, marks, units and how the log was taken.

use super::rate::rate;
use super::says::Says;
use crate::ingest::tokens::cells::{Line, shown};
use crate::ingest::tokens::delimiter::{Delimiter, Mark};
use crate::ingest::tokens::units::{self, Measured};
use crate::quantity::{ForceUnit, TimeUnit};

/// What the lines above the columns declare.
#[derive(Clone, Debug, Default)]
pub(in crate::ingest) struct Preamble {
    /// Sampling rate in hertz, with the line that says so.
    pub(in crate::ingest) rate: Option<Declared<f64>>,
    /// A second rate that differs from the first.
    pub(in crate::ingest) other_rate: Option<Declared<f64>>,
    /// Number of rows.
    pub(in crate::ingest) rows: Option<Declared<u64>>,
    pub(in crate::ingest) delimiter: Option<Delimiter>,
    pub(in crate::ingest) mark: Option<Mark>,
    /// Units in the order of the columns, from a line that names them so.
    pub(in crate::ingest) units: Vec<String>,
    /// The mark between them.
    pub(in crate::ingest) units_by: Option<char>,
    pub(in crate::ingest) force_unit: Option<Declared<ForceUnit>>,
    pub(in crate::ingest) time_unit: Option<Declared<TimeUnit>>,
    /// How the log was taken.
    pub(in crate::ingest) says: Says,
    /// Whether two lines name different units of force: then neither counts.
    two_force_units: bool,
}

/// A declared value and where it is declared.
#[derive(Clone, Debug)]
pub(in crate::ingest) struct Declared<T> {
    pub(in crate::ingest) value: T,
    pub(in crate::ingest) line: u64,
    pub(in crate::ingest) text: String,
}

impl Preamble {
    /// Reads every line above the first row.
    pub(in crate::ingest) fn read(lines: &[Line<'_>]) -> Self {
        let mut preamble = Self::default();
        for line in lines {
            let number = matches!(
                line.text.first(),
                None | Some(b'0'..=b'9' | b'-' | b'+' | b'.' | b'\t' | b',')
            );
            if line.text.len() < 4096 && !number {
                preamble.line(line.number, &String::from_utf8_lossy(line.text));
            }
        }
        if preamble.two_force_units {
            preamble.force_unit = None;
        }
        preamble
    }

    fn line(&mut self, number: u64, text: &str) {
        let plain = text
            .trim()
            .trim_start_matches(['#', '%', '!', '*', '/'])
            .trim();
        let (key, value) = key_and_value(plain);
        self.marks(&key, value);
        self.units(number, &key, value, text);
        if let Some(rate) = rate(plain, self.mark) {
            let found = Declared {
                value: rate,
                line: number,
                text: shown(plain.as_bytes()),
            };
            match &self.rate {
                Some(first) if (first.value - rate).abs() > 1e-3 * rate => {
                    self.other_rate = Some(found);
                }
                Some(_) => {}
                None => self.rate = Some(found),
            }
        }
        if let Some(rows) = rows(&key, value) {
            self.rows.get_or_insert(Declared {
                value: rows,
                line: number,
                text: shown(plain.as_bytes()),
            });
        }
        self.says.line(plain, &key, value);
    }

    fn marks(&mut self, key: &str, value: &str) {
        let first = value.chars().next();
        match key {
            "sep" => {
                self.delimiter = first
                    .filter(char::is_ascii)
                    .map(|c| Delimiter::Byte(c as u8));
            }
            "separator" | "delimiter" | "trennzeichen" | "field separator" => {
                self.delimiter = match value.trim().to_lowercase().as_str() {
                    "tab" | "tabulator" | "\\t" => Some(Delimiter::Byte(b'\t')),
                    "comma" | "komma" | "," => Some(Delimiter::Byte(b',')),
                    "semicolon" | "semikolon" | ";" => Some(Delimiter::Byte(b';')),
                    _ => None,
                };
            }
            "decimal separator"
            | "decimal mark"
            | "decimal"
            | "decimal symbol"
            | "dezimaltrennzeichen"
            | "dezimalzeichen" => {
                self.mark = match value.trim().to_lowercase().as_str() {
                    "." | "point" | "punkt" | "dot" => Some(Mark::Point),
                    "," | "comma" | "komma" => Some(Mark::Comma),
                    _ => None,
                };
            }
            _ => {}
        }
    }

    fn units(&mut self, number: u64, key: &str, value: &str, text: &str) {
        if !["unit", "einheit", "unité", "unidad"]
            .iter()
            .any(|word| key.contains(word))
        {
            return;
        }
        let cells: Vec<&str> = text.split(['\t', ';', ',']).map(str::trim).collect();
        let label = !cells[0].contains([':', '=']) && cells[0].split_whitespace().count() <= 2;
        if label && cells.len() > 2 && cells[2..].iter().any(|cell| !cell.is_empty()) {
            self.units_by = text.chars().find(|c| matches!(c, '\t' | ';' | ','));
            self.units = cells
                .iter()
                .enumerate()
                .map(|(at, cell)| if at == 0 { "" } else { *cell }.to_owned())
                .collect();
            return;
        }
        let value = value.trim().trim_matches(['"', ';', ',', '\t']);
        match units::measured(value) {
            Some(Measured::Force(unit) | Measured::Weight(unit)) if !key.contains("time") => {
                let found = Declared {
                    value: unit,
                    line: number,
                    text: value.to_owned(),
                };
                self.two_force_units |= self.force_unit.as_ref().is_some_and(|it| it.value != unit);
                self.force_unit = Some(found);
            }
            Some(Measured::Time(unit)) if key.contains("time") || key.contains("zeit") => {
                self.time_unit = Some(Declared {
                    value: unit,
                    line: number,
                    text: value.to_owned(),
                });
            }
            _ => {}
        }
    }
}

/// A line as `key: value`; the key in lower case with blanks for underscores.
fn key_and_value(text: &str) -> (String, &str) {
    let (key, value) = text
        .split_once(['=', '\t', ';', ':', ','])
        .or_else(|| text.split_once(' '))
        .unwrap_or((text, ""));
    let key = key
        .trim()
        .trim_matches('"')
        .to_lowercase()
        .replace(['_', '-'], " ");
    (key, value.trim().trim_matches('"'))
}

/// A declared number of rows.
fn rows(key: &str, value: &str) -> Option<u64> {
    const KEYS: [&str; 16] = [
        "samples",
        "nrows",
        "datarows",
        "data rows",
        "rows",
        "number of samples",
        "sample count",
        "points",
        "npoints",
        "data points",
        "number of points",
        "anzahl",
        "anzahl messwerte",
        "messwerte",
        "anzahl werte",
        "number of rows",
    ];
    if !KEYS.contains(&key) {
        return None;
    }
    let word: String = value.chars().take_while(char::is_ascii_digit).collect();
    let rest = value[word.len()..].trim_start_matches([' ', '\t', ';', ',', '"']);
    let alone = rest.is_empty() || rest.starts_with(|c: char| c.is_ascii_digit());
    alone.then(|| word.parse().ok()).flatten()
}
