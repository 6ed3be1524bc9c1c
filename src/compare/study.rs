//! Two series on the same test points: every measure at every point, and pooled with the point as block.

use serde::Serialize;

use super::effect::{Claim, Effect, adjust};
use super::{
    AdditiveEffect, Alpha, Block, Confidence, Counting, Estimate, Margin, NoAnswer,
    PermutationTest, Sample, Series, StatisticsError, additive_effect, mean_block_effect,
    permutation_test,
};
use crate::fact::Fact;
use crate::limits::TestPoint;
use crate::measure::Measure;

/// What is compared unless other measures are asked for.
pub const COMPARED: [Measure; 7] = [
    Measure::PeakForce,
    Measure::DynamicPeriod,
    Measure::StaticForce,
    Measure::ResidualForce,
    Measure::StopTime,
    Measure::ReversalTime,
    Measure::Impulse,
];

/// How the hits of the two series belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Arrangement {
    /// Each series for itself.
    Separate,
    /// Hit 1 before with hit 1 after, and so on: made in turn.
    Paired,
}

/// What is asked, and how sure the answer must be; fixed before the comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Terms {
    /// The measures, in order.
    pub measures: Vec<Measure>,
    /// Confidence of the intervals. Each one-sided claim may be wrong with half of what is left to 1.
    pub confidence: Confidence,
    /// Margin of forces in N.
    pub margin_force_n: Option<Margin>,
    /// Margin of times in s.
    pub margin_time_s: Option<Margin>,
    /// Margin of the impulse in N·s.
    pub margin_impulse_ns: Option<Margin>,
    /// How the hits belong together.
    pub arrangement: Arrangement,
    /// How the permutations are counted.
    pub counting: Counting,
}

impl Terms {
    /// The margin of a measure, in the unit of its key.
    #[must_use]
    pub fn margin(&self, measure: Measure) -> Option<Margin> {
        match measure.unit() {
            "N" => self.margin_force_n,
            "s" => self.margin_time_s,
            "N·s" => self.margin_impulse_ns,
            _ => None,
        }
    }

    /// Permitted probability of a wrong one-sided claim: (1 − confidence)/2.
    ///
    /// # Errors
    /// None for a [`Confidence`].
    pub fn alpha(&self) -> Result<Alpha, StatisticsError> {
        Alpha::new((1.0 - self.confidence.level()) / 2.0)
    }
}

/// One measure at one test point.
#[derive(Clone, Debug, PartialEq)]
pub struct PointStudy {
    /// Where.
    pub point: TestPoint,
    /// The hits before.
    pub before: Sample,
    /// The hits after.
    pub after: Sample,
    /// The difference after − before, or why there is none.
    pub effect: Result<Effect, NoAnswer>,
}

/// One measure over all common test points.
#[derive(Clone, Debug, PartialEq)]
pub struct Pooled {
    /// The common effect in the additive model.
    pub effect: Effect,
    /// The mean of the points' own differences, each point with its own spread; `None` where a point has too few hits for it.
    pub mean_of_points: Option<Estimate>,
    /// What exchanging the labels within the points makes of it.
    pub permutation: Result<PermutationTest, NoAnswer>,
    /// The effect as the additive model gives it.
    pub additive: AdditiveEffect,
    /// How many points entered.
    pub points: usize,
}

/// One measure.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureStudy {
    /// Which.
    pub measure: Measure,
    /// Its margin, in the unit of its key.
    pub margin: Option<Margin>,
    /// The common test points.
    pub points: Vec<PointStudy>,
    /// All of them at once, or why not.
    pub pooled: Result<Pooled, NoAnswer>,
}

/// The p under which the effect counts as different from point to point.
const POINTS_DIFFER: f64 = 0.05;

impl Pooled {
    /// Whether the points are shown to differ in the effect: then the common effect speaks for none of them.
    #[must_use]
    pub fn points_differ(&self) -> bool {
        let interaction = self.additive.interaction.as_ref();
        interaction.is_some_and(|it| it.p < POINTS_DIFFER)
    }
}

impl MeasureStudy {
    /// The weakest claim about the margin over all test points; `None` without a margin.
    #[must_use]
    pub fn weakest_claim(&self) -> Option<Claim> {
        self.margin?;
        let claims = self.points.iter().map(|it| match &it.effect {
            Ok(effect) => effect.claim().unwrap_or(Claim::NotShown),
            Err(_) => Claim::NotShown,
        });
        Some(claims.max().unwrap_or(Claim::NotShown))
    }

    /// Whether the pooled claim may stand for the measure: the points do not differ, and none is worse by the margin.
    #[must_use]
    pub fn pooled_speaks(&self) -> bool {
        let differ = self.pooled.as_ref().is_ok_and(Pooled::points_differ);
        !differ && self.weakest_claim() != Some(Claim::WorseBeyond)
    }
}

/// A test point that only one of the series has.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Unmatched {
    /// Which.
    pub test_point: TestPoint,
    /// The series that lacks it.
    pub missing_in: String,
}

