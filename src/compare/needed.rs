//! How many hits a comparison needs, from the spread of hits that are there.

use super::{
    Confidence, Layout, Margin, NoAnswer, Pilot, Plan, Question, Series, Terms, power,
    smallest_design,
};
use crate::measure::Measure;

/// The hits needed for one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// Which.
    pub measure: Measure,
    /// The margin, in the unit of its key.
    pub margin: Margin,
    /// The spread of a hit about the mean of its test point, over all points and series.
    pub pilot: Result<Pilot, NoAnswer>,
    /// The careful spread that is planned with.
    pub planned_deviation: Option<f64>,
    /// How many test points share the pooled answer.
    pub points: u32,
    /// Hits a version for one test point alone, with the power they reach.
    pub one_point: Result<(u32, f64), NoAnswer>,
    /// Hits a version at each of the points for the pooled answer, with the power they reach.
    pub pooled: Result<(u32, f64), NoAnswer>,
    /// Power at one test point alone for some numbers of hits.
    pub powers: Vec<(u32, f64)>,
}

/// What a design must reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Goal {
    /// The power wanted.
    pub power: f64,
    /// What is to be shown.
    pub question: Question,
    /// The spread of the pilot is taken this sure to be no smaller than the true one.
    pub care: Confidence,
    /// The most hits that are looked at.
    pub most: u32,
}

/// The numbers of hits for which the power is listed.
const LISTED: [u32; 5] = [3, 5, 8, 12, 20];

/// For each measure with a margin: hits needed to show "not worse", if the versions truly do not differ.
#[must_use]
pub fn needs(pilots: &[Series], terms: &Terms, goal: Goal) -> Vec<Need> {
    let with_margin = |measure: &Measure| Some((*measure, terms.margin(*measure)?));
    let measures = terms.measures.iter().filter_map(with_margin);
    measures
        .map(|(measure, margin)| need(measure, margin, pilots, terms, goal))
        .collect()
}

fn need(measure: Measure, margin: Margin, pilots: &[Series], terms: &Terms, goal: Goal) -> Need {
    let groups: Vec<Vec<f64>> = pilots
        .iter()
        .flat_map(|series| {
            let points = series.points().into_iter();
            points.map(|point| series.sample(&point, measure).values())
        })
        .collect();
    let points = pilots.first().map_or(0, |series| series.points().len()) as u32;
    let pilot = spread(&groups);
    let careful = |pilot: Pilot| Ok(pilot.deviation_at_most(goal.care)?);
    let planned = pilot.clone().and_then(careful);
    let alpha = terms.alpha();
    let plan = |layout: fn(f64, u32) -> Layout, count: u32| -> Result<Plan, NoAnswer> {
        Ok(Plan {
            layout: layout(planned.clone()?, count),
            question: goal.question,
            margin,
            difference: 0.0,
            alpha: alpha.clone()?,
        })
    };
    let alone = plan(
        |deviation, _| Layout::Groups {
            before: deviation,
            after: deviation,
        },
        1,
    );
    let blocked = plan(
        |deviation, blocks| Layout::Blocks { blocks, deviation },
        points,
    );
    let smallest = |plan: &Result<Plan, NoAnswer>| {
        let plan = plan.as_ref().map_err(Clone::clone)?;
        Ok(smallest_design(plan, goal.power, goal.most)?)
    };
    Need {
        measure,
        margin,
        pilot,
        planned_deviation: planned.clone().ok(),
        points,
        one_point: smallest(&alone),
        pooled: smallest(&blocked),
        powers: alone.as_ref().map_or_else(
            |_| Vec::new(),
            |plan| {
                let at = |hits: u32| Some((hits, power(plan, hits).ok()?));
                LISTED.into_iter().filter_map(at).collect()
            },
        ),
    }
}

/// The spread of single values about the mean of their group, over all groups.
fn spread(groups: &[Vec<f64>]) -> Result<Pilot, NoAnswer> {
    let mut squares = 0.0;
    let mut freedom = 0.0;
    for group in groups.iter().filter(|group| group.len() > 1) {
        let mean = group.iter().sum::<f64>() / group.len() as f64;
        squares += group
            .iter()
            .map(|value| (value - mean).powi(2))
            .sum::<f64>();
        freedom += (group.len() - 1) as f64;
    }
    if freedom < 1.0 {
        return Err(NoAnswer::PilotTooSmall);
    }
    let deviation = (squares / freedom).sqrt();
    if deviation <= 0.0 {
        return Err(NoAnswer::PilotWithoutSpread);
    }
    Ok(Pilot {
        deviation,
        degrees_of_freedom: freedom,
    })
}
