//! A workbook → its one sheet with numbers, as text: a line a row, cells parted by tabs.

use super::Unpacked;
use crate::ingest::ReadError;

/// Without the feature `xlsx` a workbook is refused.
#[cfg(not(feature = "xlsx"))]
pub(in crate::ingest) fn text(_bytes: &[u8]) -> Result<Unpacked<'static>, ReadError> {
    Err(ReadError::Workbook)
}

#[cfg(feature = "xlsx")]
pub(in crate::ingest) use sheet::text;

#[cfg(feature = "xlsx")]
mod sheet {
    use std::borrow::Cow;
    use std::fmt::Write as _;
    use std::io::Cursor;

    use calamine::{DataRef, Reader, Xlsx};
    use jiff::SignedDuration;
    use jiff::civil::date;

    use super::super::MOST_UNPACKED;
    use super::{ReadError, Unpacked};
    use crate::ingest::tokens::cells::WIDEST;
    use crate::trace::Container;

    fn refused(error: &calamine::XlsxError) -> ReadError {
        ReadError::Container {
            container: "workbook",
            reason: error.to_string(),
        }
    }

    /// The one sheet that has numbers; its row numbers are the line numbers.
    pub(in crate::ingest) fn text(bytes: &[u8]) -> Result<Unpacked<'static>, ReadError> {
        let mut workbook: Xlsx<_> =
            calamine::open_workbook_from_rs(Cursor::new(bytes)).map_err(|error| refused(&error))?;
        let mut found = Vec::new();
        for name in workbook.sheet_names() {
            if let Some(text) = sheet(&mut workbook, &name)? {
                found.push((name, text));
            }
        }
        if found.len() != 1 {
            return Err(ReadError::NotOneSheet {
                names: found.into_iter().map(|(name, _)| name).collect(),
            });
        }
        let (name, text) = found.remove(0);
        Ok(Unpacked {
            bytes: Cow::Owned(text.into_bytes()),
            from: Some(Container::Workbook { sheet: name }),
            left_out: Vec::new(),
        })
    }

    /// A sheet as text; `None` if it has no number.
    fn sheet(workbook: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Option<String>, ReadError> {
        let mut cells = workbook
            .worksheet_cells_reader(name)
            .map_err(|error| refused(&error))?;
        let (mut text, mut numbers) = (String::new(), 0_usize);
        let (mut row, mut column) = (0, 0);
        while let Some(cell) = cells.next_cell().map_err(|error| refused(&error))? {
            let (at_row, at_column) = cell.get_position();
            if at_column as usize >= WIDEST {
                return Err(ReadError::TooManyCells {
                    line: u64::from(at_row) + 1,
                    most: WIDEST,
                });
            }
            if at_row > row {
                text.extend(std::iter::repeat_n('\n', (at_row - row) as usize));
                (row, column) = (at_row, 0);
            }
            text.extend(std::iter::repeat_n(
                '\t',
                at_column.saturating_sub(column) as usize,
            ));
            column = at_column;
            numbers += usize::from(matches!(
                cell.get_value(),
                DataRef::Float(_) | DataRef::Int(_)
            ));
            write_cell(&mut text, cell.get_value());
            if text.len() as u64 > MOST_UNPACKED {
                return Err(ReadError::TooLarge {
                    container: "workbook",
                    most: MOST_UNPACKED,
                });
            }
        }
        text.push('\n');
        Ok((numbers > 0).then_some(text))
    }

    fn write_cell(text: &mut String, value: &DataRef<'_>) {
        match value {
            DataRef::Int(number) => _ = write!(text, "{number}"),
            DataRef::Float(number) => _ = write!(text, "{number:?}"),
            DataRef::String(words) => quoted(text, words),
            DataRef::SharedString(words) => quoted(text, words),
            DataRef::Bool(value) => _ = write!(text, "{value}"),
            DataRef::DateTime(instant) => stamp(text, instant.as_f64()),
            DataRef::DateTimeIso(words) | DataRef::DurationIso(words) => quoted(text, words),
            DataRef::Error(error) => _ = write!(text, "{error}"),
            DataRef::Empty => {}
        }
    }

    fn quoted(text: &mut String, words: &str) {
        if words.contains(['\t', '\n', '\r', '"']) {
            let _ = write!(text, "\"{}\"", words.replace('"', "\"\""));
        } else {
            text.push_str(words);
        }
    }

    /// A serial day as a clock stamp, to the microsecond, which a double of some 45 000 days can hold.
    fn stamp(text: &mut String, days: f64) {
        let micros = (days.fract() * 86_400e6).round();
        let whole = days.trunc();
        if !(0.0..3e6).contains(&whole) {
            let _ = write!(text, "{days:?}");
            return;
        }
        let day = date(1899, 12, 30).checked_add(SignedDuration::from_hours(24 * whole as i64));
        let micros = micros as u64;
        let (seconds, micros) = (micros / 1_000_000, micros % 1_000_000);
        if let (true, Ok(day)) = (whole > 0.0, day) {
            let _ = write!(text, "{day} ");
        }
        let (hours, minutes) = (seconds / 3600, seconds / 60 % 60);
        let _ = write!(
            text,
            "{hours:02}:{minutes:02}:{:02}.{micros:06}",
            seconds % 60
        );
    }
}
