//! What a study shows as a whole about its margins: nothing missing or left out ever makes a version "not worse".

use super::effect::{Claim, Effect};
use super::study::{MeasureStudy, PointStudy, Study};

/// What a comparison shows about the margins that were fixed for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// No margin was given: there are differences with their intervals, and nothing to decide.
    NoMargin,
    /// A worsening beyond the margin is shown, in each of these places.
    WorseBeyond(Vec<String>),
    /// Not worse by the margin, at every test point and for every measure with a margin.
    NotWorse,
    /// Neither; with the reasons.
    Undecided(Vec<String>),
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
        let worse: Vec<String> = held.iter().flat_map(|it| it.worse()).collect();
        if !worse.is_empty() {
            return Outcome::WorseBeyond(worse);
        }
        let mut reasons: Vec<String> = self
            .unmatched
            .iter()
            .map(|it| format!("{}: no hit in {}", it.point, it.missing_in))
            .collect();
        reasons.extend(held.iter().flat_map(|it| it.open()));
        if held.iter().all(|it| it.points.is_empty()) {
            reasons.push("the series have no test point in common".to_owned());
        }
        if reasons.is_empty() {
            Outcome::NotWorse
        } else {
            Outcome::Undecided(reasons)
        }
    }
}

impl PointStudy {
    /// Hits before that were left out may have been greater: then a worsening is not proved by the rest.
    const fn before_is_whole(&self) -> bool {
        self.before.left_out.is_empty()
    }
}

impl MeasureStudy {
    /// Where a worsening beyond the margin is shown.
    fn worse(&self) -> Vec<String> {
        let beyond = |effect: &Effect| effect.claim() == Some(Claim::WorseBeyond);
        let mut places: Vec<String> = self
            .points
            .iter()
            .filter(|it| it.before_is_whole() && it.effect.as_ref().is_ok_and(beyond))
            .map(|it| format!("{}: {}", self.measure, it.point))
            .collect();
        if let Ok(pooled) = &self.pooled
            && beyond(&pooled.effect)
            && !pooled.points_differ()
            && self.points.iter().all(PointStudy::before_is_whole)
        {
            places.push(format!("{}: over all test points", self.measure));
        }
        places
    }

    /// Why "not worse" cannot be said.
    fn open(&self) -> Vec<String> {
        let mut reasons = Vec::new();
        for it in &self.points {
            let here = format!("{}, {}", self.measure, it.point);
            match &it.effect {
                Err(why) => reasons.push(format!("{here}: {why}")),
                Ok(effect) if effect.not_worse_alone() == Some(false) => {
                    reasons.push(format!("{here}: a worsening by the margin is not excluded"));
                }
                Ok(_) => {}
            }
            let out = it.before.left_out.iter().chain(&it.after.left_out);
            reasons.extend(out.map(|out| format!("{here}: {} was left out", out.log)));
        }
        if let Err(why) = &self.pooled {
            reasons.push(format!("{}, over all test points: {why}", self.measure));
        }
        reasons
    }
}
