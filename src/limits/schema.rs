//! The TOML of a limit profile, as plain structs, and what it becomes.

mod numbers;

use serde::Deserialize;

use super::profile::{
    Assessed, Band, Bound, Confirmation, Disagreement, GaugeRules, Limit, NotAssessed, Profile,
    ProfileValue, SmallestGap,
};
use super::scheme::Scheme;
use super::shelf::{Complaint, ProfileError};
use super::{Direction, Hazard, Motion, SourceKind};
use crate::fact::Fact;
use crate::limitation::Tolerances;
use crate::measure::{LowPass, Measure, Method};
use crate::quantity::{Hertz, Millimetre, Newton, NewtonPerMillimetre, Second};
use crate::toml_tree::{Fault, Tree};

pub(super) use numbers::Named;

/// A profile file as it stands.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Document {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) about: String,
    pub(super) method: MethodTable,
    #[serde(default)]
    pub(super) gauge: GaugeTable,
    pub(super) limitations: LimitationsTable,
    pub(super) smallest_gap: Option<SmallestGapTable>,
    #[serde(rename = "limit")]
    pub(super) limits: Vec<LimitTable>,
    #[serde(default)]
    pub(super) test_points: TestPointsTable,
    #[serde(rename = "scheme", default)]
    pub(super) schemes: Vec<Scheme>,
    #[serde(rename = "disagreement", default)]
    pub(super) disagreements: Vec<Disagreement>,
    #[serde(default)]
    pub(super) not_assessed: Vec<NotAssessed>,
    #[serde(skip)]
    pub(super) extends: Option<String>,
}

