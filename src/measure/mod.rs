//! A force–time record → its measures: one measure, one file, one function. This page holds the roll.
//!
//! Samples (tᵢ, fᵢ) and F = f − z. All measures use the raw samples; a low-pass is applied only where the profile prescribes
//! one, and only to the peak, and then both values are kept. Crossings are placed by straight lines in [`crossings`] alone.

mod answer;
mod approach_speed;
mod contact;
pub mod crossings;
mod dynamic_period;
mod effective_force;
mod energy;
mod gaps;
mod impulse;
pub mod integral;
pub mod low_pass;
pub mod maxima;
mod mean_dynamic_force;
mod median;
mod method;
mod motion;
mod over_travel;
mod peak_force;
mod release;
mod residual_force;
mod reversal_time;
mod roll;
mod static_force;
mod stop_time;
mod time_above_residual;
mod time_above_static;
mod unmeasured;
mod zero;
mod zeroed;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::quantity::{Joule, Millimetre, MillimetrePerSecond, Newton, NewtonSecond, Second};
use crate::trace::{self, Trace};

pub use answer::{Answer, answer};
pub use approach_speed::approach_speed;
pub use contact::{contact, touches};
pub use dynamic_period::dynamic_period;
pub use effective_force::effective_force;
pub use energy::energy;
pub use impulse::impulse;
pub use mean_dynamic_force::mean_dynamic_force;
pub use method::{GaugeFacts, LowPass, Method, Zeroing};
pub use over_travel::over_travel;
pub use peak_force::{Peak, peak_force};
pub use release::release;
pub use residual_force::residual_force;
pub use reversal_time::reversal_time;
pub use roll::{Kind, Level, Measure, UnknownMeasure};
pub use static_force::static_force;
pub use stop_time::stop_time;
pub use time_above_residual::time_above_residual;
pub use time_above_static::time_above_static;
pub use unmeasured::Unmeasured;
pub use zero::{Zero, ZeroFrom, drift, zero};
pub use zeroed::Zeroed;

/// A measured value, or why there is none.
pub type Measured<T> = Result<T, Unmeasured>;

/// The number, if it is one: neither NaN nor infinite.
fn finite(value: f64) -> Measured<f64> {
    match value.is_finite() {
        true => Ok(value),
        false => Err(Unmeasured::NotFinite),
    }
}

/// One stay of the leaf against the gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Upward crossing of the contact level, from the first sample.
    pub from: Second,
    /// Downward crossing, from the first sample; `None` if it still touches at the end.
    pub to: Option<Second>,
    /// Greatest zeroed force in between.
    pub peak: Newton,
}

/// What an instant was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Basis {
    Force,
    Position,
    Speed,
    Declared,
}

impl Fact for Basis {
    const FAMILY: &'static str = "basis";
}

impl Touch {
    fn of(stay: &crossings::Stay, record: &Zeroed<'_>) -> Self {
        let forces = &record.forces()[stay.first..=stay.last];
        Self {
            from: Second(stay.from),
            to: stay.to.map(Second),
            peak: Newton(trace::extremes(forces).1),
        }
    }
}

/// Everything measured on one record.
#[derive(Clone, Debug, PartialEq)]
pub struct Response {
    /// With which levels and periods.
    pub method: Method,
    /// Zero, noise and drift.
    pub zero: Zero,
    /// Instant of contact from the first sample.
    pub contact: Measured<Second>,
    /// Every stay against the gauge.
    pub touches: Vec<Touch>,
    /// Greatest force.
    pub peak: Measured<Peak>,
    /// Total time above the static level: reading (a) of the dynamic period.
    pub time_above_static: Measured<Second>,
    /// From contact to the last downward crossing of the static level: reading (b).
    pub dynamic_period: Measured<Second>,
    /// Every crossing of the static level, from the first sample.
    pub static_crossings: Vec<Second>,
    /// Greatest force between the end of the permitted dynamic period and the end of the prescribed record.
    pub static_force: Measured<Newton>,
    /// Greatest force after the prescribed record.
    pub residual_force: Measured<Newton>,
    /// Total time above the residual level.
    pub time_above_residual: Measured<Second>,
    /// Time-mean of the force over the dynamic period from contact.
    pub mean_dynamic_force: Measured<Newton>,
    /// Time-mean of the force between the crossings of the effective level.
    pub effective_force: Measured<Newton>,
    /// ∫F dt from contact to release.
    pub impulse: Measured<NewtonSecond>,
    /// Release after contact.
    pub release: Measured<Second>,
    /// Stop after contact, and what it was read from.
    pub stop: Measured<(Second, Basis)>,
    /// Reversal after contact, and what it was read from.
    pub reversal: Measured<(Second, Basis)>,
    /// Travel of the leaf into the gauge, and what it was read from.
    pub over_travel: Measured<(Millimetre, Basis)>,
    /// Energy the gauge's spring took.
    pub energy: Measured<Joule>,
    /// Speed of the leaf before contact, and what it was read from.
    pub approach_speed: Measured<(MillimetrePerSecond, Basis)>,
    /// How the leaf answered.
    pub answer: Answer,
}

