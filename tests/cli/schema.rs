//! Do the schemas say what the outputs are? Every output of the demo, value by value; a member that no schema names is an error.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use relent::cli::schema;
use serde_json::Value;

use crate::run::{relent, sealed, visit};

/// What is said of a value beside its form.
const ASIDE: [&str; 11] = [
    "$defs",
    "$schema",
    "default",
    "description",
    "format",
    "lines",
    "maxLength",
    "minLength",
    "plausible",
    "title",
    "uniqueItems",
];

/// A schema and the whole that its references point into.
#[derive(Clone, Copy)]
struct Schema<'a> {
    root: &'a Value,
    here: &'a Value,
}

impl<'a> Schema<'a> {
    fn at(self, here: &'a Value) -> Self {
        Self { here, ..self }
    }

    /// A value with all its members.
    fn whole(self, value: &Value, place: &str) -> Result<(), String> {
        let known = self.check(value, place)?;
        match members(value).difference(&known).next() {
            Some(name) => Err(format!("{place}: {name} is in no schema")),
            None => Ok(()),
        }
    }

    /// The members that the schema names, if the value is of its form.
    fn check(self, value: &Value, place: &str) -> Result<BTreeSet<String>, String> {
        let mut known = BTreeSet::new();
        let rules = match self.here {
            Value::Object(rules) => rules,
            Value::Bool(true) => return Ok(members(value)),
            other => panic!("{place}: {other} is no schema"),
        };
        for (keyword, rule) in rules {
            let wrong = || {
                Err(format!(
                    "{place}: {} is not as {keyword}: {}",
                    short(value),
                    short(rule)
                ))
            };
            let list = || rule.as_array().unwrap().iter();
            match keyword.as_str() {
                "$ref" => {
                    let target = rule.as_str().unwrap().strip_prefix('#').unwrap();
                    let target = self.root.pointer(target).unwrap();
                    known.extend(self.at(target).check(value, place)?);
                }
                "type" => {
                    let kinds = rule
                        .as_array()
                        .map_or_else(|| vec![rule], |all| all.iter().collect());
                    if !kinds
                        .iter()
                        .any(|kind| is_kind(value, kind.as_str().unwrap()))
                    {
                        return wrong();
                    }
                }
                "const" if value != rule => return wrong(),
                "enum" if !list().any(|one| one == value) => return wrong(),
                "minimum" if value.as_f64() < rule.as_f64() => return wrong(),
                "maximum" if value.as_f64() > rule.as_f64() => return wrong(),
                "exclusiveMinimum" if value.as_f64() <= rule.as_f64() => return wrong(),
                "minItems"
                    if value.as_array().map(Vec::len) < rule.as_u64().map(|it| it as usize) =>
                {
                    return wrong();
                }
                "maxItems"
                    if value.as_array().map(Vec::len) > rule.as_u64().map(|it| it as usize) =>
                {
                    return wrong();
                }
                "const" | "enum" | "minimum" | "maximum" | "exclusiveMinimum" | "minItems"
                | "maxItems" => {}
                "required" => {
                    if let Some(name) =
                        list().find(|name| value.get(name.as_str().unwrap()).is_none())
                    {
                        return Err(format!("{place}: {name} is not there"));
                    }
                }
                "properties" => {
                    for (name, schema) in rule.as_object().unwrap() {
                        known.insert(name.clone());
                        if let Some(member) = value.get(name) {
                            self.at(schema).whole(member, &format!("{place}/{name}"))?;
                        }
                    }
                }
                "additionalProperties" if rule == &Value::Bool(false) => {}
                "additionalProperties" => {
                    for (name, member) in value.as_object().into_iter().flatten() {
                        if rules
                            .get("properties")
                            .is_none_or(|named| named.get(name).is_none())
                        {
                            self.at(rule).whole(member, &format!("{place}/{name}"))?;
                            known.insert(name.clone());
                        }
                    }
                }
                "items" => {
                    for (at, item) in value.as_array().into_iter().flatten().enumerate() {
                        self.at(rule).whole(item, &format!("{place}/{at}"))?;
                    }
                }
                "prefixItems" => {
                    for (at, (item, schema)) in
                        value.as_array().unwrap().iter().zip(list()).enumerate()
                    {
                        self.at(schema).whole(item, &format!("{place}/{at}"))?;
                    }
                }
                "allOf" => {
                    for schema in list() {
                        known.extend(self.at(schema).check(value, place)?);
                    }
                }
                "oneOf" | "anyOf" => {
                    let tried: Vec<_> = list().map(|it| self.at(it).check(value, place)).collect();
                    let of: Vec<_> = tried.iter().flatten().collect();
                    if keyword == "oneOf" && of.len() > 1 {
                        return Err(format!("{place}: {} forms fit", of.len()));
                    }
                    if of.is_empty() {
                        let deep = |why: &String| why.split(':').next().map(str::len);
                        return Err(tried
                            .into_iter()
                            .filter_map(Result::err)
                            .max_by_key(deep)
                            .unwrap());
                    }
                    known.extend(of.into_iter().flatten().cloned());
                }
                aside => assert!(ASIDE.contains(&aside), "{place}: {aside} is not checked"),
            }
        }
        let of_any_form = rules.keys().all(|it| ASIDE.contains(&it.as_str()));
        Ok(if of_any_form { members(value) } else { known })
    }
}

