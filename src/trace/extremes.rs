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
    let (befores, afters) = neighbours(values);
    let ((befores, before), (afters, after)) =
        (befores.as_chunks::<LANES>(), afters.as_chunks::<LANES>());
    for (before, after) in befores.iter().zip(afters) {
        for lane in 0..LANES {
            let step = after[lane] - before[lane];
            least[lane] = lesser(step, least[lane]);
            most[lane] = greater(step, most[lane]);
        }
    }
    for (before, after) in before.iter().zip(after) {
        let step = after - before;
        least[0] = lesser(step, least[0]);
        most[0] = greater(step, most[0]);
    }
    (extremes(&least).0, extremes(&most).1)
}

/// Smallest distance between neighbouring values that is more than `floor`; ∞ if there is none.
#[must_use]
pub fn least_distance(values: &[f64], floor: f64) -> f64 {
    let mut least = [f64::INFINITY; LANES];
    let (befores, afters) = neighbours(values);
    let ((befores, before), (afters, after)) =
        (befores.as_chunks::<LANES>(), afters.as_chunks::<LANES>());
    let counted = |before: f64, after: f64| {
        let step = (after - before).abs();
        if step > floor { step } else { f64::INFINITY }
    };
    for (before, after) in befores.iter().zip(afters) {
        for lane in 0..LANES {
            least[lane] = lesser(counted(before[lane], after[lane]), least[lane]);
        }
    }
    for (before, after) in before.iter().zip(after) {
        least[0] = lesser(counted(*before, *after), least[0]);
    }
    extremes(&least).0
}

/// All values but the last, and all but the first.
pub(super) fn neighbours(values: &[f64]) -> (&[f64], &[f64]) {
    let steps = values.len().saturating_sub(1);
    (&values[..steps], &values[values.len() - steps..])
}

#[inline]
pub(super) fn lesser(value: f64, than: f64) -> f64 {
    if value < than { value } else { than }
}

#[inline]
pub(super) fn greater(value: f64, than: f64) -> f64 {
    if value > than { value } else { than }
}
