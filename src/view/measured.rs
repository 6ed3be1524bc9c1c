//! `relent.measure/1`: everything measured on one log, as JSON or as a row of a table.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Serialize, Serializer};

use super::column::{Cell, Column, Columns, Kind, columns};
use crate::fact::Fact;
use crate::limitation::{Limitation, Standing};
use crate::measure::{Answer, Basis, LowPass, Measure, Response, Unmeasured};
use crate::record::sealed_log::ZeroLine;
use crate::trace::Provenance;
use crate::visit::Measurement;
use crate::words::{Said, Words};

/// One measured log, as written to JSON. Absent measures stand under `unmeasured` with their reason.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasuredLog {
    schema: &'static str,
    /// Name of the log as it was given.
    pub file: String,
    /// SHA-256 of its bytes.
    pub sha256: String,
    #[serde(serialize_with = "by_key")]
    #[cfg_attr(feature = "schema", schemars(with = "BTreeMap<String, f64>"))]
    measures: BTreeMap<Measure, f64>,
    /// The highest sample, where the profile prescribes a low-pass and the peak force is that after it.
    #[serde(skip_serializing_if = "Option::is_none")]
    raw_peak_force_n: Option<f64>,
    response: Answer,
    basis: BTreeMap<Measure, Basis>,
    #[serde(serialize_with = "by_key")]
    #[cfg_attr(
        feature = "schema",
        schemars(with = "BTreeMap<String, Said<Unmeasured>>")
    )]
    unmeasured: BTreeMap<Measure, Said<Unmeasured>>,
    limitations: Vec<LimitationLine>,
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

/// A limitation with the measures whose true value may be greater, and those whose may be greater or smaller.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct LimitationLine {
    #[serde(flatten)]
    limitation: Said<Limitation>,
    lower_bounds: Vec<&'static str>,
    either_way: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    pub fn new(words: &Words, file: String, sha256: String, hit: &Measurement) -> Self {
        let response = &hit.response;
        let mut measures = BTreeMap::new();
        let mut unmeasured = BTreeMap::new();
        for measure in Measure::ALL {
            match response.value(measure) {
                Ok(value) => {
                    measures.insert(measure, value.get());
                }
                Err(reason) => {
                    unmeasured.insert(measure, words.said(reason));
                }
            }
        }
        let limitations = hit.limitations.iter().cloned();
        Self {
            schema: "relent.measure/1",
            file,
            sha256,
            zero: (!measures.is_empty()).then(|| ZeroLine::new(&response.zero)),
            provenance: hit.trace.provenance.clone(),
            raw_peak_force_n: response.peak.as_ref().ok().and_then(|peak| {
                let filtered = peak.filtered.is_some();
                filtered.then(|| peak.force.get())
            }),
            measures,
            response: response.answer,
            basis: response.bases(),
            unmeasured,
            limitations: limitations
                .map(|one| LimitationLine::new(words, one))
                .collect(),
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
        self.unmeasured
            .get(&measure)
            .map_or("", |why| why.text.as_str())
    }

    /// Name of the limit profile whose levels and periods were used.
    #[must_use]
    pub fn profile(&self) -> &str {
        &self.method.profile
    }

    /// How the leaf answered.
    #[must_use]
    pub const fn answer(&self) -> Answer {
        self.response
    }

    /// What limits the record, each with what helps.
    pub fn limitations(&self) -> impl Iterator<Item = String> {
        self.limitations.iter().map(|line| line.limitation.whole())
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
        let measures = Measure::ALL.map(|measure| one(measure.key(), Kind::Number, measure.id()));
        let mut columns = vec![
            text("file", "the log as it was given"),
            text("sha256", "SHA-256 of its bytes"),
        ];
        columns.extend(measures);
        columns.extend([
            text("response", "how the leaf answered"),
            text("stop_basis", "what the stop was read from"),
            text("reversal_basis", "what the reversal was read from"),
            text("limitations", "what the record cannot show"),
            text("lower_bounds", "measures whose true value may be greater"),
            text(
                "either_way",
                "measures whose true value may be greater or smaller",
            ),
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
        let lines = || it.limitations.iter();
        let joined = |lists: Vec<&Vec<&'static str>>| {
            let names: BTreeSet<&str> = lists.into_iter().flatten().copied().collect();
            text(names.into_iter().collect::<Vec<_>>().join("; "))
        };
        let basis = |measure| text(it.basis.get(&measure).map(Fact::code).unwrap_or_default());
        let codes: Vec<String> = lines().map(|line| line.limitation.fact.code()).collect();
        to.extend([text(it.file.clone()), text(it.sha256.clone())]);
        to.extend(Measure::ALL.map(|measure| Cell::Number(it.value(measure))));
        to.extend([
            text(it.response.code()),
            basis(Measure::StopTime),
            basis(Measure::ReversalTime),
            text(codes.join("; ")),
            joined(lines().map(|line| &line.lower_bounds).collect()),
            joined(lines().map(|line| &line.either_way).collect()),
            text(it.method.profile.clone()),
        ]);
    }
}

impl LimitationLine {
    fn new(words: &Words, limitation: Limitation) -> Self {
        let keys = |standing| limitation.leaves(standing).map(Measure::key).collect();
        Self {
            lower_bounds: keys(Standing::LowerBound),
            either_way: keys(Standing::EitherWay),
            limitation: words.said(limitation),
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
