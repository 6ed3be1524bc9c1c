//! One log in a record: its digests and everything measured on it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::ingest::Notice;
use crate::limitation::Limitation;
use crate::limits::TestPoint;
use crate::measure::{Answer, Basis, LowPass, Measure, Unmeasured, Zero, ZeroFrom};
use crate::quantity::Quantity;
use crate::trace::Provenance;
use crate::visit::{Hit, Measurement, NotMeasured};

/// A log as the record holds it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    pub not_measured: Option<Unmeasured>,
}

/// The measures of a log under their keys, which end in the unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SealedMeasures {
    /// Those that have a value.
    pub measures: BTreeMap<String, f64>,
    /// Those that have none, with the reason.
    pub unmeasured: BTreeMap<String, Unmeasured>,
    /// How the leaf answered.
    pub response: Answer,
    /// What those were read from that can be read from several things.
    pub basis: BTreeMap<Measure, Basis>,
    /// What the record cannot show.
    pub limitations: Vec<Limitation>,
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ZeroLine {
    /// The number.
    pub n: f64,
    /// Where it comes from.
    pub from: ZeroFrom,
    /// Samples of the quiet stretch before contact.
    pub samples: usize,
}

impl Fact for ZeroLine {
    const FAMILY: &'static str = "zero-line";
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

impl SealedLog {
    /// A hit as the record holds it.
    #[must_use]
    pub fn new(hit: &Hit) -> Self {
        let measured = hit.measurement.as_ref();
        Self {
            file: hit.file.clone(),
            size_bytes: hit.size_bytes,
            sha256: hit.sha256.clone(),
            samples_sha256: hit.samples_sha256(),
            test_point: hit.point,
            repeat: hit.repeat,
            notices: hit.notices.clone(),
            measured: measured.ok().map(|one| SealedMeasures::new(one.as_ref())),
            not_measured: measured.err().map(NotMeasured::unmeasured),
        }
    }
}

impl SealedMeasures {
    fn new(measurement: &Measurement) -> Self {
        let response = &measurement.response;
        let (mut measures, mut unmeasured) = (BTreeMap::new(), BTreeMap::new());
        for measure in Measure::ALL {
            let key = measure.key().to_owned();
            match response.value(measure).map(Quantity::get) {
                Ok(value) if value.is_finite() => {
                    measures.insert(key, value);
                }
                Ok(_) => {
                    unmeasured.insert(key, Unmeasured::NotFinite);
                }
                Err(reason) => {
                    unmeasured.insert(key, reason);
                }
            }
        }
        Self {
            zero: (!measures.is_empty()).then(|| ZeroLine::new(&response.zero)),
            low_pass: response.method.low_pass,
            provenance: measurement.trace.provenance.clone(),
            measures,
            unmeasured,
            response: response.answer,
            basis: response.bases(),
            limitations: measurement.limitations.clone(),
        }
    }
}
