//! No force ever left the noise, or only negative ones.

use super::{JUDGED, Kind, Limitation};
use crate::measure::{Answer, Response, Zeroed};

/// The leaf never touched the gauge by this record, or the force goes further negative than positive.
#[must_use]
pub fn no_reading(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let (least, most) = record.range();
    let level = response.method.contact_level.get();
    let untouched = response.answer == Answer::NoContact;
    let text = if -least > most.max(level) {
        format!(
            "The force goes down to {least:.1} N and up to {most:.1} N only: a push may have been logged as a negative force. Say so \
             with --invert, or check the channel."
        )
    } else if !untouched {
        return None;
    } else if least == most {
        "Every force in the record is the same: the gauge or its channel gave no reading. Check the channel, the cable and the gauge, \
         and repeat the hit."
            .to_owned()
    } else {
        format!(
            "The force never stays above the {level} N at which the leaf counts as touching the gauge (greatest: {most:.1} N). Check \
             that the leaf hit the gauge, the channel and its unit, and repeat the hit."
        )
    };
    Some(reading_nothing(text))
}

pub(super) fn unusable() -> Vec<Limitation> {
    vec![reading_nothing(
        "The forces of the record are beyond what can be calculated with. Check the channel and its unit.".to_owned(),
    )]
}

fn reading_nothing(text: String) -> Limitation {
    Limitation {
        kind: Kind::NoReading,
        text,
        bounds: Vec::new(),
        voids: JUDGED.to_vec(),
    }
}
