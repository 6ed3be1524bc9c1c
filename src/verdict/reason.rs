//! Why a verdict is what it is, and what a reader must see beside it.

use serde::{Deserialize, Serialize};

use super::{DecisionRule, Finding, Lean, NotCurrent, RepeatReading, Verdict, decide};
use crate::fact::Fact;
use crate::limitation::{Limitation, Standing};
use crate::limits::{Assessed, NoLimit};
use crate::measure::Unmeasured;
use crate::quantity::Dimension;
use crate::uncertainty::Source;

/// Why a verdict is what it is where it does not follow from the value alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the messages of words/en/verdict.ftl say it")]
#[strum(serialize_all = "kebab-case")]
pub enum Reason {
    NotCurrent {
        not_current: NotCurrent,
    },
    NotTested,
    HitsMissing {
        found: usize,
        required: usize,
    },
    /// A reading without a value.
    NoValue {
        log: String,
        unmeasured: Unmeasured,
    },
    /// A reading whose true value may be greater.
    LowerBound {
        log: String,
        limitation: Limitation,
    },
    /// A reading whose true value may be greater or smaller.
    EitherWay {
        log: String,
        limitation: Limitation,
    },
    /// Over the limit even at the least that the records, the gauge and the missing hits allow.
    OverAnyway {
        at_least: f64,
        decimals: usize,
        unit: Dimension,
    },
    /// The decision rule needs an uncertainty.
    NoUncertainty,
    /// The decision rule needs the whole uncertainty.
    UncertaintyIncomplete {
        components: Vec<Source>,
    },
    /// A tested point at which no limit decides.
    NoLimit {
        no_limit: NoLimit,
    },
    InGuardBand {
        width: f64,
        unit: Dimension,
        lean: Lean,
    },
}

impl Fact for Reason {
    const FAMILY: &'static str = "reason";
}

/// What a reader must see beside a verdict. `decimals`: with how many a number is printed so that it does not contradict the verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, strum::VariantNames)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the messages of words/en/verdict.ftl say it")]
#[strum(serialize_all = "kebab-case")]
pub enum Remark {
    /// A single hit that is over the limit, counted from 1.
    HitOver {
        hit: usize,
        log: String,
        value: f64,
        decimals: usize,
        unit: Dimension,
    },
    /// The hit that lies farther from the mean of the others than the scatter elsewhere explains: counted like the others.
    OddOne {
        hit: usize,
        log: String,
        value: f64,
        decimals: usize,
        distance: f64,
        chance: f64,
        chance_below: f64,
        unit: Dimension,
    },
    AtLimit {
        limit: f64,
        unit: Dimension,
    },
    /// The mean of the hits is assessed, and this is the greatest of them.
    MeanAssessed {
        greatest: f64,
        decimals: usize,
        spread: f64,
        unit: Dimension,
    },
}

impl Fact for Remark {
    const FAMILY: &'static str = "remark";
}

impl Finding {
    /// Why the verdict is what it is where it does not follow from the value alone.
    #[must_use]
    pub fn reasons(&self) -> Vec<Reason> {
        let mut reasons: Vec<Reason> = self
            .not_current
            .iter()
            .map(|why| Reason::NotCurrent {
                not_current: why.clone(),
            })
            .collect();
        if self.repeats.is_empty() {
            reasons.push(Reason::NotTested);
        } else if self.repeats.len() < self.wanted {
            reasons.push(Reason::HitsMissing {
                found: self.repeats.len(),
                required: self.wanted,
            });
        }
        for repeat in &self.repeats {
            reasons.extend(self.doubts(repeat));
        }
        let verdict = self.verdict();
        if verdict == Verdict::Over && !self.complete() {
            let at_least = self.interval().at_least;
            reasons.push(Reason::OverAnyway {
                at_least,
                decimals: self.decimals(at_least),
                unit: self.limit.dimension(),
            });
        }
        if verdict == Verdict::Undecided {
            reasons.extend(self.guard_reason());
        }
        reasons
    }

    /// What keeps a reading from counting in full. What holds for the whole finding is said once, not with every hit.
    fn doubts(&self, repeat: &RepeatReading) -> Vec<Reason> {
        let log = || repeat.log.clone();
        if let Err(unmeasured) = repeat.number(self.limit.dimension()) {
            return vec![Reason::NoValue {
                log: log(),
                unmeasured,
            }];
        }
        let said = |one: &Limitation| self.not_current.iter().any(|why| why.says(one));
        let own = repeat.limitations.iter().filter(|one| !said(one)).cloned();
        own.filter_map(|limitation| {
            let log = log();
            match limitation.opens(self.limit.measure).leaves() {
                Standing::Full => None,
                Standing::LowerBound => Some(Reason::LowerBound { log, limitation }),
                Standing::EitherWay => Some(Reason::EitherWay { log, limitation }),
            }
        })
        .collect()
    }

    /// Why the decision rule leaves it undecided.
    fn guard_reason(&self) -> Option<Reason> {
        let DecisionRule::Guarded(guard) = self.rule else {
            return None;
        };
        let Some(budget) = &self.budget else {
            return Some(Reason::NoUncertainty);
        };
        if !decide::budget_serves(self) {
            return Some(Reason::UncertaintyIncomplete {
                components: budget.left_out.clone(),
            });
        }
        Some(Reason::InGuardBand {
            width: guard.width(budget.expanded, budget.combined),
            unit: self.limit.dimension(),
            lean: self.lean()?,
        })
    }

    /// What a reader must see beside the verdict: single hits over the limit, the limit met exactly.
    #[must_use]
    pub fn remarks(&self) -> Vec<Remark> {
        let unit = self.limit.dimension();
        let mut remarks = Vec::new();
        let over = self.hits_over();
        if self.verdict() != Verdict::Over || over.len() < self.repeats.len() {
            for place in over {
                let repeat = &self.repeats[place];
                let Ok(value) = repeat.value else { continue };
                remarks.push(Remark::HitOver {
                    hit: place + 1,
                    log: repeat.log.clone(),
                    value: value.get(),
                    decimals: self.decimals(value.get()),
                    unit,
                });
            }
        }
        remarks.extend(self.odd_one_remark());
        if self.headroom() == Some(0.0) {
            remarks.push(Remark::AtLimit {
                limit: self.limit.value,
                unit,
            });
        }
        if self.limit.assessed == Assessed::Mean
            && let (Some(greatest), Some(spread)) = (self.greatest(), self.spread())
        {
            remarks.push(Remark::MeanAssessed {
                greatest,
                decimals: self.decimals(greatest),
                spread,
                unit,
            });
        }
        remarks
    }

    /// What is told of the odd one out.
    #[must_use]
    pub fn odd_one_remark(&self) -> Option<Remark> {
        let odd = self.odd_one?;
        let repeat = self.repeats.get(odd.place)?;
        let value = repeat.value.ok()?.get();
        Some(Remark::OddOne {
            hit: odd.place + 1,
            log: repeat.log.clone(),
            value,
            decimals: self.decimals(value),
            distance: odd.distance,
            chance: odd.chance,
            chance_below: odd.chance_below(),
            unit: self.limit.dimension(),
        })
    }
}
