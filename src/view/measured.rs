//! `relent.measure/1`: everything measured on one log, as JSON or as a row of a table.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Serialize, Serializer};

use super::column::{Cell, Column, Columns, Kind, columns};
use crate::limitation::{self, Limitation};
use crate::measure::{Answer, Basis, LowPass, Measure, Response};
use crate::record::sealed_log::{ZeroLine, bases, word};
use crate::trace::Provenance;

/// One measured log, as written to JSON. Absent measures stand under `unmeasured` with their reason.
#[derive(Debug, Serialize)]
pub struct MeasuredLog {
    schema: &'static str,
    /// Name of the log as it was given.
    pub file: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    #[serde(serialize_with = "by_key")]
    measures: BTreeMap<Measure, f64>,
    response: Answer,
    basis: BTreeMap<&'static str, Basis>,
    #[serde(serialize_with = "by_key")]
    unmeasured: BTreeMap<Measure, String>,
    evidence: Vec<EvidenceLine>,
    method: MethodLine,
    #[serde(skip_serializing_if = "Option::is_none")]
    zero: Option<ZeroLine>,
    #[serde(skip_serializing_if = "Option::is_none")]
    provenance: Option<Provenance>,
}

/// Under the key of each measure, in the order of the keys.
fn by_key<Value: Serialize, S: Serializer>(
    measures: &BTreeMap<Measure, Value>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let keyed = measures
        .iter()
        .map(|(measure, value)| (measure.key(), value));
    serializer.collect_map(keyed.collect::<BTreeMap<_, _>>())
}

#[derive(Debug, Serialize)]
struct EvidenceLine {
    kind: limitation::Kind,
    text: String,
    bounds: Vec<&'static str>,
    voids: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct MethodLine {
    profile: String,
    contact_level_n: f64,
    static_level_n: f64,
    residual_level_n: f64,
    effective_level_n: f64,
    dynamic_period_s: f64,
    record_s: f64,
    low_pass: Option<LowPass>,
}

impl MeasuredLog {
    /// Gathers what was measured on one log, and how it was read.
    #[must_use]
    pub fn new(
        file: String,
        sha256: String,
        provenance: Option<Provenance>,
        response: &Response,
        evidence: &[Limitation],
    ) -> Self {
        let mut measures = BTreeMap::new();
        let mut unmeasured = BTreeMap::new();
        for measure in Measure::ALL {
            match response.value(measure) {
                Ok(value) => {
                    measures.insert(measure, value);
                }
                Err(reason) => {
                    unmeasured.insert(measure, reason.0);
                }
            }
        }
        Self {
            schema: "relent.measure/1",
            file,
            sha256,
            zero: (!measures.is_empty()).then(|| ZeroLine::new(&response.zero)),
            provenance,
            measures,
            response: response.answer,
            basis: bases(response),
            unmeasured,
            evidence: evidence.iter().map(EvidenceLine::new).collect(),
            method: MethodLine::new(response),
        }
    }

    /// The value of a measure in its unit, if it was measured.
    #[must_use]
    pub fn value(&self, measure: Measure) -> Option<f64> {
        self.measures.get(&measure).copied()
    }

    /// Why a measure has no value; empty if it has one.
    #[must_use]
    pub fn reason(&self, measure: Measure) -> &str {
        self.unmeasured.get(&measure).map_or("", String::as_str)
    }

    /// Name of the limit profile whose levels and periods were used.
    #[must_use]
    pub fn profile(&self) -> &str {
        &self.method.profile
    }

    /// How the leaf answered, in words.
    #[must_use]
    pub const fn answer(&self) -> Answer {
        self.response
    }

    /// What limits the record, in words.
    pub fn evidence_texts(&self) -> impl Iterator<Item = &str> {
        self.evidence.iter().map(|line| line.text.as_str())
    }
}

impl Columns for MeasuredLog {
    fn columns(_: &'static str, _: &'static str) -> Vec<Column> {
        let one = |name, kind, meaning| Column {
            name,
            kind,
            meaning,
        };
        let text = |name, meaning| one(name, Kind::Text, meaning);
        let measures =
            Measure::ALL.map(|measure| one(measure.key(), Kind::Number, measure.words()));
        let mut columns = vec![
            text("file", "the log as it was given"),
            text("sha256", "SHA-256 of its bytes"),
        ];
        columns.extend(measures);
        columns.extend([
            text("response", "how the leaf answered"),
            text("stop_basis", "what the stop was read from"),
            text("reversal_basis", "what the reversal was read from"),
            text("evidence", "what the record cannot show"),
            text("lower_bounds", "measures whose true value may be greater"),
            text("undecidable", "measures that prove nothing"),
            text(
                "profile",
                "limit profile whose levels and periods were used",
            ),
        ]);
        columns
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        let Some(it) = it else {
            to.extend(columns::<Self>().iter().map(Column::empty));
            return;
        };
        let text = |text: String| Cell::Text(Some(text.into()));
        let lines = || it.evidence.iter();
        let joined = |lists: Vec<&Vec<&'static str>>| {
            let names: BTreeSet<&str> = lists.into_iter().flatten().copied().collect();
            text(names.into_iter().collect::<Vec<_>>().join("; "))
        };
        let basis = |name: &str| text(it.basis.get(name).map(word).unwrap_or_default());
        let kinds: Vec<String> = lines().map(|line| word(&line.kind)).collect();
        to.extend([text(it.file.clone()), text(it.sha256.clone())]);
        to.extend(Measure::ALL.map(|measure| Cell::Number(it.value(measure))));
        to.extend([
            text(word(&it.response)),
            basis("stop"),
            basis("reversal"),
            text(kinds.join("; ")),
            joined(lines().map(|line| &line.bounds).collect()),
            joined(lines().map(|line| &line.voids).collect()),
            text(it.method.profile.clone()),
        ]);
    }
}

impl EvidenceLine {
    fn new(evidence: &Limitation) -> Self {
        let keys = |measures: &[Measure]| measures.iter().map(|measure| measure.key()).collect();
        Self {
            kind: evidence.kind,
            text: evidence.text.clone(),
            bounds: keys(&evidence.bounds),
            voids: keys(&evidence.voids),
        }
    }
}

impl MethodLine {
    fn new(response: &Response) -> Self {
        let method = &response.method;
        Self {
            profile: method.profile.clone(),
            contact_level_n: method.contact_level.get(),
            static_level_n: method.static_level.get(),
            residual_level_n: method.residual_level.get(),
            effective_level_n: method.effective_level.get(),
            dynamic_period_s: method.dynamic_period.get(),
            record_s: method.record.get(),
            low_pass: method.low_pass,
        }
    }
}
