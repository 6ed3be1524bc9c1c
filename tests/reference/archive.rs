//! The tables of an archive as pyarrow and duckdb read them: every cell, every kind, every null.

use std::fs;
use std::path::{Path, PathBuf};

use relent::archive::{AssessedGate, FoundAt, GateRow};
use relent::view::column::{Cell, Columns, Kind, columns};
use relent::view::table::CsvTable;
use serde_json::{Value, json};

const ROWS: &str = include_str!("../../fixtures/reference/archive_rows.json");

/// What the other programs found in the tables.
fn read() -> Value {
    serde_json::from_slice(&fs::read(fixture("archive_read.json")).unwrap()).unwrap()
}

fn rows() -> Vec<AssessedGate> {
    serde_json::from_str(ROWS).unwrap()
}

fn fixture(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/reference");
    folder.join(name)
}

/// Holds what was written now against the file that the other programs read.
fn same(name: &str, now: &[u8]) {
    let path = fixture(name);
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, now).unwrap();
    }
    assert!(
        fs::read(&path).unwrap_or_default() == now,
        "fixtures/reference/{name} is stale: the head of archive.py says how to make it and what hangs on it"
    );
}

/// The cells of a table as relent has them, row by row: name, kind and value as JSON.
type Cells = Vec<Vec<(&'static str, Kind, Value)>>;

fn cells<Row: Columns>(row: &Row) -> Vec<(&'static str, Kind, Value)> {
    let value = |cell| match cell {
        Cell::Text(text) => json!(text),
        Cell::Number(number) => json!(number),
        Cell::Whole(number) => json!(number),
        Cell::Day(day) => json!(day.map(|day| day.to_string())),
        Cell::Flag(flag) => json!(flag),
    };
    let cells = relent::view::column::cells(row).into_iter().map(value);
    let columns = columns::<Row>();
    assert_eq!(columns.len(), cells.len());
    let named = columns.into_iter().zip(cells);
    named
        .map(|(column, value)| (column.name, column.kind, value))
        .collect()
}

fn both() -> [(&'static str, Cells); 2] {
    let rows = rows();
    let of_gates = rows.iter().map(|it| cells(&it.gate)).collect();
    let of_findings = rows
        .iter()
        .flat_map(|it| it.rows().map(|row| cells(&row)).collect::<Vec<_>>())
        .collect();
    [("gates", of_gates), ("findings", of_findings)]
}

/// Holds every cell of a table as another program read it against the cell as relent has it; how many there were.
fn compare(
    table: &str,
    found: &Value,
    expected: &Cells,
    agrees: impl Fn(&Value, &Value, Kind) -> bool,
) -> usize {
    let rows = found["rows"].as_array().unwrap();
    assert_eq!(rows.len(), expected.len(), "{table}");
    let mut compared = 0;
    for (row, cells) in rows.iter().zip(expected) {
        assert_eq!(row.as_object().unwrap().len(), cells.len(), "{table}");
        for (name, kind, value) in cells {
            let read = &row[*name];
            assert!(
                agrees(read, value, *kind),
                "{table}, {name}: {value} was read as {read}"
            );
            compared += 1;
        }
    }
    compared
}

/// How many cells the rows of both tables have.
const CELLS: usize = 3 * 28 + 3 * 47;

#[test]
fn every_cell_of_the_csv_tables_is_read_by_duckdb_as_it_was_written() {
    let rows = rows();
    let mut gates = CsvTable::of::<GateRow>(Vec::new()).unwrap();
    let mut findings = CsvTable::of::<FoundAt<'_>>(Vec::new()).unwrap();
    for row in &rows {
        gates.add(&row.gate).unwrap();
        for row in row.rows() {
            findings.add(&row).unwrap();
        }
    }
    same("archive_gates.csv", &gates.finish().unwrap());
    same("archive_findings.csv", &findings.finish().unwrap());
    let agrees = |read: &Value, value: &Value, _: Kind| {
        let text = read.as_str();
        match value {
            Value::Null => text.is_none(),
            Value::Bool(flag) => text == Some(if *flag { "true" } else { "false" }),
            Value::Number(number) => text.unwrap().parse::<f64>().ok() == number.as_f64(),
            // Text that a spreadsheet would take for a formula has an apostrophe before it.
            Value::String(it) if it.starts_with(['=', '+', '-', '@']) => {
                text.unwrap().strip_prefix('\'') == Some(it)
            }
            Value::String(it) => text == Some(it),
            Value::Array(_) | Value::Object(_) => false,
        }
    };
    let read = read();
    let compared = both().map(|(table, expected)| {
        let found = &read[format!("{table}_csv")];
        compare(table, found, &expected, agrees)
    });
    assert_eq!(compared.iter().sum::<usize>(), CELLS);
}

#[cfg(feature = "parquet")]
#[test]
fn every_cell_of_the_parquet_tables_is_read_by_pyarrow_as_it_was_written() {
    use relent::view::parquet::ParquetTable;

    let rows = rows();
    let mut gates = ParquetTable::of::<GateRow>(Vec::new()).unwrap();
    let mut findings = ParquetTable::of::<FoundAt<'_>>(Vec::new()).unwrap();
    for row in &rows {
        gates.add(&row.gate).unwrap();
        for row in row.rows() {
            findings.add(&row).unwrap();
        }
    }
    same("archive_gates.parquet", &gates.finish().unwrap());
    same("archive_findings.parquet", &findings.finish().unwrap());
    let agrees = |read: &Value, value: &Value, kind: Kind| match (value, kind) {
        (Value::Number(number), Kind::Number) => {
            read.as_f64().map(f64::to_bits) == number.as_f64().map(f64::to_bits)
        }
        _ => read == value,
    };
    let read = read();
    let compared = both().map(|(table, expected)| {
        let found = &read[format!("{table}_parquet")];
        let duckdb = &read[format!("{table}_parquet_duckdb_kinds")];
        for (name, kind, _) in &expected[0] {
            let (arrow, sql) = match kind {
                Kind::Text => ("string", "VARCHAR"),
                Kind::Number => ("double", "DOUBLE"),
                Kind::Whole => ("int64", "BIGINT"),
                Kind::Day => ("date32[day]", "DATE"),
                Kind::Flag => ("bool", "BOOLEAN"),
            };
            let kinds = (&found["kinds"][*name], &duckdb[*name]);
            assert_eq!(kinds, (&json!(arrow), &json!(sql)), "{table}, {name}");
        }
        compare(table, found, &expected, agrees)
    });
    assert_eq!(compared.iter().sum::<usize>(), CELLS);
}
