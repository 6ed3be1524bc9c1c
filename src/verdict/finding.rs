//! A finding: one limit at one test point, everything that was read there, and what follows from it.

use super::{DecisionRule, OddOne, Verdict, decide, printed};
use crate::limitation::Limitation;
use crate::limits::{Judged, Limit, TestPoint};
use crate::measure::{Measure, Measured, Unmeasured};
use crate::uncertainty::{Budget, Permitted, probability};

/// What a reading can prove.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// That the limit was kept, and that it was exceeded.
    Full,
    /// Only that it was exceeded: the true value may be greater.
    LowerBound,
    /// Neither.
    Void,
}

/// One hit's reading of the measure.
#[derive(Clone, Debug, PartialEq)]
pub struct RepeatReading {
    /// The log it comes from.
    pub log: String,
    /// The log's place among those of the assessment, from 0.
    pub index: usize,
    /// The value in the unit of the measure, or why there is none.
    pub value: Measured<f64>,
    /// What it can prove.
    pub standing: Standing,
    /// What was seen in the record that limits it, in plain words.
    pub evidence: Vec<String>,
}

impl RepeatReading {
    /// A reading with what the evidence of its record says about this measure.
    #[must_use]
    pub fn new(
        log: &str,
        index: usize,
        measure: Measure,
        value: Measured<f64>,
        evidence: &[Limitation],
    ) -> Self {
        let bears =
            |one: &&Limitation| one.bounds.contains(&measure) || one.voids.contains(&measure);
        let standing = if evidence.iter().any(|one| one.voids.contains(&measure)) {
            Standing::Void
        } else if evidence.iter().any(|one| one.bounds.contains(&measure)) {
            Standing::LowerBound
        } else {
            Standing::Full
        };
        Self {
            log: log.to_owned(),
            index,
            value,
            standing,
            evidence: evidence
                .iter()
                .filter(bears)
                .map(|one| one.text.clone())
                .collect(),
        }
    }
}

/// To which side of the limit a value in the guard band leans.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Lean {
    Within,
    Over,
}

/// One limit held against what was read at one test point.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The limit.
    pub limit: Limit,
    /// Where; `None` for a log without a test point.
    pub test_point: Option<TestPoint>,
    /// Hits wanted there.
    pub wanted: usize,
    /// The hits found.
    pub repeats: Vec<RepeatReading>,
    /// The rule chosen before the measurement.
    pub rule: DecisionRule,
    /// Uncertainty of the value; `None` where it cannot be given.
    pub budget: Option<Budget>,
    /// Reasons from outside the readings why the limit cannot be said to be kept: over stays over, within becomes undecided.
    pub objections: Vec<String>,
    /// Why it no longer holds for the gate as it is, or does not yet: a change after the test, a calibration that does not
    /// cover it. Like an objection: over stays over, within becomes undecided.
    pub not_current: Vec<String>,
    /// The hit, by its place among the repeats, that lies farther from the others than the scatter elsewhere explains: named,
    /// never dropped.
    pub odd_one: Option<OddOne>,
}

