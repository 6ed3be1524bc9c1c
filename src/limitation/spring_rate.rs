//! The gauge's spring rate outside what the rule asks for.

use super::Limitation;
use crate::quantity::NewtonPerMillimetre;

/// The spring rate that a rule asks of the gauge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringBand {
    /// The rate.
    pub rate: NewtonPerMillimetre,
    /// How far it may lie from that, either way.
    pub either_way: NewtonPerMillimetre,
}

/// The rate is unknown or outside the band. A stiffer spring raises the peak of a hit and a softer one lowers it, so that the
/// readings can show neither.
#[must_use]
pub fn spring_rate(rate: Option<NewtonPerMillimetre>, asked: SpringBand) -> Option<Limitation> {
    let (NewtonPerMillimetre(middle), NewtonPerMillimetre(either)) = (asked.rate, asked.either_way);
    let rate = rate.map(NewtonPerMillimetre::get);
    let inside = rate.is_some_and(|rate| (rate - middle).abs() <= either);
    (!inside).then_some(Limitation::SpringRate {
        rate_n_mm: rate,
        required_n_mm: middle,
        either_way_n_mm: either,
    })
}