fn members(value: &Value) -> BTreeSet<String> {
    let members = value.as_object().into_iter().flatten();
    members.map(|(name, _)| name.clone()).collect()
}

/// The beginning of what would be long.
fn short(text: &impl std::fmt::Display) -> String {
    text.to_string().chars().take(200).collect()
}

fn is_kind(value: &Value, kind: &str) -> bool {
    match kind {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.as_f64().is_some_and(|it| it.fract() == 0.0),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("{other} is no type"),
    }
}

fn holds(schemas: &Value, name: &str, output: &str) {
    let here = &schemas["outputs"][name];
    let root = schemas;
    let value: Value = serde_json::from_str(output).unwrap();
    let form = value
        .get("schema")
        .or_else(|| value.pointer("/body/schema"));
    assert_eq!(form, Some(&here["title"]), "{name}");
    if let Err(why) = (Schema { root, here }).whole(&value, name) {
        panic!("{why}");
    }
}

#[test]
fn every_output_of_the_demo_is_as_its_schema_says() {
    let (home, gate) = sealed("visit-1");
    let schemas = schema::outputs();
    holds(
        &schemas,
        "assessment",
        &fs::read_to_string(gate.join("report/assessment.json")).unwrap(),
    );
    holds(
        &schemas,
        "record",
        &fs::read_to_string(gate.join("report/record.json")).unwrap(),
    );
    let log = "logs/closing-50-50-1.csv";
    fs::write(gate.join("broken.csv"), "time;force\n1;2\n").unwrap();
    fs::write(gate.join("pull.csv"), pull_log()).unwrap();
    let cut: Vec<u8> = fs::read(gate.join(log))
        .unwrap()
        .into_iter()
        .take(2000)
        .collect();
    fs::write(gate.join("logs/closing-50-50-1.csv"), cut).unwrap();
    for file in relent::impact::demo::files().unwrap() {
        let path = home.path().join("demo").join(&file.path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, file.bytes).unwrap();
    }
    let series = ["compare", "../demo/firmware", "--series", "2.3.1"];
    let margin = ["--margin-force", "20", "--json"];
    let compare = [&series[..], &["--series", "2.4.0"], &margin].concat();
    let design = [&series[..], &["--design"], &margin].concat();
    let runs: [(&str, &[&str]); 14] = [
        ("read", &["read", log, "--json"]),
        ("read", &["read", "broken.csv", "--json"]),
        ("measure", &["measure", "logs", "--json"]),
        ("assessment", &["assess", ".", "--no-report", "--json"]),
        ("recheck", &["recheck", ".", "--json"]),
        ("recheck", &["recheck", "report/record.json", "--json"]),
        ("readiness", &["ready", ".", "--json"]),
        ("plan", &["plan", ".", "--json"]),
        ("pull", &["pull", "pull.csv", "--json"]),
        ("certificate", &["certificate", "no-such", ".", "--json"]),
        ("archive", &["archive", ".", "--out", "../out", "--json"]),
        ("history", &["history", ".", "--json"]),
        ("compare", &compare),
        ("compare-design", &design),
    ];
    for (name, arguments) in runs {
        let ran = relent(&gate, arguments);
        let lines = ["measure", "recheck"].contains(&name);
        let outputs = if lines {
            ran.out.lines().collect()
        } else {
            vec![ran.out.as_str()]
        };
        assert!(!ran.out.is_empty(), "{arguments:?}: {}", ran.err);
        for output in outputs {
            holds(&schemas, name, output);
        }
    }
    drop(home);
}

