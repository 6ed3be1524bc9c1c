//! What a profile holds once it is read: the limits, the method, what is asked of the gauge and of the record.

use serde::{Deserialize, Serialize};

use super::scheme::Scheme;
use super::{Direction, Hazard, Motion, SourceKind, TestPoint};
use crate::fact::Fact;
use crate::limitation::Tolerances;
use crate::measure::{Kind, Level, LowPass, Measure, Method};
use crate::quantity::{Dimension, Millimetre, Newton, NewtonPerMillimetre, Quantity};

/// A limit profile: one edition of one rule, in numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// `<designation>-<edition>`, as on the command line.
    pub name: String,
    /// The document in words.
    pub title: String,
    /// What the profile is for and what it leaves out.
    pub about: String,
    /// The profile on the shelf that this one confirms or corrects.
    pub extends: Option<String>,
    /// How a record is measured under it.
    pub method: Method,
    /// Low-pass, if prescribed.
    pub low_pass: Option<LowPass>,
    /// The limits.
    pub limits: Vec<Limit>,
    /// Every other number of the profile with its mark: levels, periods, gauge, limitations.
    pub values: Vec<ProfileValue>,
    /// What the rule asks of the gauge.
    pub gauge: GaugeRules,
    /// How much trouble a record may show before it proves nothing.
    pub limitations: Tolerances,
    /// The gap below which the rule has no value.
    pub smallest_gap: Option<SmallestGap>,
    /// Which test points are wanted at which visit.
    pub schemes: Vec<Scheme>,
    /// The least number of hits at a test point, where the rule states one; else 1.
    pub hits_at_least: usize,
    /// How far from a wanted test point the gauge may be held and still stand for it, in gap and in place along the edge.
    pub place_tolerance: Millimetre,
    /// Where sources disagree; shown, never settled in silence.
    pub disagreements: Vec<Disagreement>,
    /// What the rule asks that a force log does not show.
    pub not_assessed: Vec<NotAssessed>,
}

impl Profile {
    /// The limits that apply at a test point of a leaf of this motion; none below the smallest gap.
    #[must_use]
    pub fn limits_at(&self, motion: Motion, point: &TestPoint) -> Vec<&Limit> {
        if self.below_smallest_gap(point) {
            return Vec::new();
        }
        self.limits
            .iter()
            .filter(|limit| limit.applies(motion, point))
            .collect()
    }

    /// Why no limit that decides applies at a test point; `None` where one does.
    #[must_use]
    pub fn no_limit_reason(&self, motion: Motion, point: &TestPoint) -> Option<NoLimit> {
        if self.below_smallest_gap(point) {
            let gap = self.smallest_gap.as_ref()?;
            return Some(NoLimit::BelowSmallestGap {
                profile: self.name.clone(),
                gap_mm: point.gap_mm,
                smallest_mm: gap.gap,
                note: gap.note.clone(),
            });
        }
        let decides = |limit: &&Limit| limit.decides;
        if self.limits_at(motion, point).iter().any(decides) {
            return None;
        }
        Some(NoLimit::NoValue {
            profile: self.name.clone(),
            motion,
            test_point: *point,
        })
    }

    /// The profile on the shelf that own limits are based on, and every value that differs from it; `None` where the values are those
    /// of a profile on the shelf.
    #[must_use]
    pub fn own_limits(&self) -> Option<(Option<String>, Vec<LimitChange>)> {
        let limits = self.limits.iter().map(|limit| {
            let name = limit.short_name();
            (name, limit.value, limit.unit(), &limit.confirmation)
        });
        let values = self.values.iter().map(|value| {
            let name = value.name.as_str();
            (name, value.value, value.unit, &value.confirmation)
        });
        let changes = limits
            .chain(values)
            .filter_map(|(name, to, unit, confirmation)| {
                Some(LimitChange {
                    limit: name.to_owned(),
                    from: confirmation.as_ref()?.corrected_from?,
                    to,
                    unit: unit.to_owned(),
                })
            });
        let changes: Vec<LimitChange> = changes.collect();
        match &self.extends {
            Some(_) if changes.is_empty() => None,
            Some(base) => Some((Some(base.clone()), changes)),
            None if super::names().contains(&&*self.name) => None,
            None => Some((None, changes)),
        }
    }

