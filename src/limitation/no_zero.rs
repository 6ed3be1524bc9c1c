//! No quiet stretch to take a zero from.

use super::{GROWING, Kind, Limitation};
use crate::measure::{Answer, Measure, Response, ZeroFrom};

/// No zero was measured. Of a gauge that zeroes itself only the small forces are in doubt: the drift is not known, so what
/// remains at the end can show neither. Of any other gauge all forces are lower bounds.
#[must_use]
pub fn no_zero(response: &Response) -> Option<Limitation> {
    if response.answer == Answer::NoContact {
        return None;
    }
    let (text, bounds, voids) = match response.zero.from {
        ZeroFrom::QuietStretch => return None,
        ZeroFrom::Declared => (
            "There is no quiet stretch before the hit to check the gauge's own zero, so a small force at the end cannot be told from \
             a shifted zero. Start the logger at least half a second before the leaf arrives."
                .to_owned(),
            Vec::new(),
            vec![Measure::ResidualForce, Measure::TimeAboveResidual],
        ),
        ZeroFrom::LowestStretch => (
            format!(
                "There is no quiet stretch before the hit to take the zero from ({}). Forces are counted from the lowest level in the \
                 record and may be higher. Start the logger at least half a second before the leaf arrives, or declare that the gauge \
                 zeroes itself.",
                response.zero.value.as_ref().err().map_or("", |reason| reason.0.as_str())
            ),
            GROWING.to_vec(),
            Vec::new(),
        ),
    };
    Some(Limitation {
        kind: Kind::NoZero,
        text,
        bounds,
        voids,
    })
}
