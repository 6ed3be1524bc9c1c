//! What a study shows as a whole about its margins: nothing missing or left out ever makes a version "not worse".

use serde::{Deserialize, Serialize};

use super::NoAnswer;
use super::effect::{Claim, Effect};
use super::study::{MeasureStudy, PointStudy, Study, Unmatched};
use crate::fact::Fact;
use crate::limits::TestPoint;
use crate::measure::Measure;

/// What a comparison shows about the margins that were fixed for it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Outcome {
    /// No margin was given: there are differences with their intervals, and nothing to decide.
    NoMargin,
    /// A worsening beyond the margin is shown, in each of these places.
    WorseBeyondMargin {
        /// The places.
        places: Vec<Worsening>,
    },
    /// Not worse by the margin, at every test point and for every measure with a margin.
    NotWorse,
    /// Neither; with the reasons.
    Undecided {
        /// The reasons.
        reasons: Vec<OpenReason>,
    },
}

/// One test point, or all that the series have in common.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Spot {
    At { test_point: TestPoint },
    AllPoints,
}

impl Fact for Spot {
    const FAMILY: &'static str = "spot";
}

/// A worsening beyond the margin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Worsening {
    /// Of what.
    pub measure: Measure,
    /// Where.
    pub spot: Spot,
}

impl Fact for Worsening {
    const FAMILY: &'static str = "worsening";
}

/// Why "not worse" cannot be said.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum OpenReason {
    /// A test point that a series lacks.
    Unmatched(Unmatched),
    /// A measure that could not be compared.
    NotCompared {
        measure: Measure,
        spot: Spot,
        no_answer: NoAnswer,
    },
    /// The interval holds the margin.
    NotExcluded { measure: Measure, spot: Spot },
    /// A hit that did not enter.
    LeftOut {
        measure: Measure,
        spot: Spot,
        log: String,
    },
    /// The series have no test point in common.
    NoCommonPoint,
}

impl Fact for OpenReason {
    const FAMILY: &'static str = "open-reason";
}

impl Study {
    /// The outcome; worked out from the effects each time, never stored.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        let held: Vec<&MeasureStudy> = self
            .measures
            .iter()
            .filter(|it| it.margin.is_some())
            .collect();
        if held.is_empty() {
            return Outcome::NoMargin;
        }
        let places: Vec<Worsening> = held.iter().flat_map(|it| it.worse()).collect();
        if !places.is_empty() {
            return Outcome::WorseBeyondMargin { places };
        }
        let unmatched = self.unmatched.iter().cloned();
        let mut reasons: Vec<OpenReason> = unmatched.map(OpenReason::Unmatched).collect();
        reasons.extend(held.iter().flat_map(|it| it.open()));
        if held.iter().all(|it| it.points.is_empty()) {
            reasons.push(OpenReason::NoCommonPoint);
        }
        if reasons.is_empty() {
            Outcome::NotWorse
        } else {
            Outcome::Undecided { reasons }
        }
    }
}

impl PointStudy {
    /// Where.
    #[must_use]
    pub const fn spot(&self) -> Spot {
        Spot::At {
            test_point: self.point,
        }
    }

    /// Hits before that were left out may have been greater: then a worsening is not proved by the rest.
    const fn before_is_whole(&self) -> bool {
        self.before.left_out.is_empty()
    }
}

impl MeasureStudy {
    /// Where a worsening beyond the margin is shown.
    fn worse(&self) -> Vec<Worsening> {
        let beyond = |effect: &Effect| effect.claim() == Some(Claim::WorseBeyond);
        let worsening = |spot| Worsening {
            measure: self.measure,
            spot,
        };
        let mut places: Vec<Worsening> = self
            .points
            .iter()
            .filter(|it| it.before_is_whole() && it.effect.as_ref().is_ok_and(beyond))
            .map(|it| worsening(it.spot()))
            .collect();
        if let Ok(pooled) = &self.pooled
            && beyond(&pooled.effect)
            && !pooled.points_differ()
            && self.points.iter().all(PointStudy::before_is_whole)
        {
            places.push(worsening(Spot::AllPoints));
        }
        places
    }

    /// Why "not worse" cannot be said.
    fn open(&self) -> Vec<OpenReason> {
        let measure = self.measure;
        let not_compared = |spot, why: &NoAnswer| OpenReason::NotCompared {
            measure,
            spot,
            no_answer: why.clone(),
        };
        let mut reasons = Vec::new();
        for it in &self.points {
            let spot = it.spot();
            match &it.effect {
                Err(why) => reasons.push(not_compared(spot, why)),
                Ok(effect) if effect.not_worse_alone() == Some(false) => {
                    reasons.push(OpenReason::NotExcluded { measure, spot });
                }
                Ok(_) => {}
            }
            let out = it.before.left_out.iter().chain(&it.after.left_out);
            reasons.extend(out.map(|out| OpenReason::LeftOut {
                measure,
                spot,
                log: out.log.clone(),
            }));
        }
        reasons.extend(
            self.pooled
                .as_ref()
                .err()
                .map(|why| not_compared(Spot::AllPoints, why)),
        );
        reasons
    }
}
