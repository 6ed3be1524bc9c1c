//! The record starts while the leaf already presses.

use super::{GROWING, INSTANTS, Kind, Limitation};
use crate::measure::{Response, Zeroed};

/// The record has touches but no instant of contact.
#[must_use]
pub fn starts_in_contact(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    if response.touches.is_empty() || response.contact.is_ok() {
        return None;
    }
    Some(Limitation {
        kind: Kind::StartsInContact,
        text: format!(
            "The record starts at {:.1} N, when the leaf was already on the gauge: the beginning of the hit was not seen. Start the \
             logger before the leaf moves and repeat the hit.",
            record.forces()[0]
        ),
        bounds: GROWING.into_iter().chain(INSTANTS).collect(),
        voids: Vec::new(),
    })
}
