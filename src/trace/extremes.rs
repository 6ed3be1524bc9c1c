//! The smallest and greatest of many numbers, in one pass that the compiler does several at a time.

/// Numbers looked at side by side.
pub(super) const LANES: usize = 8;

/// Smallest and greatest of `values`; ∞ and −∞ for none. NaN is passed over.
///
/// # Example
/// ```
/// assert_eq!(relent::trace::extremes(&[2.0, -1.0, 7.5]), (-1.0, 7.5));
/// ```
#[must_use]
pub fn extremes(values: &[f64]) -> (f64, f64) {
    let (mut least, mut most) = ([f64::INFINITY; LANES], [f64::NEG_INFINITY; LANES]);
    let (chunks, rest) = values.as_chunks::<LANES>();
    for chunk in chunks {
        for lane in 0..LANES {
            least[lane] = lesser(chunk[lane], least[lane]);
            most[lane] = greater(chunk[lane], most[lane]);
        }
    }
    let least = least.iter().chain(rest).copied();
    let most = most.iter().chain(rest).copied();
    (
        least.fold(f64::INFINITY, |least, value| lesser(value, least)),
        most.fold(f64::NEG_INFINITY, |most, value| greater(value, most)),
    )
}

/// Smallest and greatest difference of each value from the one before it; ∞ and −∞ for fewer than two values.
///
/// # Example
/// ```
/// assert_eq!(relent::trace::steps(&[0.0, 1.0, 3.0]), (1.0, 2.0));
/// ```
#[must_use]
pub fn steps(values: &[f64]) -> (f64, f64) {
    let (mut least, mut most) = ([f64::INFINITY; LANES], [f64::NEG_INFINITY; LANES]);
    neighbours::<LANES>(values, |lane, before, after| {
        let step = after - before;
        least[lane] = lesser(step, least[lane]);
        most[lane] = greater(step, most[lane]);
    });
    (extremes(&least).0, extremes(&most).1)
}

/// Smallest distance between neighbouring values that is more than `floor`; ∞ if there is none.
#[must_use]
pub fn least_distance(values: &[f64], floor: f64) -> f64 {
    let mut least = [f64::INFINITY; LANES];
    neighbours::<LANES>(values, |lane, before, after| {
        let step = (after - before).abs();
        let counted = if step > floor { step } else { f64::INFINITY };
        least[lane] = lesser(counted, least[lane]);
    });
    extremes(&least).0
}

/// Looks at each value but the first with the one before it, `LANES` at a time so that the compiler does them side by side.
#[inline(always)]
pub(super) fn neighbours<const LANES: usize>(
    values: &[f64],
    mut look: impl FnMut(usize, f64, f64),
) {
    let pairs = values.len().saturating_sub(1);
    let (befores, before) = values[..pairs].as_chunks::<LANES>();
    let (afters, after) = values[values.len() - pairs..].as_chunks::<LANES>();
    for at in 0..befores.len().min(afters.len()) {
        let (before, after) = (&befores[at], &afters[at]);
        for lane in 0..LANES {
            look(lane, before[lane], after[lane]);
        }
    }
    for at in 0..before.len().min(after.len()) {
        look(0, before[at], after[at]);
    }
}

#[inline]
pub(super) fn lesser(value: f64, than: f64) -> f64 {
    if value < than { value } else { than }
}

#[inline]
pub(super) fn greater(value: f64, than: f64) -> f64 {
    if value > than { value } else { than }
}