/// A pull over 4 m at 150 N with a place where it binds.
fn pull_log() -> String {
    let rows = (0..400).map(|row| {
        let force = if (200..260).contains(&row) { 300 } else { 150 };
        format!("{},{force}\n", row * 10)
    });
    format!("position_mm,force_N\n{}", rows.collect::<String>())
}

#[test]
fn the_schema_of_a_table_names_the_columns_that_are_written() {
    let (_home, gate) = visit("visit-2");
    for arguments in [
        &["measure", "logs", "--csv=measures.csv"][..],
        &["archive", ".", "--out", "../out"],
    ] {
        let ran = relent(&gate, arguments);
        assert!(ran.status != 2, "{arguments:?}: {}", ran.err);
    }
    for (name, file) in [
        ("findings.csv", "../out/findings.csv"),
        ("gates.csv", "../out/gates.csv"),
        ("measures.csv", "measures.csv"),
    ] {
        let ran = relent(&gate, &["schema", name]);
        let schema: Value = serde_json::from_str(&ran.out).unwrap();
        let named: BTreeSet<&str> = schema["properties"]
            .as_object()
            .unwrap()
            .keys()
            .map(String::as_str)
            .collect();
        let table = fs::read_to_string(gate.join(file)).unwrap();
        let columns: BTreeSet<&str> = table.lines().next().unwrap().split(',').collect();
        assert_eq!(named, columns, "{name}");
    }
}

#[test]
fn every_schema_is_printed_by_its_name_and_that_of_the_gate_file_without_one() {
    let gate = relent(Path::new("."), &["schema"]);
    assert_eq!(gate.out, relent(Path::new("."), &["schema", "gate"]).out);
    let schemas = schema::outputs();
    for (name, schema) in schemas["outputs"].as_object().unwrap() {
        let ran = relent(Path::new("."), &["schema", name]);
        let printed: Value = serde_json::from_str(&ran.out).unwrap();
        assert_eq!(printed["title"], schema["title"]);
        for reference in ran.out.split("\"#").skip(1) {
            let path = reference.split('"').next().unwrap();
            assert_eq!(
                printed.pointer(path),
                schemas.pointer(path),
                "{name}: {path}"
            );
        }
    }
    assert_eq!(relent(Path::new("."), &["schema", "unheard-of"]).status, 2);
}

#[cfg(feature = "schema")]
#[test]
fn the_schemas_of_the_outputs_are_those_of_the_structs() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli/schema/outputs.json");
    let made = schema::of_structs();
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &made).unwrap();
    }
    assert!(
        fs::read_to_string(&path).unwrap() == made,
        "src/cli/schema/outputs.json is stale: run RELENT_BLESS=1 cargo test --features schema --test cli schema"
    );
}
