//! How the leaf answered the hit.

use serde::{Deserialize, Serialize};

use super::zeroed::Zeroed;
use super::{Basis, Measured, Peak};
use crate::fact::Fact;
use crate::quantity::{Newton, Second};

/// How the leaf answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// It stopped and moved away.
    StopsAndReverses,
    /// It stopped and the force fell without a hold.
    StopsAndLetsGo,
    /// It stopped and kept pressing to the end of the record.
    StopsAndHolds,
    /// The force rose again after the stop to a new maximum.
    PushesThrough,
    /// The contact level was never reached for long enough.
    NoContact,
}

impl Fact for Answer {
    const FAMILY: &'static str = "answer";
}

/// How the leaf answered, in this order: it pushes through if the force rises after the stop above everything before by
/// `least`, or never stops rising; it holds if it is never released; it reverses if it moves away after a hold, or is seen to
/// move away by a channel; else it lets go.
///
/// # Quantities
/// `contact` (s from the first sample); `stop`, `release` and `reversal` (s after contact); `least` (N): the prominence of a maximum.
#[must_use]
pub fn answer(
    record: &Zeroed<'_>,
    contact: &Measured<Second>,
    peak: &Measured<Peak>,
    stop: &Measured<(Second, Basis)>,
    released: bool,
    reversal: &Measured<(Second, Basis)>,
    least: Newton,
) -> Answer {
    let Ok(peak) = peak else {
        return Answer::NoContact;
    };
    let pushed = match (contact, stop) {
        (Ok(contact), Ok((stop, _))) => {
            let to = record
                .times()
                .partition_point(|t| *t <= (*contact + *stop).get());
            let before = record.greatest(record.index_at(contact.get()), to);
            before.is_some_and(|i| peak.force.get() >= record.forces()[i] + least.get())
        }
        _ => !released && peak.index + 1 == record.times().len(),
    };
    match (pushed, released, stop, reversal) {
        (true, ..) => Answer::PushesThrough,
        (_, _, _, Ok((_, Basis::Position | Basis::Speed))) => Answer::StopsAndReverses,
        (_, false, ..) => Answer::StopsAndHolds,
        (_, _, Ok((stop, Basis::Force)), Ok((reversal, _))) if reversal > stop => {
            Answer::StopsAndReverses
        }
        _ => Answer::StopsAndLetsGo,
    }
}
