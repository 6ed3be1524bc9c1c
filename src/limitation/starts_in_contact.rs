//! The record starts while the leaf already presses.

use super::Limitation;
use crate::measure::{Response, Zeroed};

/// The record has touches but no instant of contact.
#[must_use]
pub fn starts_in_contact(record: &Zeroed<'_>, response: &Response) -> Option<Limitation> {
    let seen = !response.touches.is_empty() && response.contact.is_err();
    seen.then(|| Limitation::StartsInContact {
        force_n: record.forces()[0],
    })
}