    /// True only if every value that decides, and every level and period it is measured with, is confirmed or read.
    #[must_use]
    pub fn confirmed(&self) -> bool {
        let good = |known: SourceKind| matches!(known, SourceKind::Confirmed | SourceKind::Read);
        let mut deciding = self.limits.iter().filter(|limit| limit.decides).peekable();
        deciding.peek().is_some()
            && deciding.all(|limit| good(limit.source))
            && self
                .values
                .iter()
                .filter(|value| self.uses(&value.name))
                .all(|value| good(value.source))
    }

    /// Whether a limit that decides depends on a level or period of the method.
    fn uses(&self, value: &str) -> bool {
        let by = |kinds: &[Kind]| {
            self.limits
                .iter()
                .any(|limit| limit.decides && kinds.contains(&limit.measure.kind()))
        };
        match value {
            "method-contact-level" | "smallest-gap" => true,
            "method-static-level" => by(&[
                Kind::TimeAbove(Level::Static),
                Kind::PeriodAbove(Level::Static),
            ]),
            "method-residual-level" => by(&[Kind::TimeAbove(Level::Residual)]),
            "method-effective-level" => by(&[Kind::MeanAbove]),
            "method-dynamic-period" => by(&[Kind::Window(Level::Static), Kind::MeanFromContact]),
            "method-record" => by(&[Kind::Window(Level::Static), Kind::Window(Level::Residual)]),
            _ => false,
        }
    }

    fn below_smallest_gap(&self, point: &TestPoint) -> bool {
        self.smallest_gap
            .as_ref()
            .is_some_and(|gap| point.gap_mm < gap.gap.get())
    }
}

/// A value of own limits that differs from the profile that they are based on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LimitChange {
    /// The limit or other number, by its name in the profile.
    pub limit: String,
    /// What it is there.
    pub from: f64,
    /// What it is here.
    pub to: f64,
    /// Symbol of the unit; empty for a number or a share.
    pub unit: String,
}

impl Fact for LimitChange {
    const FAMILY: &'static str = "change";
}

/// Why no limit that decides applies at a test point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum NoLimit {
    /// The gap is below the smallest for which the profile has a value.
    BelowSmallestGap {
        /// The profile.
        profile: String,
        /// The gap.
        gap_mm: f64,
        /// The smallest.
        smallest_mm: Millimetre,
        /// Where to look instead, in the words of the profile.
        note: String,
    },
    /// The profile has no value for this leaf and test point.
    NoValue {
        /// The profile.
        profile: String,
        /// How the leaf moves.
        motion: Motion,
        /// Where.
        test_point: TestPoint,
    },
}

impl Fact for NoLimit {
    const FAMILY: &'static str = "no-limit";
}

/// One published limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// `<profile>/<readable-name>`
    pub name: String,
    /// What is held against it.
    pub measure: Measure,
    /// Its value, in the unit of the measure.
    pub value: f64,
    /// Whether the value itself is still within.
    pub bound: Bound,
    /// How it is known.
    pub source: SourceKind,
    /// Clause, as far as known.
    pub clause: Option<String>,
    /// Leaves it applies to.
    pub motions: Vec<Motion>,
    /// Parts of the leaf it applies to.
    pub hazards: Vec<Hazard>,
    /// Directions it applies to.
    pub directions: Vec<Direction>,
    /// Gaps it applies to.
    pub gap: Band,
    /// What of several hits is held against it.
    pub assessed: Assessed,
    /// Whether it counts for the verdict, or is shown only.
    pub decides: bool,
    /// The quantity of which this limit is one reading, where sources read it in two ways.
    pub reading_of: Option<String>,
    /// What a reader of this limit should know.
    pub note: Option<String>,
    /// Who confirmed or corrected it.
    pub confirmation: Option<Confirmation>,
}

impl Limit {
    /// Whether it applies at a test point of a leaf of this motion.
    #[must_use]
    pub fn applies(&self, motion: Motion, point: &TestPoint) -> bool {
        self.motions.contains(&motion)
            && self.hazards.contains(&point.hazard)
            && self.directions.contains(&point.direction)
            && self.gap.contains(point.gap_mm)
    }

