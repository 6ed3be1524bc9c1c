//! Whether two series may be compared at all: what differs between them besides the version.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::Series;
use super::thing::{Thing, Values};
use crate::fact::Fact;
use crate::gate::GateFile;
use crate::measure::Method;
use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};
use crate::visit::Hit;

/// What a difference is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Aspect {
    Gate,
    Drive,
    Edge,
    Gauge,
    Temperature,
    Method,
    Setting,
    Visit,
}

impl Fact for Aspect {
    const FAMILY: &'static str = "aspect";
}

/// What a difference means for the comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Bearing {
    /// It is named; the comparison stands. A version may come with other settings.
    Named,
    /// The effect may come from it instead of from the version: it must be accepted in so many words.
    MustBeAccepted,
    /// The numbers do not mean the same: nothing can be compared.
    Forbids,
}

/// Something that is not the same in both series.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Difference {
    /// What it is about.
    pub aspect: Aspect,
    /// The thing.
    pub thing: Thing,
    /// As it is before and after.
    #[serde(flatten)]
    pub values: Values,
    /// What follows.
    pub bearing: Bearing,
}

impl Fact for Difference {
    const FAMILY: &'static str = "difference";
}

/// Everything that differs between two series besides their hits; `temperature_band_c` is how far the temperatures may lie apart.
#[must_use]
pub fn differences(before: &Series, after: &Series, temperature_band_c: f64) -> Vec<Difference> {
    let (x, y) = (&before.assessment, &after.assessment);
    let both = (&x.gate, &y.gate);
    let asked = Bearing::MustBeAccepted;
    let motion = given(
        Thing::Motion,
        both,
        |gate| Some(gate.gate.motion),
        |before, after| Values::Motion { before, after },
    );
    let groups = [
        (Aspect::Gate, Bearing::Forbids, motion.into_iter().collect()),
        (Aspect::Gate, asked, of_gate(both)),
        (Aspect::Drive, asked, of_drive(both)),
        (Aspect::Edge, asked, of_edge(both)),
        (Aspect::Gauge, asked, of_gauge(both)),
        (Aspect::Setting, Bearing::Named, of_settings(both)),
        (Aspect::Visit, Bearing::Named, of_visit(both)),
    ];
    let mut found = told(groups);
    found.extend(serial_unknown(both));
    found.extend(temperature(both, temperature_band_c));
    found.extend(method(&x.profile.method, &y.profile.method));
    found.sort_by_key(|difference| std::cmp::Reverse(difference.bearing));
    found
}

/// What two gate files say differently of the gate, its drive, its edge and its settings: what may have been changed between two
/// visits. A thing that only one of them tells is in it too, with `None` for the other.
#[must_use]
pub fn changed(before: &GateFile, after: &GateFile) -> Vec<Difference> {
    let both = (before, after);
    let mut leaf = of_gate(both);
    leaf.retain(|(thing, _)| *thing != Thing::GateName);
    told([
        (Aspect::Gate, Bearing::Named, leaf),
        (Aspect::Drive, Bearing::Named, of_drive(both)),
        (Aspect::Edge, Bearing::Named, of_edge(both)),
        (Aspect::Setting, Bearing::Named, of_settings(both)),
    ])
}

type Both<'a> = (&'a GateFile, &'a GateFile);
type Pair = (Thing, Values);

fn told<const N: usize>(groups: [(Aspect, Bearing, Vec<Pair>); N]) -> Vec<Difference> {
    let differences = groups.into_iter().flat_map(|(aspect, bearing, pairs)| {
        pairs.into_iter().map(move |(thing, values)| Difference {
            aspect,
            thing,
            values,
            bearing,
        })
    });
    differences.collect()
}

