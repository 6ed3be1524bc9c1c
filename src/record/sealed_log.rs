//! One log in a record: its digests and everything measured on it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::ingest::{Notice, hexadecimal};
use crate::limitation::Limitation;
use crate::limits::TestPoint;
use crate::measure::{Basis, LowPass, Measure, Response, Zero, ZeroFrom};
use crate::trace::Provenance;
use crate::visit::{Hit, Measurement, NotMeasured};

/// The word under which serde writes a plain variant.
pub fn word(variant: &impl Serialize) -> String {
    match serde_json::to_value(variant) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// What those measures were read from that can be read in more than one way.
pub fn bases(response: &Response) -> BTreeMap<&'static str, Basis> {
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

/// A log as the record holds it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SealedLog {
    /// Its file, from the folder of the logs.
    pub file: String,
    /// How many bytes it has.
    pub size_bytes: u64,
    /// SHA-256 of its bytes, in lower-case hexadecimal.
    pub sha256: String,
    /// Digest of its samples, which line ends, number formats and a constant offset do not change; absent where it was not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub samples_sha256: Option<String>,
    /// The test point for which it stands.
    pub test_point: TestPoint,
    /// Which hit at that place, from 1.
    pub repeat: u32,
    /// What the reader had to tell.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notices: Vec<Notice>,
    /// What was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<SealedMeasures>,
    /// Why nothing was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_measured: Option<String>,
}

/// The measures of a log under their keys, which end in the unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SealedMeasures {
    /// Those that have a value.
    pub measures: BTreeMap<String, f64>,
    /// Those that have none, with the reason.
    pub unmeasured: BTreeMap<String, String>,
    /// How the leaf answered.
    pub response: String,
    /// What the instants were read from.
    pub basis: BTreeMap<String, String>,
    /// What the record cannot show.
    pub evidence: Vec<SealedEvidence>,
    /// What was taken off every force; absent where nothing could be measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zero: Option<ZeroLine>,
    /// The low-pass that the profile prescribes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low_pass: Option<LowPass>,
    /// How the log was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub provenance: Option<Provenance>,
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
    /// The zero of a record.
    #[must_use]
    pub const fn new(zero: &Zero) -> Self {
        Self {
            n: zero.subtracted.get(),
            from: zero.from,
            samples: zero.samples,
        }
    }
}

/// Something that a record cannot show.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SealedEvidence {
    /// Its kind.
    pub kind: String,
    /// In words.
    pub text: String,
    /// The measures that it makes lower bounds.
    pub bounds: Vec<String>,
    /// The measures that it voids.
    pub voids: Vec<String>,
}

impl SealedLog {
    /// A hit as the record holds it.
    #[must_use]
    pub fn new(hit: &Hit) -> Self {
        let measured = hit.measurement.as_ref();
        Self {
            file: hit.file.clone(),
            size_bytes: hit.size_bytes,
            sha256: hit.sha256.clone(),
            samples_sha256: hit.samples_sha256.map(|digest| hexadecimal(&digest)),
            test_point: hit.point,
            repeat: hit.repeat,
            notices: hit.notices.clone(),
            measured: measured.ok().map(|one| SealedMeasures::new(one.as_ref())),
            not_measured: measured.err().map(NotMeasured::words),
        }
    }
}

impl SealedMeasures {
    fn new(measurement: &Measurement) -> Self {
        let response = &measurement.response;
        let (mut measures, mut unmeasured) = (BTreeMap::new(), BTreeMap::new());
        for measure in Measure::ALL {
            let key = measure.key().to_owned();
            match response.value(measure) {
                Ok(value) if value.is_finite() => {
                    measures.insert(key, value);
                }
                Ok(value) => {
                    unmeasured.insert(key, format!("the value is {value}, which is no number"));
                }
                Err(reason) => {
                    unmeasured.insert(key, reason.0);
                }
            }
        }
        Self {
            zero: (!measures.is_empty()).then(|| ZeroLine::new(&response.zero)),
            low_pass: response.method.low_pass,
            provenance: measurement.trace.provenance.clone(),
            measures,
            unmeasured,
            response: word(&response.answer),
            basis: bases(response)
                .into_iter()
                .map(|(name, basis)| (name.to_owned(), word(&basis)))
                .collect(),
            evidence: measurement
                .evidence
                .iter()
                .map(SealedEvidence::new)
                .collect(),
        }
    }
}

impl SealedEvidence {
    fn new(evidence: &Limitation) -> Self {
        let keys = |measures: &[Measure]| measures.iter().map(|one| one.key().to_owned()).collect();
        Self {
            kind: word(&evidence.kind),
            text: evidence.text.clone(),
            bounds: keys(&evidence.bounds),
            voids: keys(&evidence.voids),
        }
    }
}
