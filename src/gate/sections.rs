//! The sections of a gate file, one struct each. The doc comment of a field is what an editor shows while it is typed;
//! its `schemars` attributes are the bounds that [`super::form`] holds it to: `exclusiveMinimum`, `minimum` and `maximum`
//! refuse a number, `plausible` asks about it, `lines` lets a text have more than one. The unit of a number is the end of its key.

use std::collections::BTreeMap;
use std::fmt;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::history::DatedCertificate;
use crate::limits::{Direction, Hazard, Motion, Obstacle, TestPoint, VisitKind};
use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};
use crate::verdict::{DecisionRule, Guard};

/// The version of the gate file's keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Schema {
    /// The first version.
    #[serde(rename = "relent.gate/1")]
    Gate1,
}

/// The leaf and its surroundings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct GateSection {
    /// What the gate is called on reports.
    pub name: String,
    /// Where it stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// How the leaf moves.
    pub motion: Motion,
    /// Mass of the leaf in kg.
    #[serde(
        rename = "leaf_mass_kg",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50_000, "plausible" = [5, 5000])))]
    pub leaf_mass: Option<Kilogram>,
    /// Height of the leaf in mm, from the ground to its top.
    #[serde(
        rename = "leaf_height_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 100, "maximum" = 20_000, "plausible" = [400, 8000])))]
    pub leaf_height: Option<Millimetre>,
    /// Width of the leaf in mm, along the closed gate.
    #[serde(
        rename = "leaf_width_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 100, "maximum" = 40_000, "plausible" = [400, 20_000])))]
    pub leaf_width: Option<Millimetre>,
    /// Clear opening in mm, between the counter edges with the gate open.
    #[serde(
        rename = "clear_opening_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 100, "maximum" = 40_000, "plausible" = [400, 20_000])))]
    pub clear_opening: Option<Millimetre>,
    /// Clearance between the leaf and the ground in mm.
    #[serde(
        rename = "ground_clearance_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 2000, "plausible" = [0, 300])))]
    pub ground_clearance: Option<Millimetre>,
    /// What the leaf closes against, in words: post, wall, second leaf …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counter_edge: Option<String>,
    /// What the opening leaf comes near: decides whether hits on opening belong to the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening_side: Option<OpeningSide>,
    /// Space in mm left between the obstacle and the fully open leaf.
    #[serde(
        rename = "obstacle_space_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 500)))]
    pub obstacle_space: Option<Millimetre>,
    /// Height in mm of the most protruding point of the obstacle, where it has one.
    #[serde(
        rename = "obstacle_height_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 20_000, "plausible" = [50, 4000])))]
    pub obstacle_height: Option<Millimetre>,
    /// Parts of this leaf that can hit a person, besides its main closing edge.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<Hazard>,
}

impl GateSection {
    /// The obstacle near the opening leaf, where the gate file says that there is one.
    #[must_use]
    pub fn obstacle(&self) -> Option<Obstacle> {
        let space = self.obstacle_space?;
        Some(Obstacle {
            space_mm: space.get(),
            height_mm: self.obstacle_height.map(Millimetre::get),
        })
    }
}

/// What the opening leaf comes near.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum OpeningSide {
    /// Nothing stands within 500 mm of the leaf on its way to fully open.
    Clear,
    /// A post, wall or other obstacle stands within 500 mm.
    #[serde(rename = "obstacle-within-500-mm")]
    ObstacleWithin500Mm,
}

/// The drive and how it is set.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DriveSection {
    /// What is written on the drive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub model: Option<String>,
    /// Version of its firmware, as the drive shows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub firmware: Option<String>,
    /// Greatest leaf mass in kg that the drive is rated for.
    #[serde(
        rename = "rated_mass_kg",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50_000, "plausible" = [20, 8000])))]
    pub rated_mass: Option<Kilogram>,
    /// Greatest force in N to move the leaf by hand that the drive is rated for.
    #[serde(
        rename = "rated_pull_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50_000, "plausible" = [10, 3000])))]
    pub rated_pull: Option<Newton>,
    /// Speed of the closing leaf in mm/s near the test point, where it is known and not logged.
    #[serde(
        rename = "closing_speed_mm_s",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 5000, "plausible" = [10, 1500])))]
    pub closing_speed: Option<MillimetrePerSecond>,
    /// Speed of the opening leaf in mm/s near the test point, where it is known and not logged.
    #[serde(
        rename = "opening_speed_mm_s",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 5000, "plausible" = [10, 1500])))]
    pub opening_speed: Option<MillimetrePerSecond>,
    /// Settings of the drive under the names it gives them: any key, with a number, a text, true or false.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub settings: BTreeMap<String, Setting>,
}

