//! `relent.measure/1`: everything measured on one log, as JSON or as a row of a table.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize, Serializer};

use crate::limitation::{Kind, Limitation};
use crate::measure::{Answer, Basis, LowPass, Measure, Response, Zero, ZeroFrom};
use crate::record::cell;
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

/// What was taken off every force, and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ZeroLine {
    /// The number.
    pub n: f64,
    /// Where it comes from.
    pub from: ZeroFrom,
    /// Samples of the quiet stretch before contact.
    pub samples: usize,
}

impl ZeroLine {
    pub(super) const fn new(zero: &Zero) -> Self {
        Self {
            n: zero.subtracted.get(),
            from: zero.from,
            samples: zero.samples,
        }
    }
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
    kind: Kind,
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

    /// The headings of the table, in the order of [`MeasuredLog::row`].
    #[must_use]
    pub fn headings() -> Vec<&'static str> {
        let mut headings = vec!["file", "sha256"];
        headings.extend(Measure::ALL.map(Measure::key));
        headings.extend([
            "response",
            "stop_basis",
            "reversal_basis",
            "evidence",
            "lower_bounds",
            "undecidable",
            "profile",
        ]);
        headings
    }

    /// The same as one row: an empty cell is a measure that has no value.
    #[must_use]
    pub fn row(&self) -> Vec<String> {
        let joined = |lists: Vec<&Vec<&'static str>>| {
            let names: std::collections::BTreeSet<&str> =
                lists.into_iter().flatten().copied().collect();
            names.into_iter().collect::<Vec<_>>().join(" ")
        };
        let mut row = vec![cell::text(&self.file).into_owned(), self.sha256.clone()];
        row.extend(Measure::ALL.map(|measure| {
            let value = self.value(measure);
            value.as_ref().map(f64::to_string).unwrap_or_default()
        }));
        row.push(word(&self.response));
        row.push(self.basis.get("stop").map(word).unwrap_or_default());
        row.push(self.basis.get("reversal").map(word).unwrap_or_default());
        row.push(
            self.evidence
                .iter()
                .map(|line| word(&line.kind))
                .collect::<Vec<_>>()
                .join(" "),
        );
        row.push(joined(
            self.evidence.iter().map(|line| &line.bounds).collect(),
        ));
        row.push(joined(
            self.evidence.iter().map(|line| &line.voids).collect(),
        ));
        row.push(self.method.profile.clone());
        row
    }
}

/// The word under which serde writes a plain variant.
pub(super) fn word(variant: &impl Serialize) -> String {
    match serde_json::to_value(variant) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

pub(super) fn bases(response: &Response) -> BTreeMap<&'static str, Basis> {
    let stop = response
        .stop
        .as_ref()
        .ok()
        .map(|(_, basis)| ("stop", *basis));
    let reversal = response
        .reversal
        .as_ref()
        .ok()
        .map(|(_, basis)| ("reversal", *basis));
    let travel = response
        .over_travel
        .as_ref()
        .ok()
        .map(|(_, basis)| ("over_travel", *basis));
    let speed = response
        .approach_speed
        .as_ref()
        .ok()
        .map(|(_, basis)| ("approach_speed", *basis));
    [stop, reversal, travel, speed]
        .into_iter()
        .flatten()
        .collect()
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