impl Finding {
    /// The verdict: a function of the fields.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        decide::verdict(self)
    }

    /// Whether it counts for the whole, or is shown only.
    #[must_use]
    pub const fn decides(&self) -> bool {
        self.limit.decides
    }

    /// Mean or greatest of the usable readings, as the limit says; a lower bound unless [`Finding::complete`].
    ///
    /// # Errors
    /// [`Unmeasured`] if there is no usable reading.
    pub fn value(&self) -> Measured<f64> {
        decide::judgement(self).map(|it| it.value).ok_or_else(|| {
            Unmeasured(
                self.repeats
                    .iter()
                    .find_map(|repeat| repeat.value.as_ref().err())
                    .map_or_else(
                        || {
                            let some = !self.repeats.is_empty();
                            if some {
                                "no reading stands"
                            } else {
                                super::NOT_TESTED
                            }
                            .to_owned()
                        },
                        |reason| reason.0.clone(),
                    ),
            )
        })
    }

    /// Whether all wanted hits are there and each stands for what it shows.
    #[must_use]
    pub fn complete(&self) -> bool {
        decide::complete(self)
    }

    /// To which side a value in the guard band leans; `None` outside it.
    #[must_use]
    pub fn lean(&self) -> Option<Lean> {
        decide::lean(self)
    }

    /// Probability that the true value is within the limit; `None` without a full budget or for a lower bound.
    #[must_use]
    pub fn probability(&self) -> Option<f64> {
        let budget = self
            .budget
            .as_ref()
            .filter(|budget| budget.left_out.is_empty())?;
        if !self.complete() || !budget.combined.is_finite() {
            return None;
        }
        let best = self.value().ok()? + budget.correction;
        Some(probability(
            Permitted::UpTo(self.limit.value),
            best,
            budget.combined,
            budget.dof,
        ))
    }

    /// Readings that are over the limit by themselves, by their place among the repeats: named even if the mean is within.
    #[must_use]
    pub fn hits_over(&self) -> Vec<usize> {
        decide::hits_over(self)
    }

    /// The greatest usable reading.
    #[must_use]
    pub fn greatest(&self) -> Option<f64> {
        decide::usable(self).into_iter().max_by(f64::total_cmp)
    }

    /// Greatest minus least usable reading; `None` for fewer than two.
    #[must_use]
    pub fn spread(&self) -> Option<f64> {
        let values = decide::usable(self);
        let least = values.iter().copied().min_by(f64::total_cmp)?;
        (values.len() > 1).then(|| self.greatest().map(|most| most - least))?
    }

    /// Value as a share of the limit.
    #[must_use]
    pub fn share_of_limit(&self) -> Option<f64> {
        Some(self.value().ok()? / self.limit.value)
    }

    /// Limit minus value, in the unit of the measure; negative over the limit.
    #[must_use]
    pub fn headroom(&self) -> Option<f64> {
        Some(self.limit.value - self.value().ok()?)
    }

    /// The value with digits that fit its uncertainty and never contradict the comparison, without a unit.
    #[must_use]
    pub fn printed_value(&self) -> Option<String> {
        Some(self.printed_number(self.value().ok()?))
    }

    /// A single reading, printed like the value.
    #[must_use]
    pub fn printed_number(&self, number: f64) -> String {
        let expanded = self.budget.as_ref().map(|budget| budget.expanded);
        printed(number, &self.limit, expanded)
    }

    /// Why the verdict is what it is where it does not follow from the value alone, in plain words.
    #[must_use]
    pub fn reasons(&self) -> Vec<String> {
        let mut reasons: Vec<String> = self
            .not_current
            .iter()
            .map(|why| format!("not current: {why}"))
            .collect();
        if self.repeats.is_empty() {
            reasons.push(super::NOT_TESTED.to_owned());
        } else if self.repeats.len() < self.wanted {
            let (found, wanted) = (self.repeats.len(), self.wanted);
            reasons.push(format!("{found} of {wanted} wanted hits were found"));
        }
        for repeat in &self.repeats {
            reasons.extend(repeat.doubt(&self.not_current));
        }
        reasons.extend(self.objections.iter().cloned());
        let verdict = self.verdict();
        if verdict == Verdict::Over && !self.complete() {
            reasons.push(
                "over the limit whatever the missing or doubtful readings would have been"
                    .to_owned(),
            );
        }
        if verdict == Verdict::Undecided {
            reasons.extend(self.guard_reason());
        }
        reasons
    }

    /// Why the decision rule leaves it undecided.
    fn guard_reason(&self) -> Option<String> {
        let DecisionRule::Guarded(guard) = self.rule else {
            return None;
        };
        let unit = self.limit.unit();
        let Some(budget) = &self.budget else {
            return Some(format!(
                "the rule {} needs an uncertainty, and there is none",
                self.rule
            ));
        };
        if !decide::budget_serves(self) {
            let missing = budget.left_out.join(", ");
            return Some(format!(
                "the rule {} needs the whole uncertainty, and it lacks: {missing}",
                self.rule
            ));
        }
        let width = guard.width(budget.expanded, budget.combined);
        let side = match self.lean()? {
            Lean::Within => "within",
            Lean::Over => "over",
        };
        Some(format!(
            "closer to the limit than the guard band of {} {unit}; it leans to {side}",
            significant(width)
        ))
    }

    /// What a reader must see beside the verdict: single hits over the limit, the limit met exactly.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let unit = self.limit.unit();
        let mut remarks = Vec::new();
        let over = self.hits_over();
        if self.verdict() != Verdict::Over || over.len() < self.repeats.len() {
            for place in over {
                let repeat = &self.repeats[place];
                let Ok(value) = &repeat.value else { continue };
                remarks.push(format!(
                    "hit {} ({}) of {} {unit} is over the limit by itself",
                    place + 1,
                    repeat.log,
                    self.printed_number(*value)
                ));
            }
        }
        remarks.extend(self.odd_one_words());
        if self.headroom() == Some(0.0) {
            remarks.push(format!(
                "exactly at the limit of {} {unit}",
                self.limit.value
            ));
        }
        if self.limit.judged == Judged::Mean
            && let (Some(greatest), Some(spread)) = (self.greatest(), self.spread())
        {
            remarks.push(format!(
                "the mean is judged; the greatest is {} {unit}, the spread {} {unit}",
                self.printed_number(greatest),
                significant(spread)
            ));
        }
        remarks
    }
}

impl Finding {
    /// The odd one out, in words.
    #[must_use]
    pub fn odd_one_words(&self) -> Option<String> {
        let odd = self.odd_one?;
        let repeat = self.repeats.get(odd.place)?;
        let value = repeat.value.as_ref().ok()?;
        let unit = self.limit.unit();
        let side = if odd.distance > 0.0 { "above" } else { "below" };
        let chance = if odd.chance < 0.001 {
            "less than 0.1".to_owned()
        } else {
            super::printed_plain(odd.chance * 100.0, 0.1)
        };
        Some(format!(
            "hit {} ({}) of {} {unit} is the odd one out: {} {unit} {side} the mean of the others, which the scatter at the other test \
             points explains with a chance of {chance} %; it counts like the others",
            odd.place + 1,
            repeat.log,
            self.printed_number(*value),
            significant(odd.distance.abs()),
        ))
    }
}

impl RepeatReading {
    /// What keeps this reading from counting in full.
    fn doubt(&self, said: &[String]) -> Option<String> {
        let log = &self.log;
        match &self.value {
            Err(reason) => return Some(format!("{log}: {reason}")),
            Ok(value) if !value.is_finite() => {
                return Some(format!("{log}: the reading is no number"));
            }
            Ok(_) => {}
        }
        // What holds for the whole finding is said once, not with every hit.
        let own: Vec<&str> = self
            .evidence
            .iter()
            .filter(|why| !said.contains(why))
            .map(String::as_str)
            .collect();
        if own.is_empty() && !self.evidence.is_empty() {
            return None;
        }
        let why = own.join("; ");
        match self.standing {
            Standing::Full => None,
            Standing::LowerBound => Some(format!("{log}: the true value may be greater: {why}")),
            Standing::Void => Some(format!("{log}: the reading proves nothing: {why}")),
        }
    }
}

/// Three significant digits.
fn significant(number: f64) -> String {
    super::printed_plain(number, number / 100.0)
}