    /// The name without its profile.
    #[must_use]
    pub fn short_name(&self) -> &str {
        self.name
            .split_once('/')
            .map_or(&*self.name, |(_, short)| short)
    }

    /// Symbol of the unit.
    #[must_use]
    pub const fn unit(&self) -> &'static str {
        self.measure.unit()
    }

    /// What its value is a number of.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        self.measure.dimension()
    }

    /// Its value with its dimension.
    #[must_use]
    pub const fn quantity(&self) -> Quantity {
        self.dimension().of(self.value)
    }
}

/// Whether a limit includes its own value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Bound {
    /// Within if the value is at most the limit.
    AtMost,
    /// Within if the value is below the limit.
    Below,
}

impl Bound {
    /// The word of tables and files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::AtMost => "at-most",
            Self::Below => "below",
        }
    }
}

/// What of several hits at one test point is held against a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Assessed {
    /// Their arithmetic mean.
    Mean,
    /// The greatest of them.
    Worst,
}

impl Fact for Assessed {
    const FAMILY: &'static str = "assessed";
}

/// A range of gaps in mm. Every end that is given includes its value, but `above_mm`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// From this gap on, itself included.
    pub from_mm: Option<f64>,
    /// Beyond this gap, itself left out.
    pub above_mm: Option<f64>,
    /// Up to this gap, itself included.
    pub to_mm: Option<f64>,
}

impl Band {
    /// Whether a gap lies in the band; a gap that is not a number lies in none.
    #[must_use]
    pub fn contains(&self, gap_mm: f64) -> bool {
        !gap_mm.is_nan()
            && self.from_mm.is_none_or(|from| gap_mm >= from)
            && self.above_mm.is_none_or(|above| gap_mm > above)
            && self.to_mm.is_none_or(|to| gap_mm <= to)
    }
}

/// Who confirmed a value, on what day, from what; and the value that stood before.
#[derive(Clone, Debug, PartialEq)]
pub struct Confirmation {
    /// The day.
    pub on: jiff::civil::Date,
    /// The copy of the document, in the owner's words.
    pub from: String,
    /// The value of the shelf where it differed.
    pub corrected_from: Option<f64>,
}

/// A number of the profile that is not a limit, with its mark.
#[derive(Clone, Debug, PartialEq)]
pub struct ProfileValue {
    /// Its name, as an overlay uses it.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Symbol of its unit; empty for a number or a share.
    pub unit: &'static str,
    /// How it is known.
    pub source: SourceKind,
    /// Clause, as far as known.
    pub clause: Option<String>,
    /// What a reader should know.
    pub note: Option<String>,
    /// Who confirmed or corrected it.
    pub confirmation: Option<Confirmation>,
}

/// What a rule asks of the gauge; `None` where nothing is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GaugeRules {
    /// Rate of the spring.
    pub spring_rate: Option<NewtonPerMillimetre>,
    /// How far it may lie from that rate, either way.
    pub spring_rate_band: Option<NewtonPerMillimetre>,
    /// Diameter of the round face.
    pub face_diameter: Option<Millimetre>,
    /// Least force of its range.
    pub capacity_from: Option<Newton>,
    /// Greatest force of its range.
    pub capacity_to: Option<Newton>,
    /// Greatest error as a share of the reading.
    pub accuracy_share: Option<f64>,
    /// Months from one calibration to the next.
    pub calibration_months: Option<f64>,
}

/// The gap below which a rule has no value.
#[derive(Clone, Debug, PartialEq)]
pub struct SmallestGap {
    /// The gap; it belongs to the rule itself.
    pub gap: Millimetre,
    /// Where to look instead.
    pub note: String,
}

/// A matter in which sources disagree, and what this profile does about it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Disagreement {
    /// What it is about.
    pub about: String,
    /// The readings, in words.
    pub readings: Vec<String>,
    /// Which of them decides here, and why.
    pub here: String,
}

/// Something the rule asks that a force log does not show.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NotAssessed {
    /// What is asked, in words, with its numbers and units.
    pub asks: String,
    /// How it is known.
    pub source: SourceKind,
    /// Clause, as far as known.
    pub clause: Option<String>,
}