/// The value of one setting of the drive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Setting {
    Switch(bool),
    Whole(i64),
    Number(f64),
    Text(String),
}

impl fmt::Display for Setting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Switch(true) => f.write_str("on"),
            Self::Switch(false) => f.write_str("off"),
            Self::Whole(number) => number.fmt(f),
            Self::Number(number) => number.fmt(f),
            Self::Text(text) => text.fmt(f),
        }
    }
}

/// The edge or bumper on the leaf.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EdgeSection {
    /// What it is, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// How far it gives way in mm before it is solid.
    #[serde(rename = "travel_mm", default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 500, "plausible" = [0, 200])))]
    pub travel: Option<Millimetre>,
}

/// The force gauge.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct GaugeSection {
    /// Its serial number: readings of different gauges are told apart by it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Rate of its spring in N/mm.
    #[serde(
        rename = "spring_rate_n_per_mm",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 100_000, "plausible" = [5, 1000])))]
    pub spring_rate: Option<NewtonPerMillimetre>,
    /// Greatest force in N that it can show.
    #[serde(
        rename = "capacity_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 1_000_000, "plausible" = [100, 10_000])))]
    pub capacity: Option<Newton>,
    /// The face that the leaf hits, in words: round 80 mm, rubber …
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub face: Option<String>,
    /// Class limit of the gauge: ± this many percent of the reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 50, "plausible" = [0.05, 10])))]
    pub accuracy_percent: Option<f64>,
    /// Class limit of the gauge: ± this many N, in addition to the share of the reading.
    #[serde(
        rename = "accuracy_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 1000, "plausible" = [0, 50])))]
    pub accuracy: Option<Newton>,
    /// Smallest step in N between two readings in the log.
    #[serde(
        rename = "resolution_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 1000, "plausible" = [0.000_1, 20])))]
    pub resolution: Option<Newton>,
    /// Day of the last calibration, as 2026-03-02.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub calibrated_on: Option<Date>,
    /// Last day on which that calibration holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>", extend("format" = "date")))]
    pub calibration_due: Option<Date>,
    /// Whether the gauge sets itself to zero before each hit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zeroes_itself: Option<bool>,
    /// What its calibration certificate says; used instead of the class limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub certificate: Option<Certificate>,
    /// Certificates that came before or after that one, each with its day: a new one re-opens what an expired one left open.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub certificates: Vec<DatedCertificate>,
}

/// A calibration certificate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Certificate {
    /// Number of the certificate.
    pub number: String,
    /// Who calibrated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laboratory: Option<String>,
    /// Expanded uncertainty in percent of the reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50, "plausible" = [0.01, 10])))]
    pub expanded_uncertainty_percent: Option<f64>,
    /// Expanded uncertainty in N, in addition to the share of the reading.
    #[serde(
        rename = "expanded_uncertainty_n",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 1000, "plausible" = [0.001, 50])))]
    pub expanded_uncertainty: Option<Newton>,
    /// Coverage factor k of the expanded uncertainty, as the certificate states it.
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 1, "maximum" = 5, "plausible" = [1.6, 3.4])))]
    pub coverage_factor: f64,
}

/// The visit on which the hits were logged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct VisitSection {
    /// Day of the visit, as 2026-11-25.
    #[cfg_attr(feature = "schema", schemars(with = "String", extend("format" = "date")))]
    pub date: Date,
    /// Why the gate was tested: decides how many hits are asked for.
    pub kind: VisitKind,
    /// Scheme of test points, where the profile has more than one for this kind of visit. The default is its first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scheme: Option<String>,
    /// Folders of earlier visits to this gate, from the gate file: their logs are looked through for copies.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub earlier: Vec<String>,
    /// Who tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tested_by: Option<String>,
    /// Temperature at the gate in °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = -60, "maximum" = 80, "plausible" = [-30, 50])))]
    pub temperature_c: Option<f64>,
    /// Wind, in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind: Option<String>,
    /// Supply voltage at the drive in V.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 1000, "plausible" = [10, 500])))]
    pub supply_v: Option<f64>,
    /// Anything else worth keeping.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("lines" = "many")))]
    pub notes: Option<String>,
}

/// Against what and by which rule the findings are decided. Chosen before the measurement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct AssessmentSection {
    /// Name of the limit profile, for example en12453-2017.
    pub profile: String,
    /// Rule of decision.
    pub decision: Decision,
    /// Width of the guard band of the guarded rule. The default is U, the expanded uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guard_band: Option<Guard>,
    /// Scatter of hits repeated at one point, one standard deviation in percent, where the tester knows it from earlier visits: for points
    /// with a single hit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0, "maximum" = 50, "plausible" = [0.1, 15])))]
    pub repeatability_percent: Option<f64>,
}