impl Response {
    /// What the value of a measure was read from, where that can differ.
    #[must_use]
    pub fn basis(&self, measure: Measure) -> Option<Basis> {
        let time = |read: &Measured<(Second, Basis)>| read.ok().map(|(_, basis)| basis);
        match measure {
            Measure::StopTime => time(&self.stop),
            Measure::ReversalTime => time(&self.reversal),
            Measure::OverTravel => self.over_travel.ok().map(|(_, basis)| basis),
            Measure::ApproachSpeed => self.approach_speed.ok().map(|(_, basis)| basis),
            _ => None,
        }
    }

    /// What those measures were read from that can be read from several things.
    #[must_use]
    pub fn bases(&self) -> BTreeMap<Measure, Basis> {
        let all = Measure::ALL.into_iter();
        all.filter_map(|measure| Some((measure, self.basis(measure)?)))
            .collect()
    }
}

/// Measures one record.
///
/// # Example
/// A triangle of 300 N over a quiet gauge that zeroes itself.
/// ```
/// use relent::quantity::{Newton, Second};
/// use relent::measure::{GaugeFacts, Measure, Method, Zeroing, measure};
/// use relent::trace::Trace;
/// let method = Method {
///     profile: "example".to_owned(),
///     contact_level: Newton(25.0),
///     static_level: Newton(150.0),
///     residual_level: Newton(25.0),
///     effective_level: Newton(50.0),
///     dynamic_period: Second(0.75),
///     record: Second(5.0),
///     low_pass: None,
/// };
/// let gauge = GaugeFacts { zeroing: Zeroing::BySelf, ..GaugeFacts::default() };
/// let trace = Trace::new(vec![0.0, 1.0, 1.5, 2.0, 3.0, 7.0], vec![0.0, 0.0, 150.0, 300.0, 0.0, 0.0])?;
/// let response = measure(&trace, &method, &gauge);
/// assert_eq!(response.value(Measure::PeakForce), Ok(Newton(300.0).into()));
/// assert_eq!(response.value(Measure::TimeAboveStatic), Ok(Second(1.0).into()));
/// assert!(response.value(Measure::OverTravel).is_err()); // no spring rate
/// # Ok::<(), relent::trace::TraceError>(())
/// ```
#[must_use]
pub fn measure(trace: &Trace, method: &Method, gauge: &GaugeFacts) -> Response {
    measure_zeroed(trace, method, gauge).0
}

/// As [`measure`], with the zeroed record; `None` for a record that cannot be calculated with.
#[must_use]
pub fn measure_zeroed<'a>(
    trace: &'a Trace,
    method: &Method,
    gauge: &GaugeFacts,
) -> (Response, Option<Zeroed<'a>>) {
    let raw = match Zeroed::raw(trace) {
        Ok(raw) => raw,
        Err(reason) => {
            let zero = Zero::unmeasured(reason);
            let response = untouched(method, zero, reason, Err(reason));
            return (response, None);
        }
    };
    let zero = zero(trace, &raw, method.contact_level, gauge.zeroing);
    let record = raw.less(zero.subtracted.get());
    (of_record(trace, &record, method, gauge, zero), Some(record))
}

/// The measures of a record if all its forces were less, and if all were more, by a share of each and so many newtons.
///
/// # Errors
/// [`Unmeasured`] for a record that cannot be calculated with.
pub fn measure_wrong_by(
    trace: &Trace,
    response: &Response,
    gauge: &GaugeFacts,
    share: f64,
    newtons: Newton,
) -> Measured<[Response; 2]> {
    let record = Zeroed::raw(trace)?.less(response.zero.subtracted.get());
    let again = |sign: f64| {
        let wrong = record
            .scaled(1.0 + sign * share)
            .less(-sign * newtons.get());
        of_record(
            trace,
            &wrong,
            &response.method,
            gauge,
            response.zero.clone(),
        )
    };
    Ok([again(-1.0), again(1.0)])
}

