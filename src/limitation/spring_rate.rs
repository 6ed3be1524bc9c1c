//! The gauge's spring rate outside what the rule asks for.

use super::{JUDGED, Kind, Limitation};
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
    let seen = match rate {
        Some(NewtonPerMillimetre(rate)) if (rate - middle).abs() <= either => return None,
        Some(rate) => format!("The spring of the gauge has {rate}"),
        None => "The spring rate of the gauge is not known".to_owned(),
    };
    Some(Limitation {
        kind: Kind::SpringRate,
        text: format!(
            "{seen}, and the rule asks for {middle} ± {either} N/mm: the spring decides how high the peak of a hit is. Use a gauge of \
             that rate, or enter its rate in the gate file."
        ),
        bounds: Vec::new(),
        voids: JUDGED.to_vec(),
    })
}
