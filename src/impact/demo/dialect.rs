//! The logs of the demo as text: the same hits as several loggers of our own invention would write them.

use std::fmt::Write as _;

use encoding_rs::WINDOWS_1252;

use super::yard::{Planned, Visit};
use crate::quantity::{ForceUnit, Newton};
use crate::trace::Trace;

/// How a log is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dialect {
    /// Commas, decimal points, seconds, newtons and the position of the leaf; UTF-8.
    Comma,
    /// Semicolons, decimal commas, German heads; Windows-1252.
    German,
    /// Tabs, milliseconds, a preamble; UTF-8.
    Tab,
    /// Tabs, seconds; UTF-16 with byte order mark.
    Wide,
    /// Commas, decimal points, kilograms-force.
    KilogramForce,
    /// Commas, decimal points, pounds-force.
    PoundForce,
}

/// What differs between the dialects' rows of numbers.
struct Form {
    delimiter: char,
    decimal_mark: char,
    newline: &'static str,
    unit: ForceUnit,
    force_decimals: usize,
    /// Time units to a second, and decimals of the time at 1 kHz.
    time: (f64, usize),
    position: Position,
}

#[derive(PartialEq)]
enum Position {
    Logged,
    NotLogged,
}

impl Dialect {
    /// Which logger was at hand for a place.
    pub(super) fn of(hit: Planned) -> Self {
        match (hit.gap_mm, hit.height_mm) {
            (50, 900) | (500, 1500) => Self::German,
            (50, 1500) => Self::Tab,
            (300, 50) => Self::Wide,
            (300, 1500) => Self::KilogramForce,
            (500, 900) => Self::PoundForce,
            _ => Self::Comma,
        }
    }

    /// Ending of the file's name.
    pub(super) const fn ending(self) -> &'static str {
        match self {
            Self::Tab | Self::Wide => "txt",
            Self::Comma | Self::German | Self::KilogramForce | Self::PoundForce => "csv",
        }
    }

    const fn form(self) -> Form {
        let plain = Form {
            delimiter: ',',
            decimal_mark: '.',
            newline: "\n",
            unit: ForceUnit::Newton,
            force_decimals: 1,
            time: (1.0, 3),
            position: Position::NotLogged,
        };
        match self {
            Self::Comma => Form {
                position: Position::Logged,
                ..plain
            },
            Self::German => Form {
                delimiter: ';',
                decimal_mark: ',',
                newline: "\r\n",
                ..plain
            },
            Self::Tab => Form {
                delimiter: '\t',
                time: (1e3, 0),
                newline: "\r\n",
                ..plain
            },
            Self::Wide => Form {
                delimiter: '\t',
                newline: "\r\n",
                ..plain
            },
            Self::KilogramForce => Form {
                unit: ForceUnit::KilogramForce,
                force_decimals: 2,
                ..plain
            },
            Self::PoundForce => Form {
                unit: ForceUnit::PoundForce,
                force_decimals: 2,
                ..plain
            },
        }
    }

    /// Step of the forces in the log.
    pub(super) fn resolution(self) -> Newton {
        let form = self.form();
        Newton(form.unit.newtons() / 10_f64.powi(form.force_decimals as i32))
    }

    /// The log as bytes; `range` is the greatest force that the gauge was set to show.
    pub(super) fn write(self, hit: Planned, trace: &Trace, rate_hz: u32, range: Newton) -> Vec<u8> {
        self.under(&self.head(hit, rate_hz, range), trace, rate_hz)
    }

    /// The rows of a record under a head, as bytes.
    pub(super) fn under(self, head: &str, trace: &Trace, rate_hz: u32) -> Vec<u8> {
        let form = self.form();
        let mut text = head.replace('\n', form.newline);
        rows(&mut text, &form, trace, rate_hz);
        match self {
            Self::German => WINDOWS_1252.encode(&text).0.into_owned(),
            Self::Wide => std::iter::once(0xfeff)
                .chain(text.encode_utf16())
                .flat_map(u16::to_le_bytes)
                .collect(),
            Self::Comma | Self::Tab | Self::KilogramForce | Self::PoundForce => text.into_bytes(),
        }
    }

    /// Everything above the first row of numbers. Each says that the gate does not exist.
    fn head(self, hit: Planned, rate_hz: u32, range: Newton) -> String {
        let Planned {
            gap_mm, height_mm, ..
        } = hit;
        let (day, german_day) = match hit.visit {
            Visit::First => ("2026-03-17", "17.03.2026"),
            Visit::AfterChange => ("2026-03-31", "31.03.2026"),
        };
        match self {
            Self::Comma => format!(
                "# Invented demo data: no such gate, orchard or gauge exists.\n\
                 # Quillmere Orchard, packing yard, {day}; gap {gap_mm} mm, height {height_mm} mm; range {} N\n\
                 time (s),force (N),leaf position (mm)\n",
                range.get()
            ),
            Self::German => format!(
                "Hinweis;Erfundene Vorführdaten, dieses Tor gibt es nicht\n\
                 Prüfer;A. Fennimore (erfunden)\n\
                 Datum;{german_day}\n\
                 Öffnungsweite;{gap_mm} mm\n\
                 Höhe;{height_mm} mm\n\
                 \n\
                 Zeit [s];Kraft [N]\n"
            ),
            Self::Tab => format!(
                "Note:\tinvented demo data, no such gate exists\n\
                 Gate:\tQuillmere Orchard, packing yard\n\
                 Day:\t{day}\n\
                 Sampling:\t{rate_hz} Hz\n\
                 \n\
                 t [ms]\tF [N]\n"
            ),
            Self::Wide => format!(
                "Invented demo data: no such gate exists\n\
                 Day\t{day}\n\
                 Time [s]\tForce [N]\n"
            ),
            Self::KilogramForce => format!(
                "# Invented demo data: no such gate, orchard or gauge exists. {day}\n\
                 Time (s),Force (kgf)\n"
            ),
            Self::PoundForce => format!(
                "# Invented demo data: no such gate, orchard or gauge exists. {day}\n\
                 Time (s),Force (lbf)\n"
            ),
        }
    }
}

fn rows(text: &mut String, form: &Form, trace: &Trace, rate_hz: u32) {
    let (scale, decimals) = form.time;
    let time_decimals = if rate_hz > 1000 {
        decimals + 1
    } else {
        decimals
    };
    let position = trace
        .position_mm
        .as_ref()
        .filter(|_| form.position == Position::Logged);
    let mut row = String::new();
    for index in 0..trace.len() {
        row.clear();
        let time = trace.times()[index] * scale;
        // Adding 0 turns a negative zero into a plain one.
        let force = trace.forces()[index] / form.unit.newtons() + 0.0;
        let _ = write!(
            row,
            "{time:.time_decimals$}{}{force:.*}",
            form.delimiter, form.force_decimals
        );
        if let Some(position) = position {
            let _ = write!(row, "{}{:.2}", form.delimiter, position[index] + 0.0);
        }
        if form.decimal_mark != '.' {
            row = row.replace('.', &form.decimal_mark.to_string());
        }
        text.push_str(&row);
        text.push_str(form.newline);
    }
}
