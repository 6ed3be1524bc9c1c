//! A finding: one limit at one test point, everything that was read there, and what follows from it.

use super::printed::{decimals, fixed};
use super::{DecisionRule, NotCurrent, OddOne, Verdict, decide};
use crate::fact::Fact;
use crate::limitation::{self, Interval, Limitation, Standing};
use crate::limits::{Limit, TestPoint};
use crate::measure::{Measure, Measured, Unmeasured};
use crate::quantity::{Dimension, Quantity};
use crate::uncertainty::{Budget, Permitted, probability};

/// One hit's reading of the measure.
#[derive(Clone, Debug, PartialEq)]
pub struct RepeatReading {
    /// The log it comes from.
    pub log: String,
    /// The log's place among those of the assessment, from 0.
    pub index: usize,
    /// The value, or why there is none.
    pub value: Measured<Quantity>,
    /// What the record and the gauge allow the true reading to be.
    pub interval: Interval,
    /// What limits it.
    pub limitations: Vec<Limitation>,
}

impl RepeatReading {
    /// A reading with those limitations of its record that bear on this measure; `again`: as for [`limitation::interval`].
    #[must_use]
    pub fn new(
        log: &str,
        index: usize,
        measure: Measure,
        value: Measured<Quantity>,
        limitations: impl IntoIterator<Item = Limitation>,
        again: Option<[Measured<Quantity>; 2]>,
    ) -> Self {
        let bears = |one: &Limitation| one.bears_on(measure);
        let limitations: Vec<Limitation> = limitations.into_iter().filter(bears).collect();
        let of_value =
            |value: Quantity| limitation::interval(measure, value.get(), &limitations, again);
        Self {
            log: log.to_owned(),
            index,
            value,
            interval: value.map_or(Interval::ANY, of_value),
            limitations,
        }
    }

    /// How it stands for its value.
    #[must_use]
    pub fn standing(&self) -> Standing {
        let value = self.value.map(Quantity::get);
        value.map_or(Standing::EitherWay, |value| self.interval.standing(value))
    }

    /// The number, if there is one and it is one of this dimension.
    ///
    /// # Errors
    /// [`Unmeasured`] with the reason.
    pub fn number(&self, dimension: Dimension) -> Measured<f64> {
        let value = self.value?;
        if value.dimension() != dimension {
            return Err(Unmeasured::OtherQuantity {
                unit: value.dimension(),
            });
        }
        if value.get().is_finite() {
            Ok(value.get())
        } else {
            Err(Unmeasured::NotFinite)
        }
    }
}

/// To which side of the limit a value in the guard band leans.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Lean {
    Within,
    Over,
}

impl Fact for Lean {
    const FAMILY: &'static str = "lean";
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
    /// Why it no longer holds for the gate as it is, or does not yet: a change after the test, a calibration that does not
    /// cover it. Over stays over, within becomes undecided.
    pub not_current: Vec<NotCurrent>,
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

    /// Whether the whole needs it to be within, or it is shown only.
    #[must_use]
    pub const fn decides(&self) -> bool {
        self.limit.decides
    }

    /// Whether it bears on the whole: it decides, or it is over, which no other requirement takes back.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.decides() || self.verdict() == Verdict::Over
    }

    /// Mean or greatest of the readings, as the limit says, whatever limits them: see [`Finding::interval`].
    ///
    /// # Errors
    /// [`Unmeasured`] if there is no usable reading.
    pub fn value(&self) -> Measured<f64> {
        let dimension = self.limit.dimension();
        let reasons = self.repeats.iter().map(|repeat| repeat.number(dimension));
        decide::value(self).ok_or_else(|| {
            let without = match self.repeats.is_empty() {
                true => Unmeasured::NotTested,
                false => Unmeasured::NoValidReading,
            };
            reasons.filter_map(Measured::err).next().unwrap_or(without)
        })
    }

    /// What the hits, those that are missing among them, allow the true value to be, before any measurement uncertainty.
    #[must_use]
    pub fn interval(&self) -> Interval {
        decide::interval(self)
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

    /// The greatest reading.
    #[must_use]
    pub fn greatest(&self) -> Option<f64> {
        decide::readings(self).into_iter().max_by(f64::total_cmp)
    }

    /// Greatest minus least reading; `None` for fewer than two.
    #[must_use]
    pub fn spread(&self) -> Option<f64> {
        let values = decide::readings(self);
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
        fixed(number, self.decimals(number))
    }

    /// With how many decimals a single reading is printed.
    pub(super) fn decimals(&self, number: f64) -> usize {
        let expanded = self.budget.as_ref().map(|budget| budget.expanded);
        decimals(number, &self.limit, expanded)
    }
}
