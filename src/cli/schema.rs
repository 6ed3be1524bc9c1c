//! `relent schema`: the JSON Schemas of the gate file, so that editors complete it, and of every output.

#[cfg(feature = "schema")]
mod structs;

use clap::Args;
use clap::builder::PossibleValuesParser;
use serde_json::{Map, Value, json};

use crate::archive::{FoundAt, GateRow};
use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::view::MeasuredLog;
use crate::view::column::{Columns, Kind, columns};

#[cfg(feature = "schema")]
pub use structs::of_structs;

/// Options of `relent schema`.
#[derive(Args, Debug)]
pub struct SchemaArgs {
    /// The gate file, an output by its command, or a table
    #[arg(value_name = "OUTPUT", default_value = "gate", value_parser = PossibleValuesParser::new(names()))]
    output: String,
}

const DRAFT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The outputs, by the command that writes them.
const OUTPUTS: [&str; 13] = [
    "read",
    "measure",
    "assessment",
    "record",
    "history",
    "archive",
    "recheck",
    "certificate",
    "readiness",
    "plan",
    "pull",
    "compare",
    "compare-design",
];

/// The name of a table and what describes a row of it.
type Table = (&'static str, fn() -> Value);

/// The tables.
const TABLES: [Table; 3] = [
    ("findings.csv", of_row::<FoundAt<'_>>),
    ("gates.csv", of_row::<GateRow>),
    ("measures.csv", of_row::<MeasuredLog>),
];

fn names() -> impl Iterator<Item = &'static str> {
    let tables = TABLES.iter().map(|(name, _)| *name);
    ["gate"].into_iter().chain(OUTPUTS).chain(tables)
}

/// A row of a table as an object: the names of the columns, what they hold and what they mean. No value is an empty cell in CSV, null in
/// Parquet.
fn of_row<Row: Columns>() -> Value {
    let properties = columns::<Row>().into_iter().map(|column| {
        let (kind, format) = match column.kind {
            Kind::Text => ("string", None),
            Kind::Number => ("number", None),
            Kind::Whole => ("integer", None),
            Kind::Day => ("string", Some("date")),
            Kind::Flag => ("boolean", None),
        };
        let mut property = json!({ "description": column.meaning, "type": [kind, "null"] });
        if let Some(format) = format {
            property["format"] = format.into();
        }
        (column.name.to_owned(), property)
    });
    json!({
        "$schema": DRAFT,
        "type": "object",
        "properties": Map::from_iter(properties),
    })
}

/// The schemas of the outputs: each refers into `$defs`, which they share. The feature `schema` makes the file from the structs; the
/// ordinary build does without what that needs.
#[must_use]
pub fn outputs() -> Value {
    serde_json::from_str(include_str!("schema/outputs.json")).unwrap_or_default()
}

/// The schema of an output, with what it refers to.
fn of_output(name: &str) -> Value {
    let all = outputs();
    let mut schema = all["outputs"][name].clone();
    let mut definitions = Map::new();
    let mut open = references(&schema);
    while let Some(name) = open.pop() {
        let definition = &all["$defs"][&name];
        if definitions.insert(name, definition.clone()).is_none() {
            open.extend(references(definition));
        }
    }
    schema["$schema"] = DRAFT.into();
    schema["$defs"] = definitions.into();
    schema
}

/// The definitions that a schema refers to.
fn references(schema: &Value) -> Vec<String> {
    let inner: Vec<&Value> = match schema {
        Value::Object(members) => members.values().collect(),
        Value::Array(items) => items.iter().collect(),
        _ => Vec::new(),
    };
    let own = schema.get("$ref").and_then(Value::as_str);
    let own = own.and_then(|path| path.strip_prefix("#/$defs/"));
    let below = inner.into_iter().flat_map(references);
    own.map(str::to_owned).into_iter().chain(below).collect()
}

/// Prints a schema.
pub fn run(args: &SchemaArgs) -> Result<Exit, Stop> {
    let name = args.output.as_str();
    let table = TABLES.iter().find(|(table, _)| *table == name);
    let schema = match table {
        Some((_, schema)) => schema(),
        None if OUTPUTS.contains(&name) => of_output(name),
        None => crate::gate::schema().clone(),
    };
    screen::data(&format!("{schema:#}\n"));
    Ok(Exit::Done)
}
