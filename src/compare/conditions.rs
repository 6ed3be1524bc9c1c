//! Whether two series may be compared at all: what differs between them besides the version.

use std::collections::BTreeSet;
use std::fmt;

use serde::Serialize;

use super::Series;
use crate::gate::GateFile;
use crate::limitation::copy;
use crate::measure::Method;

/// What a difference is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
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

/// What a difference means for the comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
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
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// What it is about.
    pub aspect: Aspect,
    /// The thing, in words.
    pub what: String,
    /// As it is before; `None` where it is not known.
    pub before: Option<String>,
    /// As it is after.
    pub after: Option<String>,
    /// What follows.
    pub bearing: Bearing,
}

impl fmt::Display for Aspect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Gate => "gate",
            Self::Drive => "drive",
            Self::Edge => "edge",
            Self::Gauge => "gauge",
            Self::Temperature => "temperature",
            Self::Method => "method",
            Self::Setting => "setting",
            Self::Visit => "visit",
        })
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unknown = "not known";
        let before = self.before.as_deref().unwrap_or(unknown);
        let after = self.after.as_deref().unwrap_or(unknown);
        if self.before.is_none() && self.after.is_none() {
            return write!(f, "{}: not known for either series", self.what);
        }
        write!(f, "{}: {before} before, {after} after", self.what)
    }
}

/// Everything that differs between two series besides their hits; `temperature_band_c` is how far the temperatures may lie apart.
#[must_use]
pub fn differences(before: &Series, after: &Series, temperature_band_c: f64) -> Vec<Difference> {
    let (x, y) = (&before.assessment, &after.assessment);
    let mut found = Vec::new();
    let mut told = |aspect, bearing, pairs: Vec<Pair>| {
        found.extend(pairs.into_iter().filter(|pair| pair.1 != pair.2).map(
            |(what, before, after)| Difference {
                aspect,
                what,
                before,
                after,
                bearing,
            },
        ));
    };
    told(
        Aspect::Gate,
        Bearing::Forbids,
        vec![pair("motion of the leaf", (&x.gate, &y.gate), |gate| {
            Some(format!("{:?}", gate.gate.motion).to_lowercase())
        })],
    );
    told(
        Aspect::Gate,
        Bearing::MustBeAccepted,
        of_gate((&x.gate, &y.gate)),
    );
    told(
        Aspect::Drive,
        Bearing::MustBeAccepted,
        of_drive((&x.gate, &y.gate)),
    );
    told(
        Aspect::Edge,
        Bearing::MustBeAccepted,
        of_edge((&x.gate, &y.gate)),
    );
    told(
        Aspect::Gauge,
        Bearing::MustBeAccepted,
        of_gauge((&x.gate, &y.gate)),
    );
    told(
        Aspect::Setting,
        Bearing::Named,
        of_settings((&x.gate, &y.gate)),
    );
    told(Aspect::Visit, Bearing::Named, of_visit((&x.gate, &y.gate)));
    found.extend(serial_unknown((&x.gate, &y.gate)));
    found.extend(temperature((&x.gate, &y.gate), temperature_band_c));
    found.extend(method(&x.profile.method, &y.profile.method));
    found.sort_by_key(|difference| std::cmp::Reverse(difference.bearing));
    found
}

/// What two gate files say differently of the gate, its drive, its edge and its settings: what may have been changed between two
/// visits. A thing that only one of them tells is in it too, with `None` for the other.
#[must_use]
pub fn changed(before: &GateFile, after: &GateFile) -> Vec<Difference> {
    let both = (before, after);
    let leaf = of_gate(both).into_iter().skip(1);
    let aspects = [
        (Aspect::Gate, leaf.collect()),
        (Aspect::Drive, of_drive(both)),
        (Aspect::Edge, of_edge(both)),
        (Aspect::Setting, of_settings(both)),
    ];
    let told = |(aspect, pairs): (Aspect, Vec<Pair>)| {
        let differ = pairs.into_iter().filter(|pair| pair.1 != pair.2);
        let one = move |(what, before, after)| Difference {
            aspect,
            what,
            before,
            after,
            bearing: Bearing::Named,
        };
        differ.map(one).collect::<Vec<_>>()
    };
    aspects.into_iter().flat_map(told).collect()
}

type Pair = (String, Option<String>, Option<String>);
type Both<'a> = (&'a GateFile, &'a GateFile);

fn pair(what: &str, (x, y): Both<'_>, of: impl Fn(&GateFile) -> Option<String>) -> Pair {
    (what.to_owned(), of(x), of(y))
}

fn text(value: Option<impl fmt::Display>) -> Option<String> {
    value.map(|value| value.to_string())
}

fn of_gate(both: Both<'_>) -> Vec<Pair> {
    vec![
        pair("name of the gate", both, |gate| {
            Some(gate.gate.name.clone())
        }),
        pair("mass of the leaf", both, |gate| text(gate.gate.leaf_mass)),
        pair("height of the leaf", both, |gate| {
            text(gate.gate.leaf_height)
        }),
        pair("width of the leaf", both, |gate| text(gate.gate.leaf_width)),
        pair("clear opening", both, |gate| text(gate.gate.clear_opening)),
        pair("counter edge", both, |gate| gate.gate.counter_edge.clone()),
    ]
}