/// A thing that the two gate files give differently.
fn given<T: PartialEq>(
    thing: Thing,
    (x, y): Both<'_>,
    of: impl Fn(&GateFile) -> Option<T>,
    values: fn(Option<T>, Option<T>) -> Values,
) -> Option<Pair> {
    let (before, after) = (of(x), of(y));
    (before != after).then(|| (thing, values(before, after)))
}

/// The same for a number with its unit.
fn quantity(
    thing: Thing,
    (x, y): Both<'_>,
    of: impl Fn(&GateFile) -> Option<f64>,
    unit: &'static str,
) -> Option<Pair> {
    let both = (of(x), of(y));
    (both.0 != both.1).then(|| (thing, Values::quantity(both, unit)))
}

fn all<const N: usize>(pairs: [Option<Pair>; N]) -> Vec<Pair> {
    pairs.into_iter().flatten().collect()
}

#[rustfmt::skip]
fn of_gate(both: Both<'_>) -> Vec<Pair> {
    all([
        given(Thing::GateName, both, |gate| Some(gate.gate.name.clone()), |before, after| Values::Text { before, after }),
        quantity(Thing::LeafMass, both, |gate| gate.gate.leaf_mass.map(Kilogram::get), Kilogram::SYMBOL),
        quantity(Thing::LeafHeight, both, |gate| gate.gate.leaf_height.map(Millimetre::get), Millimetre::SYMBOL),
        quantity(Thing::LeafWidth, both, |gate| gate.gate.leaf_width.map(Millimetre::get), Millimetre::SYMBOL),
        quantity(Thing::ClearOpening, both, |gate| gate.gate.clear_opening.map(Millimetre::get), Millimetre::SYMBOL),
        given(Thing::CounterEdge, both, |gate| gate.gate.counter_edge.clone(), |before, after| Values::Text { before, after }),
    ])
}

fn of_drive(both: Both<'_>) -> Vec<Pair> {
    let model = |gate: &GateFile| gate.drive.as_ref()?.model.clone();
    all([given(Thing::Drive, both, model, |before, after| {
        Values::Text { before, after }
    })])
}

#[rustfmt::skip]
fn of_edge(both: Both<'_>) -> Vec<Pair> {
    all([
        given(Thing::Edge, both, |gate| gate.edge.as_ref()?.words.clone(), |before, after| Values::Text { before, after }),
        quantity(Thing::EdgeTravel, both, |gate| gate.edge.as_ref()?.travel.map(Millimetre::get), Millimetre::SYMBOL),
    ])
}

#[rustfmt::skip]
fn of_gauge(both: Both<'_>) -> Vec<Pair> {
    all([
        given(Thing::GaugeSerial, both, |gate| gate.gauge.as_ref()?.serial.clone(), |before, after| Values::Text { before, after }),
        quantity(Thing::GaugeSpringRate, both, |gate| gate.gauge.as_ref()?.spring_rate.map(NewtonPerMillimetre::get), NewtonPerMillimetre::SYMBOL),
        quantity(Thing::GaugeCapacity, both, |gate| gate.gauge.as_ref()?.capacity.map(Newton::get), Newton::SYMBOL),
        given(Thing::GaugeFace, both, |gate| gate.gauge.as_ref()?.face.clone(), |before, after| Values::Text { before, after }),
        given(Thing::GaugeZeroing, both, |gate| gate.gauge.as_ref()?.zeroes_itself, |before, after| Values::Zeroing { before, after }),
        given(Thing::GaugeCalibration, both, |gate| gate.gauge.as_ref()?.calibrated_on, |before, after| Values::Day { before, after }),
    ])
}

