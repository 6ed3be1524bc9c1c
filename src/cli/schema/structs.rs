//! The schemas of the outputs, made from the structs that are written: what `outputs.json` must be.

use std::fmt::Write as _;

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Map, Value, json};

use crate::cli::certificate;
use crate::cli::read::Document as ReadDocument;
use crate::cli::recheck::Line as RecheckLine;
use crate::record::body::{Body, SCHEMA};
use crate::view::MeasuredLog;
use crate::{archive, report};

/// A sealed record: canonical JSON as RFC 8785 defines it.
#[derive(JsonSchema)]
#[expect(
    dead_code,
    reason = "the bytes of a record are put together from those of its body"
)]
struct SealedRecord {
    /// What the record holds.
    body: Body,
    /// SHA-256 of the bytes of the body.
    body_sha256: String,
}

/// What `outputs.json` must be: every output, and the definitions that they share.
#[must_use]
pub fn of_structs() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut all = Outputs {
        generator: settings
            .with_transform(RecursiveTransform(one_line))
            .into_generator(),
        outputs: Map::new(),
        forms: Vec::new(),
    };
    all.add::<ReadDocument<'_>>("read", "relent.read/1");
    all.add::<MeasuredLog>("measure", "relent.measure/1");
    all.add::<report::AssessmentDocument<'_>>("assessment", "relent.assessment/1");
    all.add::<SealedRecord>("record", SCHEMA);
    all.form::<Body>(SCHEMA);
    all.add::<report::HistoryDocument<'_>>("history", "relent.history/1");
    all.add::<archive::Record<'_>>("archive", "relent.archive/1");
    all.add::<RecheckLine<'_>>("recheck", "relent.recheck/1");
    all.add::<certificate::List<'_>>("certificate", "relent.certificate/1");
    all.add::<report::ReadinessDocument<'_>>("readiness", "relent.readiness/1");
    all.add::<report::PlanDocument<'_>>("plan", "relent.plan/1");
    all.add::<report::PullDocument<'_>>("pull", "relent.pull/1");
    all.add::<report::CompareDocument<'_>>("compare", "relent.compare/1");
    all.add::<report::DesignDocument<'_>>("compare-design", "relent.compare-design/1");
    let mut text = String::new();
    lay_out(&all.finished(), 0, &mut text);
    text + "\n"
}

struct Outputs {
    generator: SchemaGenerator,
    outputs: Map<String, Value>,
    forms: Vec<(String, &'static str)>,
}

impl Outputs {
    /// An output whose member `schema` is `form`.
    fn add<Output: JsonSchema>(&mut self, name: &str, form: &'static str) {
        let mut schema = self.generator.subschema_for::<Output>().to_value();
        schema["title"] = form.into();
        self.outputs.insert(name.to_owned(), schema);
        self.form::<Output>(form);
    }

    fn form<Output: JsonSchema>(&mut self, form: &'static str) {
        let schema = self.generator.subschema_for::<Output>().to_value();
        let path = schema["$ref"].as_str().unwrap_or_default();
        self.forms
            .push((path.trim_start_matches('#').to_owned(), form));
    }

    fn finished(mut self) -> Value {
        let definitions = self.generator.take_definitions(true);
        let mut all = json!({ "outputs": self.outputs, "$defs": definitions });
        for (path, form) in self.forms {
            if let Some(member) = all.pointer_mut(&format!("{path}/properties/schema")) {
                *member = json!({ "const": form });
            }
        }
        all
    }
}

/// JSON with each object and list on one line where it fits.
fn lay_out(value: &Value, indent: usize, to: &mut String) {
    const WIDTH: usize = 130;
    let plain = value.to_string();
    let (ends, parts): (_, Vec<(String, &Value)>) = match value {
        Value::Object(members) if indent + plain.len() > WIDTH => {
            let named = members
                .iter()
                .map(|(name, it)| (format!("{}: ", json!(name)), it));
            (["{", "}"], named.collect())
        }
        Value::Array(items) if indent + plain.len() > WIDTH => (
            ["[", "]"],
            items.iter().map(|it| (String::new(), it)).collect(),
        ),
        _ => return to.push_str(&plain),
    };
    to.push_str(ends[0]);
    for (at, (name, part)) in parts.iter().enumerate() {
        let comma = if at == 0 { "" } else { "," };
        let _ = write!(to, "{comma}\n{:1$}{name}", "", indent + 1);
        lay_out(part, indent + 1, to);
    }
    let _ = write!(to, "\n{:indent$}{}", "", ends[1]);
}

fn one_line(schema: &mut schemars::Schema) {
    if let Some(Value::String(text)) = schema.get_mut("description") {
        *text = text.replace('\n', " ");
    }
}
