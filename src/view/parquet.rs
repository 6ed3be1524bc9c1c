//! Tables as Parquet: typed columns, nulls where there is no value, Snappy.

use std::io::Write;
use std::sync::Arc;

use jiff::civil::{Date, date};
use parquet::basic::{Compression, LogicalType, Repetition, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DoubleType, Int32Type, Int64Type};
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedColumnWriter, SerializedFileWriter};
use parquet::schema::types::{Type, TypePtr};

use super::column::{Cell, Columns, Kind, cells, columns};

pub use parquet::errors::ParquetError;

/// Rows that are kept in memory before they are written as one group.
const GROUP: usize = 65_536;

/// A table as Parquet, written group by group.
///
/// Text is UTF-8 (`BYTE_ARRAY`, String), numbers are `DOUBLE`, whole numbers `INT64`, days `INT32` (Date, days from
/// 1970-01-01), true or false `BOOLEAN`. Every column may be null.
pub struct ParquetTable<W: Write + Send> {
    writer: SerializedFileWriter<W>,
    buffers: Vec<Buffer>,
    rows: usize,
}

/// The values of one column that are not written yet, and for each row whether it has one.
struct Buffer {
    values: Values,
    there: Vec<i16>,
}

enum Values {
    Text(Vec<ByteArray>),
    Number(Vec<f64>),
    Whole(Vec<i64>),
    Day(Vec<i32>),
    Flag(Vec<bool>),
}

impl<W: Write + Send> ParquetTable<W> {
    /// A table of rows of one type.
    ///
    /// # Errors
    /// [`ParquetError`] of the writer.
    pub fn of<Row: Columns>(to: W) -> Result<Self, ParquetError> {
        let columns = columns::<Row>();
        let fields: Result<Vec<TypePtr>, ParquetError> = columns
            .iter()
            .map(|column| field(column.name, column.kind).map(Arc::new))
            .collect();
        let schema = Type::group_type_builder("relent")
            .with_fields(fields?)
            .build()?;
        let properties = WriterProperties::builder()
            .set_compression(Compression::SNAPPY)
            .set_created_by(concat!("relent ", env!("CARGO_PKG_VERSION")).to_owned())
            .build();
        let buffers = columns.iter().map(|column| Buffer::new(column.kind));
        Ok(Self {
            writer: SerializedFileWriter::new(to, Arc::new(schema), Arc::new(properties))?,
            buffers: buffers.collect(),
            rows: 0,
        })
    }

    /// Takes in a row.
    ///
    /// # Errors
    /// [`ParquetError`] of the writer.
    pub fn add<Row: Columns>(&mut self, row: &Row) -> Result<(), ParquetError> {
        for (buffer, cell) in self.buffers.iter_mut().zip(cells(row)) {
            buffer.push(cell)?;
        }
        self.rows += 1;
        if self.rows == GROUP {
            self.flush()?;
        }
        Ok(())
    }

    fn flush(&mut self) -> Result<(), ParquetError> {
        let mut group = self.writer.next_row_group()?;
        for buffer in &mut self.buffers {
            if let Some(mut column) = group.next_column()? {
                buffer.write(&mut column)?;
                column.close()?;
            }
            buffer.clear();
        }
        group.close()?;
        self.rows = 0;
        Ok(())
    }

    /// Ends the table and gives back what it was written to.
    ///
    /// # Errors
    /// [`ParquetError`] of the last bytes.
    pub fn finish(mut self) -> Result<W, ParquetError> {
        if self.rows > 0 {
            self.flush()?;
        }
        self.writer.into_inner()
    }
}

fn field(name: &str, kind: Kind) -> Result<Type, ParquetError> {
    let (physical, logical) = match kind {
        Kind::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
        Kind::Number => (Physical::DOUBLE, None),
        Kind::Whole => (Physical::INT64, None),
        Kind::Day => (Physical::INT32, Some(LogicalType::Date)),
        Kind::Flag => (Physical::BOOLEAN, None),
    };
    Type::primitive_type_builder(name, physical)
        .with_repetition(Repetition::OPTIONAL)
        .with_logical_type(logical)
        .build()
}

impl Buffer {
    fn new(kind: Kind) -> Self {
        let values = match kind {
            Kind::Text => Values::Text(Vec::new()),
            Kind::Number => Values::Number(Vec::new()),
            Kind::Whole => Values::Whole(Vec::new()),
            Kind::Day => Values::Day(Vec::new()),
            Kind::Flag => Values::Flag(Vec::new()),
        };
        Self {
            values,
            there: Vec::new(),
        }
    }

    fn push(&mut self, cell: Cell<'_>) -> Result<(), ParquetError> {
        let there = match (&mut self.values, cell) {
            (Values::Text(into), Cell::Text(text)) => {
                keep(into, text.map(|it| it.into_owned().into_bytes().into()))
            }
            (Values::Number(into), Cell::Number(number)) => keep(into, number),
            (Values::Whole(into), Cell::Whole(number)) => keep(into, number),
            (Values::Day(into), Cell::Day(day)) => keep(into, day.map(days)),
            (Values::Flag(into), Cell::Flag(flag)) => keep(into, flag),
            _ => {
                let what = "a cell is not of the kind of its column";
                return Err(ParquetError::General(what.to_owned()));
            }
        };
        self.there.push(i16::from(there));
        Ok(())
    }

    fn write(&self, column: &mut SerializedColumnWriter<'_>) -> Result<(), ParquetError> {
        let there = Some(self.there.as_slice());
        match &self.values {
            Values::Text(it) => column
                .typed::<ByteArrayType>()
                .write_batch(it, there, None)?,
            Values::Number(it) => column.typed::<DoubleType>().write_batch(it, there, None)?,
            Values::Whole(it) => column.typed::<Int64Type>().write_batch(it, there, None)?,
            Values::Day(it) => column.typed::<Int32Type>().write_batch(it, there, None)?,
            Values::Flag(it) => column.typed::<BoolType>().write_batch(it, there, None)?,
        };
        Ok(())
    }

    fn clear(&mut self) {
        self.there.clear();
        match &mut self.values {
            Values::Text(it) => it.clear(),
            Values::Number(it) => it.clear(),
            Values::Whole(it) => it.clear(),
            Values::Day(it) => it.clear(),
            Values::Flag(it) => it.clear(),
        }
    }
}

fn keep<T>(into: &mut Vec<T>, value: Option<T>) -> bool {
    let there = value.is_some();
    into.extend(value);
    there
}

/// Days from 1970-01-01.
fn days(day: Date) -> i32 {
    date(1970, 1, 1)
        .until(day)
        .map_or(0, |span| span.get_days())
}