fn of_settings(both: Both<'_>) -> Vec<Pair> {
    let drive = |gate: &GateFile| gate.drive.clone().unwrap_or_default();
    let keys: BTreeSet<String> = [both.0, both.1]
        .into_iter()
        .flat_map(|gate| drive(gate).settings.into_keys())
        .collect();
    let mut pairs = all([
        given(
            Thing::Firmware,
            both,
            |gate| drive(gate).firmware,
            |before, after| Values::Text { before, after },
        ),
        quantity(
            Thing::ClosingSpeed,
            both,
            |gate| drive(gate).closing_speed.map(MillimetrePerSecond::get),
            MillimetrePerSecond::SYMBOL,
        ),
        quantity(
            Thing::OpeningSpeed,
            both,
            |gate| drive(gate).opening_speed.map(MillimetrePerSecond::get),
            MillimetrePerSecond::SYMBOL,
        ),
    ]);
    pairs.extend(keys.into_iter().filter_map(|key| {
        let setting = |gate: &GateFile| drive(gate).settings.get(&key).cloned();
        given(
            Thing::Setting { key: key.clone() },
            both,
            setting,
            |before, after| Values::Setting { before, after },
        )
    }));
    pairs
}

#[rustfmt::skip]
fn of_visit(both: Both<'_>) -> Vec<Pair> {
    all([
        given(Thing::Day, both, |gate| Some(gate.visit.as_ref()?.date), |before, after| Values::Day { before, after }),
        given(Thing::Tester, both, |gate| gate.visit.as_ref()?.tested_by.clone(), |before, after| Values::Text { before, after }),
        given(Thing::Wind, both, |gate| gate.visit.as_ref()?.wind.clone(), |before, after| Values::Text { before, after }),
        quantity(Thing::Supply, both, |gate| gate.visit.as_ref()?.supply_v, "V"),
        given(Thing::Profile, both, |gate| Some(gate.assessment.profile.clone()), |before, after| Values::Text { before, after }),
    ])
}

/// That it is the same gauge is known only from its serial number.
fn serial_unknown((x, y): Both<'_>) -> Option<Difference> {
    let serial = |gate: &GateFile| gate.gauge.as_ref()?.serial.clone();
    (serial(x).is_none() && serial(y).is_none()).then_some(Difference {
        aspect: Aspect::Gauge,
        thing: Thing::GaugeSerial,
        values: Values::Text {
            before: None,
            after: None,
        },
        bearing: Bearing::MustBeAccepted,
    })
}

fn temperature((x, y): Both<'_>, band_c: f64) -> Option<Difference> {
    let of = |gate: &GateFile| gate.visit.as_ref()?.temperature_c;
    let bearing = match (of(x), of(y)) {
        (Some(x), Some(y)) if (x - y).abs() <= band_c && x.total_cmp(&y).is_eq() => return None,
        (Some(x), Some(y)) if (x - y).abs() <= band_c => Bearing::Named,
        (None, None) => Bearing::Named,
        _ => Bearing::MustBeAccepted,
    };
    Some(Difference {
        aspect: Aspect::Temperature,
        thing: Thing::Temperature,
        values: Values::quantity((of(x), of(y)), "°C"),
        bearing,
    })
}

/// Levels and periods decide what a measure means.
fn method(before: &Method, after: &Method) -> Option<Difference> {
    let unnamed = |method: &Method| Method {
        profile: String::new(),
        ..method.clone()
    };
    (unnamed(before) != unnamed(after)).then(|| Difference {
        aspect: Aspect::Method,
        thing: Thing::Method,
        values: Values::Text {
            before: Some(before.profile.clone()),
            after: Some(after.profile.clone()),
        },
        bearing: Bearing::Forbids,
    })
}

/// Logs of one series that are copies of a log of the other: (before, after).
#[must_use]
pub fn copies(before: &Series, after: &Series) -> Vec<(String, String)> {
    let (old, new) = (&before.assessment.hits, &after.assessment.hits);
    let copy = |one: &Hit| {
        let print = one.print.as_ref()?;
        let alike = |other: &&Hit| {
            let other = other.print.as_ref();
            other.is_some_and(|other| print.alike(other).is_some())
        };
        Some((one.file.clone(), new.iter().find(alike)?.file.clone()))
    };
    old.iter().filter_map(copy).collect()
}