fn of_drive(both: Both<'_>) -> Vec<Pair> {
    vec![pair("drive", both, |gate| {
        gate.drive.as_ref()?.model.clone()
    })]
}

fn of_edge(both: Both<'_>) -> Vec<Pair> {
    vec![
        pair("edge", both, |gate| gate.edge.as_ref()?.words.clone()),
        pair("travel of the edge", both, |gate| {
            text(gate.edge.as_ref()?.travel)
        }),
    ]
}

fn of_gauge(both: Both<'_>) -> Vec<Pair> {
    vec![
        pair("serial number of the gauge", both, |gate| {
            gate.gauge.as_ref()?.serial.clone()
        }),
        pair("spring rate of the gauge", both, |gate| {
            text(gate.gauge.as_ref()?.spring_rate)
        }),
        pair("capacity of the gauge", both, |gate| {
            text(gate.gauge.as_ref()?.capacity)
        }),
        pair("face of the gauge", both, |gate| {
            gate.gauge.as_ref()?.face.clone()
        }),
        pair("zeroing of the gauge", both, |gate| {
            let by_itself = gate.gauge.as_ref()?.zeroes_itself?;
            Some(
                if by_itself {
                    "by itself"
                } else {
                    "not by itself"
                }
                .to_owned(),
            )
        }),
        pair("calibration of the gauge", both, |gate| {
            text(gate.gauge.as_ref()?.calibrated_on)
        }),
    ]
}

fn of_settings(both: Both<'_>) -> Vec<Pair> {
    let drive = |gate: &GateFile| gate.drive.clone().unwrap_or_default();
    let keys: BTreeSet<String> = [both.0, both.1]
        .into_iter()
        .flat_map(|gate| drive(gate).settings.into_keys())
        .collect();
    let mut pairs = vec![
        pair("firmware", both, |gate| drive(gate).firmware),
        pair("closing speed", both, |gate| {
            text(drive(gate).closing_speed)
        }),
        pair("opening speed", both, |gate| {
            text(drive(gate).opening_speed)
        }),
    ];
    pairs.extend(keys.iter().map(|key| {
        pair(&format!("setting {key}"), both, |gate| {
            text(drive(gate).settings.get(key))
        })
    }));
    pairs
}

fn of_visit(both: Both<'_>) -> Vec<Pair> {
    vec![
        pair("day of the test", both, |gate| {
            text(gate.visit.as_ref().map(|visit| visit.date))
        }),
        pair("tester", both, |gate| {
            gate.visit.as_ref()?.tested_by.clone()
        }),
        pair("wind", both, |gate| gate.visit.as_ref()?.wind.clone()),
        pair("supply voltage", both, |gate| {
            Some(format!("{} V", gate.visit.as_ref()?.supply_v?))
        }),
        pair("limit profile", both, |gate| {
            Some(gate.judge.profile.clone())
        }),
    ]
}

/// That it is the same gauge is known only from its serial number.
fn serial_unknown((x, y): Both<'_>) -> Option<Difference> {
    let serial = |gate: &GateFile| gate.gauge.as_ref()?.serial.clone();
    (serial(x).is_none() && serial(y).is_none()).then(|| Difference {
        aspect: Aspect::Gauge,
        what: "serial number of the gauge".to_owned(),
        before: None,
        after: None,
        bearing: Bearing::MustBeAccepted,
    })
}

fn temperature((x, y): Both<'_>, band_c: f64) -> Option<Difference> {
    let of = |gate: &GateFile| gate.visit.as_ref()?.temperature_c;
    let told = |bearing| {
        Some(Difference {
            aspect: Aspect::Temperature,
            what: "temperature".to_owned(),
            before: of(x).map(|value| format!("{value} °C")),
            after: of(y).map(|value| format!("{value} °C")),
            bearing,
        })
    };
    match (of(x), of(y)) {
        (Some(x), Some(y)) if (x - y).abs() <= band_c && x.total_cmp(&y).is_eq() => None,
        (Some(x), Some(y)) if (x - y).abs() <= band_c => told(Bearing::Named),
        (None, None) => told(Bearing::Named),
        _ => told(Bearing::MustBeAccepted),
    }
}

/// Levels and periods decide what a measure means.
fn method(before: &Method, after: &Method) -> Option<Difference> {
    let unnamed = |method: &Method| Method {
        profile: String::new(),
        ..method.clone()
    };
    (unnamed(before) != unnamed(after)).then(|| Difference {
        aspect: Aspect::Method,
        what: "levels and periods of the limit profile".to_owned(),
        before: Some(before.profile.clone()),
        after: Some(after.profile.clone()),
        bearing: Bearing::Forbids,
    })
}

/// Logs of one series that hold the very samples of a log of the other: (before, after).
#[must_use]
pub fn copies(before: &Series, after: &Series) -> Vec<(String, String)> {
    let digests = |series: &Series| -> Vec<(String, [u8; 32])> {
        let hits = series.assessment.hits.iter();
        hits.filter_map(|hit| {
            let measured = hit.measurement.as_ref().ok()?;
            Some((hit.file.clone(), copy::digest(&measured.trace)))
        })
        .collect()
    };
    let (old, new) = (digests(before), digests(after));
    let same = |one: &(String, [u8; 32])| {
        let twin = new.iter().find(|(_, digest)| *digest == one.1)?;
        Some((one.0.clone(), twin.0.clone()))
    };
    old.iter().filter_map(same).collect()
}
