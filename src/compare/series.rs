//! One series of hits: an assessment under a name, and what of it may enter a comparison.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::limitation::Limitation;
use crate::limits::TestPoint;
use crate::measure::{Basis, Measure, Unmeasured};
use crate::verdict::{RepeatReading, Standing};
use crate::visit::{Assessment, Hit};

/// The hits of one version, or of one side of a change.
#[derive(Clone, Debug)]
pub struct Series {
    /// What the reader knows it by.
    pub name: String,
    /// Everything found on it.
    pub assessment: Assessment,
}

/// A value that enters the comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reading {
    /// Its log.
    pub log: String,
    /// Which hit at the place, from 1.
    pub repeat: u32,
    /// The value in the unit of the measure's key.
    pub value: f64,
}

/// A hit that does not enter, with the reason.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LeftOut {
    /// Its log.
    pub log: String,
    /// Which hit at the place, from 1.
    pub repeat: u32,
    /// Why.
    pub why: Excluded,
}

/// The hits of a series at one test point, for one measure.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Sample {
    /// What enters: full readings only.
    pub kept: Vec<Reading>,
    /// What does not: lower bounds, readings that prove nothing, hits without a value.
    pub left_out: Vec<LeftOut>,
    /// What the values were read from, where a measure can be read from several things; each once.
    pub read_from: Vec<Basis>,
}

impl Sample {
    /// The values, in the order of the hits.
    #[must_use]
    pub fn values(&self) -> Vec<f64> {
        self.kept.iter().map(|reading| reading.value).collect()
    }
}

impl Sample {
    /// Leaves out every hit whose number the other side does not have.
    pub(super) fn without_lone_hits(&mut self, other: &Self) {
        let paired = |it: &Reading| other.kept.iter().any(|twin| twin.repeat == it.repeat);
        let (kept, alone): (Vec<Reading>, Vec<Reading>) =
            std::mem::take(&mut self.kept).into_iter().partition(paired);
        self.kept = kept;
        self.left_out.extend(alone.into_iter().map(|it| LeftOut {
            log: it.log,
            repeat: it.repeat,
            why: Excluded::NoPartner,
        }));
    }
}

impl Series {
    /// The test points with a log, each once, in the order of the logs.
    #[must_use]
    pub fn points(&self) -> Vec<TestPoint> {
        let mut points: Vec<TestPoint> = Vec::new();
        for hit in &self.assessment.hits {
            if !points.contains(&hit.point) {
                points.push(hit.point);
            }
        }
        points
    }

    /// What the hits at a point give for a measure. A lower bound is not a value: it is left out, and so is a reading that
    /// the evidence voids.
    #[must_use]
    pub fn sample(&self, point: &TestPoint, measure: Measure) -> Sample {
        let mut sample = Sample::default();
        let here = self.assessment.hits.iter().enumerate();
        for (index, hit) in here.filter(|(_, hit)| hit.point == *point) {
            match reading(hit, index, measure) {
                Ok((value, basis)) => {
                    sample.kept.push(Reading {
                        log: hit.file.clone(),
                        repeat: hit.repeat,
                        value,
                    });
                    sample
                        .read_from
                        .extend(basis.filter(|basis| !sample.read_from.contains(basis)));
                }
                Err(why) => sample.left_out.push(LeftOut {
                    log: hit.file.clone(),
                    repeat: hit.repeat,
                    why,
                }),
            }
        }
        sample
    }
}

/// The value of a hit with what it was read from, or why it does not enter.
fn reading(hit: &Hit, index: usize, measure: Measure) -> Result<(f64, Option<Basis>), Excluded> {
    let without = |unmeasured| Excluded::NoValue { unmeasured };
    let measured = match &hit.measurement {
        Ok(measured) => measured,
        Err(why) => return Err(without(why.unmeasured())),
    };
    let value = measured.response.value(measure);
    let limitations = measured.limitations.iter().cloned();
    let read = RepeatReading::new(&hit.file, index, measure, value, limitations, None);
    let value = read.value.map_err(without)?;
    let standing = read.standing();
    let limitations = read.limitations;
    match standing {
        Standing::LowerBound => Err(Excluded::LowerBound { limitations }),
        Standing::EitherWay => Err(Excluded::EitherWay { limitations }),
        Standing::Full => Ok((value.get(), measured.response.basis(measure))),
    }
}

/// Why a hit does not enter a comparison.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Excluded {
    /// It has no value.
    NoValue {
        /// Why.
        unmeasured: Unmeasured,
    },
    /// Its true value may be greater.
    LowerBound {
        /// What limits it.
        limitations: Vec<Limitation>,
    },
    /// Its true value may be greater or smaller.
    EitherWay {
        /// What limits it.
        limitations: Vec<Limitation>,
    },
    /// The other series has no reading of a hit of its number.
    NoPartner,
}

impl Fact for Excluded {
    const FAMILY: &'static str = "excluded";
}