impl Fact for Unmatched {
    const FAMILY: &'static str = "unmatched";
}

/// Two series compared.
#[derive(Clone, Debug, PartialEq)]
pub struct Study {
    /// Name of the series before.
    pub before: String,
    /// Name of the series after.
    pub after: String,
    /// The terms.
    pub terms: Terms,
    /// One for each measure of the terms.
    pub measures: Vec<MeasureStudy>,
    /// Test points without a counterpart.
    pub unmatched: Vec<Unmatched>,
}

/// Compares a series with a reference, measure by measure and point by point.
#[must_use]
pub fn study(before: &Series, after: &Series, terms: &Terms) -> Study {
    let (old, new) = (before.points(), after.points());
    let common: Vec<TestPoint> = old.iter().copied().filter(|it| new.contains(it)).collect();
    let lacks = |points: &[TestPoint], series: &Series, others: &[TestPoint]| {
        let alone = points.iter().filter(|point| !others.contains(point));
        alone
            .map(|point| Unmatched {
                test_point: *point,
                missing_in: series.name.clone(),
            })
            .collect::<Vec<_>>()
    };
    let mut unmatched = lacks(&old, after, &new);
    unmatched.extend(lacks(&new, before, &old));
    let mut measures: Vec<MeasureStudy> = terms
        .measures
        .iter()
        .map(|measure| of_measure(*measure, &common, (before, after), terms))
        .collect();
    adjust(
        measures
            .iter_mut()
            .flat_map(|one| {
                one.points
                    .iter_mut()
                    .filter_map(|it| it.effect.as_mut().ok())
            })
            .collect(),
    );
    adjust(
        measures
            .iter_mut()
            .filter_map(|one| one.pooled.as_mut().ok().map(|pooled| &mut pooled.effect))
            .collect(),
    );
    Study {
        before: before.name.clone(),
        after: after.name.clone(),
        terms: terms.clone(),
        measures,
        unmatched,
    }
}

fn of_measure(
    measure: Measure,
    common: &[TestPoint],
    (before, after): (&Series, &Series),
    terms: &Terms,
) -> MeasureStudy {
    let margin = terms.margin(measure);
    let points: Vec<PointStudy> = common
        .iter()
        .map(|point| {
            let (mut x, mut y) = (before.sample(point, measure), after.sample(point, measure));
            if terms.arrangement == Arrangement::Paired {
                let whole = x.clone();
                x.without_lone_hits(&y);
                y.without_lone_hits(&whole);
            }
            let effect = one_reading(&x, &y).and_then(|()| Effect::at_point(&x, &y, margin, terms));
            PointStudy {
                point: *point,
                before: x,
                after: y,
                effect,
            }
        })
        .collect();
    let pooled = pool(&points, margin, terms);
    MeasureStudy {
        measure,
        margin,
        points,
        pooled,
    }
}

/// A time read from the leaf's position and one read from the force are not the same time.
fn one_reading(before: &Sample, after: &Sample) -> Result<(), NoAnswer> {
    let mut bases = before.read_from.clone();
    bases.extend(&after.read_from);
    bases.dedup();
    match bases.as_slice() {
        [] | [_] => Ok(()),
        _ => Err(NoAnswer::ReadFromDifferentThings),
    }
}

fn pool(points: &[PointStudy], margin: Option<Margin>, terms: &Terms) -> Result<Pooled, NoAnswer> {
    let left: Vec<&PointStudy> = points
        .iter()
        .filter(|it| one_reading(&it.before, &it.after).is_ok())
        .filter(|it| !it.before.kept.is_empty() && !it.after.kept.is_empty())
        .collect();
    if left.is_empty() {
        return Err(NoAnswer::NoCommonValue);
    }
    let sides: Vec<(Vec<f64>, Vec<f64>)> = match terms.arrangement {
        Arrangement::Separate => left
            .iter()
            .map(|it| (it.before.values(), it.after.values()))
            .collect(),
        Arrangement::Paired => left
            .iter()
            .flat_map(|it| pairs(&it.before, &it.after))
            .map(|(x, y)| (vec![x], vec![y]))
            .collect(),
    };
    let blocks: Vec<Block<'_>> = sides
        .iter()
        .map(|(before, after)| Block { before, after })
        .collect();
    let additive = additive_effect(&blocks)?;
    let alpha = terms.alpha()?;
    Ok(Pooled {
        effect: Effect::of(additive.estimate, margin, terms.confidence, alpha),
        mean_of_points: mean_block_effect(&blocks).ok(),
        permutation: permutation_test(&blocks, terms.counting).map_err(NoAnswer::from),
        additive,
        points: left.len(),
    })
}

/// The values of the hits that both sides have, by the number of the hit.
pub(super) fn pairs(before: &Sample, after: &Sample) -> Vec<(f64, f64)> {
    let twin = |repeat: u32| after.kept.iter().find(|it| it.repeat == repeat);
    before
        .kept
        .iter()
        .filter_map(|it| Some((it.value, twin(it.repeat)?.value)))
        .collect()
}