impl AssessmentSection {
    /// The rule by which values near a limit are decided.
    #[must_use]
    pub fn rule(&self) -> DecisionRule {
        match self.decision {
            Decision::Simple => DecisionRule::Simple,
            Decision::Guarded => DecisionRule::Guarded(self.guard_band.unwrap_or_default()),
        }
    }
}

/// Rule of decision.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Decision {
    /// Value against limit; the probability of conformity is printed beside it.
    Simple,
    /// Value against limit with a guard band on both sides; between the two it stays undecided.
    Guarded,
}

/// Where the logs are and which hit each one holds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LogsSection {
    /// Folder of the logs, from the gate file. The default is the gate file's own folder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub folder: Option<String>,
    /// Pattern of the logs' names: text with {direction}, {hazard}, {gap}, {height} and {repeat} in it. Gap and height in
    /// mm; instead of a height also low, half or top (of a vertical leaf: left, middle or right).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub names: Option<String>,
    /// The logs one by one, instead of a pattern.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub list: Vec<ListedLog>,
    /// File of a recipe, from the gate file: the answers to what the logs do not say about themselves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<String>,
    /// Days other than that of the visit that the logs carry rightly: a logger whose clock is not set. Say why in the notes of the visit.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(with = "Vec<Day>"))]
    pub days: Vec<Date>,
    /// Serial numbers other than that of the gauge that the logs carry rightly: that of a logger, or of a sensor that was changed. Say why in
    /// the notes of the visit.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gauges: Vec<String>,
    /// Logs of hits that do not count, each with the reason: they stay in the folder, and their values are reported.
    #[serde(rename = "void", default, skip_serializing_if = "Vec::is_empty")]
    pub voids: Vec<VoidLog>,
}

/// A day in a list, as the schema has it.
#[cfg(feature = "schema")]
#[derive(schemars::JsonSchema)]
#[schemars(inline, extend("format" = "date"))]
struct Day(#[expect(dead_code, reason = "only its schema is used")] String);

/// A log of a hit that does not count.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct VoidLog {
    /// Its file, from the folder of the logs.
    pub file: String,
    /// Why the hit does not count: the gauge slipped, the leaf was held …
    pub reason: String,
}

/// A test point that the tester has chosen: where the profile prescribes none, or for a hazard of this leaf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ChosenPoint {
    /// Which way the leaf moves.
    pub direction: Direction,
    /// Which part of the leaf hits. The default is closing-edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hazard: Option<Hazard>,
    /// Opening left between the edges at contact, in mm.
    #[serde(rename = "gap_mm")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 40_000, "plausible" = [10, 20_000])))]
    pub gap: Millimetre,
    /// Height above the ground in mm; for a leaf that moves vertically, the place across the opening from its left side.
    #[serde(rename = "height_mm")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 40_000, "plausible" = [10, 20_000])))]
    pub height: Millimetre,
    /// Hits to be made there.
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 1, "maximum" = 1000)))]
    pub hits: usize,
}

impl ChosenPoint {
    /// Where the gauge is held.
    #[must_use]
    pub fn point(&self) -> TestPoint {
        held_at(self.direction, self.hazard, self.gap, self.height)
    }
}

/// One log and the hit it holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ListedLog {
    /// Its file, from the folder of the logs.
    pub file: String,
    /// Which way the leaf moved.
    pub direction: Direction,
    /// Which part of the leaf hit. The default is closing-edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hazard: Option<Hazard>,
    /// Opening left between the edges at contact, in mm.
    #[serde(rename = "gap_mm")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 40_000, "plausible" = [10, 20_000])))]
    pub gap: Millimetre,
    /// Height above the ground in mm; for a leaf that moves vertically, the place across the opening from its left side.
    #[serde(rename = "height_mm")]
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0, "maximum" = 40_000, "plausible" = [10, 20_000])))]
    pub height: Millimetre,
    /// Number of the hit at this place, from 1.
    #[cfg_attr(feature = "schema", schemars(extend("minimum" = 1, "maximum" = 1000)))]
    pub repeat: u32,
}

impl ListedLog {
    /// Where the gauge was held.
    #[must_use]
    pub fn point(&self) -> TestPoint {
        held_at(self.direction, self.hazard, self.gap, self.height)
    }
}

/// Where the gauge is held; at the closing edge unless another part of the leaf is named.
fn held_at(
    direction: Direction,
    hazard: Option<Hazard>,
    gap: Millimetre,
    height: Millimetre,
) -> TestPoint {
    TestPoint {
        direction,
        hazard: hazard.unwrap_or(Hazard::ClosingEdge),
        gap_mm: gap.get(),
        height_mm: height.get(),
    }
}
