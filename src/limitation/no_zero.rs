//! No quiet stretch to take a zero from.

use super::Limitation;
use crate::measure::{Answer, Response, ZeroFrom};

/// No zero was measured. Of a gauge that zeroes itself only the small forces are in doubt: the drift is not known, so what
/// remains at the end can show neither. Of any other gauge all forces are lower bounds.
#[must_use]
pub fn no_zero(response: &Response) -> Option<Limitation> {
    let zero = &response.zero;
    let seen = response.answer != Answer::NoContact && zero.from != ZeroFrom::QuietStretch;
    seen.then(|| Limitation::NoZero {
        zero_from: zero.from,
        unmeasured: zero.value.err(),
        shift_n: zero.shift.get(),
    })
}