fn of_record(
    trace: &Trace,
    record: &Zeroed<'_>,
    method: &Method,
    gauge: &GaugeFacts,
    zero: Zero,
) -> Response {
    let presses = crossings::stays(record, method.contact_level.get());
    let touches = contact::lasting(record, &presses);
    match contact(&touches) {
        Err(reason) if touches.is_empty() => {
            let speed = approach_speed(trace, record, &Err(reason), gauge.declared_speed);
            untouched(method, zero, reason, speed)
        }
        contact => {
            let hit = Hit {
                trace,
                record,
                method,
                gauge,
                presses: &presses,
                touches: &touches,
                contact,
            };
            hit.measure(zero)
        }
    }
}

/// A record in which the leaf touches the gauge.
struct Hit<'a> {
    trace: &'a Trace,
    record: &'a Zeroed<'a>,
    method: &'a Method,
    gauge: &'a GaugeFacts,
    /// Every stay above the contact level, and those of them that last.
    presses: &'a [crossings::Stay],
    touches: &'a [crossings::Stay],
    contact: Measured<Second>,
}

impl Hit<'_> {
    fn measure(self, mut zero: Zero) -> Response {
        let Self {
            trace,
            record,
            method,
            gauge,
            presses,
            touches,
            contact,
        } = self;
        let from_contact = |f: &dyn Fn(Second) -> Measured<Second>| contact.and_then(f);
        let dynamic = crossings::stays(record, method.static_level.get());
        zero.drift = drift(record, presses.last().and_then(|stay| stay.to))
            .and_then(|drift| zero.value.map(|_| drift));
        let greatest = Newton(record.range().1.max(0.0));
        let least = maxima::least_prominence(&zero, greatest);
        let maxima = maxima::prominent_in(record.outlined(), least.get());
        let mut peak = peak_force(record, touches, &maxima, method.static_level);
        if let (Ok(peak), Some(filter), Some(first)) = (&mut peak, method.low_pass, touches.first())
        {
            peak.filtered = Some(low_pass::filtered_peak(record, first.first, filter));
        }
        let force = peak.clone().map(|peak| peak.force);
        let stop = contact.and_then(|at| stop_time(trace, record, at, &maxima));
        let release = from_contact(&|at| release(at, presses));
        let reversal = contact
            .and_then(|at| reversal_time(trace, record, at, &stop, &release, method.contact_level));
        let released = presses.last().is_some_and(|stay| stay.to.is_some());
        Response {
            method: method.clone(),
            touches: touches.iter().map(|stay| Touch::of(stay, record)).collect(),
            time_above_static: Ok(time_above_static(record, &dynamic)),
            dynamic_period: from_contact(&|at| Ok(dynamic_period(record, at, &dynamic))),
            static_crossings: crossings::instants(&dynamic)
                .into_iter()
                .map(Second)
                .collect(),
            static_force: contact.and_then(|at| static_force(record, at, method)),
            residual_force: contact.and_then(|at| residual_force(record, at, method.record)),
            time_above_residual: Ok(time_above_residual(record, method.residual_level)),
            mean_dynamic_force: contact
                .and_then(|at| mean_dynamic_force(record, at, method.dynamic_period)),
            effective_force: effective_force(record, method.effective_level),
            impulse: contact.and_then(|at| impulse(record, at, release?)),
            over_travel: over_travel(trace, record, &contact, &force, gauge.spring_rate),
            energy: force.and_then(|force| {
                energy(force, gauge.spring_rate.ok_or(Unmeasured::NoSpringRate)?)
            }),
            approach_speed: approach_speed(trace, record, &contact, gauge.declared_speed),
            answer: answer(record, &contact, &peak, &stop, released, &reversal, least),
            zero,
            contact,
            peak,
            release,
            stop,
            reversal,
        }
    }
}

/// The response of a record in which the leaf never touches the gauge.
fn untouched(
    method: &Method,
    zero: Zero,
    reason: Unmeasured,
    approach_speed: Measured<(MillimetrePerSecond, Basis)>,
) -> Response {
    fn no<T>(reason: Unmeasured) -> Measured<T> {
        Err(reason)
    }
    Response {
        method: method.clone(),
        zero,
        contact: no(reason),
        touches: Vec::new(),
        peak: no(reason),
        time_above_static: no(reason),
        dynamic_period: no(reason),
        static_crossings: Vec::new(),
        static_force: no(reason),
        residual_force: no(reason),
        time_above_residual: no(reason),
        mean_dynamic_force: no(reason),
        effective_force: no(reason),
        impulse: no(reason),
        release: no(reason),
        stop: no(reason),
        reversal: no(reason),
        over_travel: no(reason),
        energy: no(reason),
        approach_speed,
        answer: Answer::NoContact,
    }
}