/// A number with its mark.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Marked {
    pub(super) value: f64,
    pub(super) source: SourceKind,
    pub(super) clause: Option<String>,
    pub(super) note: Option<String>,
    pub(super) confirmed_on: Option<String>,
    pub(super) confirmed_from: Option<String>,
    #[serde(skip)]
    pub(super) corrected_from: Option<f64>,
    /// Where it starts in the text that gave its value.
    #[serde(skip)]
    pub(super) start: usize,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MethodTable {
    contact_level_n: Marked,
    static_level_n: Marked,
    residual_level_n: Marked,
    effective_level_n: Marked,
    dynamic_period_s: Marked,
    record_s: Marked,
    low_pass: Option<LowPassTable>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LowPassTable {
    corner_hz: Marked,
    order: Marked,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GaugeTable {
    spring_rate_n_mm: Option<Marked>,
    spring_rate_band_n_mm: Option<Marked>,
    face_diameter_mm: Option<Marked>,
    capacity_from_n: Option<Marked>,
    capacity_to_n: Option<Marked>,
    accuracy_share: Option<Marked>,
    calibration_months: Option<Marked>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitationsTable {
    sampling_tolerance_share: Marked,
    drift_share_of_residual_level: Marked,
    equal_samples_at_top: Marked,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TestPointsTable {
    place_tolerance_mm: Option<Marked>,
    hits_at_least: Option<Marked>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SmallestGapTable {
    gap_mm: Marked,
    instead: String,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitTable {
    pub(super) name: String,
    pub(super) measure: Measure,
    pub(super) value: f64,
    pub(super) unit: String,
    #[serde(default = "at_most")]
    pub(super) bound: Bound,
    pub(super) source: SourceKind,
    pub(super) clause: Option<String>,
    motions: Option<Vec<Motion>>,
    hazards: Option<Vec<Hazard>>,
    directions: Option<Vec<Direction>>,
    #[serde(default)]
    gap: Band,
    assessed: Assessed,
    decides: bool,
    reading_of: Option<String>,
    pub(super) note: Option<String>,
    pub(super) confirmed_on: Option<String>,
    pub(super) confirmed_from: Option<String>,
    #[serde(skip)]
    pub(super) corrected_from: Option<f64>,
    /// Where it starts in the text that gave its value.
    #[serde(skip)]
    pub(super) start: usize,
}

const fn at_most() -> Bound {
    Bound::AtMost
}

impl Document {
    /// The document of a text, each of its numbers with its place.
    pub(super) fn of(tree: &Tree<'_>) -> Result<Self, Fault> {
        let mut document: Self = tree.read()?;
        for (index, limit) in document.limits.iter_mut().enumerate() {
            limit.start = tree.place(&["limit", &index.to_string()]).start;
        }
        for Named { path, marked, .. } in document.marked() {
            let path: Vec<&str> = path.split('.').chain(["value"]).collect();
            marked.start = tree.place(&path).start;
        }
        Ok(document)
    }

    /// The profile this document stands for, or the first thing wrong with it.
    pub(super) fn build(mut self, place: &Complaint<'_>) -> Result<Profile, ProfileError> {
        if self.name.is_empty() || self.name.contains(['/', ' ']) {
            return Err(place.key("name", &self.name, "a name without blanks and without /"));
        }
        let values = self.values(place)?;
        let limits = self.build_limits(place)?;
        let method = self.build_method();
        Ok(Profile {
            low_pass: method.low_pass,
            method,
            limits,
            values,
            gauge: self.build_gauge(),
            limitations: self.build_limitations(),
            smallest_gap: self.smallest_gap.map(|table| SmallestGap {
                gap: Millimetre(table.gap_mm.value),
                note: table.instead,
            }),
            hits_at_least: self.test_points.hits_at_least.as_ref().map_or(1, whole),
            // Without the number a point is the wanted one only to the digit.
            place_tolerance: Millimetre(
                self.test_points
                    .place_tolerance_mm
                    .map_or(0.0, |marked| marked.value),
            ),
            name: self.name,
            title: self.title,
            about: self.about,
            extends: self.extends,
            schemes: self.schemes,
            disagreements: self.disagreements,
            not_assessed: self.not_assessed,
        })
    }

    fn values(&mut self, place: &Complaint<'_>) -> Result<Vec<ProfileValue>, ProfileError> {
        let mut values = Vec::new();
        for Named {
            name, unit, marked, ..
        } in self.marked()
        {
            let number = marked.value;
            let positive = number.is_finite() && number > 0.0;
            if !positive {
                return Err(place.at(marked.start, name, &number.to_string(), "a number above 0"));
            }
            if matches!(
                name,
                "equal-samples-at-top" | "method-low-pass-order" | "hits-at-least"
            ) && number.fract() != 0.0
            {
                return Err(place.at(marked.start, name, &number.to_string(), "a whole number"));
            }
            if let Some(most) = most(name).filter(|most| number > *most) {
                let expected =
                    format!("at most {most}: more would let a record pass that shows nothing");
                return Err(place.at(marked.start, name, &number.to_string(), &expected));
            }
            values.push(ProfileValue {
                name: name.to_owned(),
                value: number,
                unit,
                source: marked.source,
                clause: marked.clause.clone(),
                note: marked.note.clone(),
                confirmation: confirmation(
                    place,
                    name,
                    marked.start,
                    marked.source,
                    (
                        marked.confirmed_on.as_deref(),
                        marked.confirmed_from.as_deref(),
                    ),
                    marked.corrected_from,
                )?,
            });
        }
        Ok(values)
    }

    fn build_limits(&self, place: &Complaint<'_>) -> Result<Vec<Limit>, ProfileError> {
        let mut limits: Vec<Limit> = Vec::new();
        for table in &self.limits {
            let limit = build_limit(&self.name, table, place)?;
            if limits.iter().any(|other| other.name == limit.name) {
                return Err(place.at(
                    table.start,
                    "limit.name",
                    &table.name,
                    "a name that no other limit has",
                ));
            }
            limits.push(limit);
        }
        if limits.is_empty() {
            return Err(place.key("limit", "none", "at least one [[limit]]"));
        }
        Ok(limits)
    }

    fn build_method(&self) -> Method {
        let method = &self.method;
        let number = |marked: &Marked| marked.value;
        Method {
            profile: self.name.clone(),
            contact_level: Newton(number(&method.contact_level_n)),
            static_level: Newton(number(&method.static_level_n)),
            residual_level: Newton(number(&method.residual_level_n)),
            effective_level: Newton(number(&method.effective_level_n)),
            dynamic_period: Second(number(&method.dynamic_period_s)),
            record: Second(number(&method.record_s)),
            low_pass: method
                .low_pass
                .as_ref()
                .map(|low_pass| LowPass::Butterworth {
                    corner_hz: Hertz(number(&low_pass.corner_hz)).get(),
                    order: whole(&low_pass.order),
                }),
        }
    }

    fn build_gauge(&self) -> GaugeRules {
        let gauge = &self.gauge;
        let number = |marked: &Option<Marked>| marked.as_ref().map(|marked| marked.value);
        GaugeRules {
            spring_rate: number(&gauge.spring_rate_n_mm).map(NewtonPerMillimetre),
            spring_rate_band: number(&gauge.spring_rate_band_n_mm).map(NewtonPerMillimetre),
            face_diameter: number(&gauge.face_diameter_mm).map(Millimetre),
            capacity_from: number(&gauge.capacity_from_n).map(Newton),
            capacity_to: number(&gauge.capacity_to_n).map(Newton),
            accuracy_share: number(&gauge.accuracy_share),
            calibration_months: number(&gauge.calibration_months),
        }
    }

    fn build_limitations(&self) -> Tolerances {
        let limitations = &self.limitations;
        Tolerances {
            sampling_tolerance_share: limitations.sampling_tolerance_share.value,
            drift_share_of_residual_level: limitations.drift_share_of_residual_level.value,
            equal_samples_at_top: whole(&limitations.equal_samples_at_top),
        }
    }
}

/// The greatest value of a number that could make a check worthless. This project's own bounds.
fn most(name: &str) -> Option<f64> {
    match name {
        "place-tolerance" => Some(50.0),
        "sampling-tolerance-share" => Some(0.1),
        "drift-share-of-residual-level" => Some(1.0),
        "equal-samples-at-top" => Some(20.0),
        "gauge-accuracy-share" => Some(0.2),
        "gauge-calibration-months" => Some(60.0),
        "hits-at-least" => Some(100.0),
        _ => None,
    }
}

/// A number that `values` has found to be whole and above 0.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and positive when the values were read"
)]
fn whole(marked: &Marked) -> usize {
    marked.value as usize
}

fn build_limit(
    profile: &str,
    table: &LimitTable,
    place: &Complaint<'_>,
) -> Result<Limit, ProfileError> {
    let start = table.start;
    let wrong = |key: &str, found: &str, expected: &str| Err(place.at(start, key, found, expected));
    if table.name.is_empty() || table.name.contains(['/', ' ']) {
        return wrong(
            "limit.name",
            &table.name,
            "a name without blanks and without /",
        );
    }
    if !(table.value.is_finite() && table.value > 0.0) {
        return wrong("limit.value", &table.value.to_string(), "a number above 0");
    }
    if table.unit != table.measure.unit() {
        return wrong("limit.unit", &table.unit, table.measure.unit());
    }
    Ok(Limit {
        name: format!("{profile}/{}", table.name),
        measure: table.measure,
        value: table.value,
        bound: table.bound,
        source: table.source,
        clause: table.clause.clone(),
        motions: table
            .motions
            .clone()
            .unwrap_or_else(|| Motion::ALL.to_vec()),
        hazards: table
            .hazards
            .clone()
            .unwrap_or_else(|| Hazard::ALL.to_vec()),
        directions: table
            .directions
            .clone()
            .unwrap_or_else(|| Direction::ALL.to_vec()),
        gap: table.gap,
        assessed: table.assessed,
        decides: table.decides,
        reading_of: table.reading_of.clone(),
        note: table.note.clone(),
        confirmation: confirmation(
            place,
            &table.name,
            start,
            table.source,
            (
                table.confirmed_on.as_deref(),
                table.confirmed_from.as_deref(),
            ),
            table.corrected_from,
        )?,
    })
}

/// Who confirmed a value. A value marked confirmed must say so, and no other may.
fn confirmation(
    place: &Complaint<'_>,
    name: &str,
    start: usize,
    known: SourceKind,
    (on, from): (Option<&str>, Option<&str>),
    corrected_from: Option<f64>,
) -> Result<Option<Confirmation>, ProfileError> {
    let found = format!("source {}", known.code());
    match (known, on, from) {
        (SourceKind::Confirmed, Some(on), Some(from)) if !from.trim().is_empty() => {
            let day = on.parse().map_err(|_| {
                place.at(
                    start,
                    &format!("{name}.confirmed_on"),
                    on,
                    "a day as YYYY-MM-DD",
                )
            })?;
            Ok(Some(Confirmation {
                on: day,
                from: from.to_owned(),
                corrected_from,
            }))
        }
        (SourceKind::Confirmed, ..) => Err(place.at(
            start,
            name,
            &found,
            "confirmed_on and confirmed_from beside it",
        )),
        (_, None, None) => Ok(None),
        _ => Err(place.at(
            start,
            name,
            &found,
            "source = \"confirmed\" beside confirmed_on and confirmed_from",
        )),
    }
}
