//! Sums that keep their digits, and the checks every sample passes before it is used.

use super::StatisticsError;

/// Count, mean and sum of squares of a sample, held as distances from an origin near the values.
///
/// m = Σ (xᵢ − o) / n and S = Σ (xᵢ − o − m)² − (Σ (xᵢ − o − m))² / n, summed with compensation. With the origin o close to
/// the values the subtraction is exact in binary floating point (Sterbenz: exact where x/2 ≤ o ≤ 2x), so a large constant
/// part of the values costs no digits; the second term removes what rounding of m leaves.
///
/// # Source
/// Chan, Golub & LeVeque, "Algorithms for computing the sample variance", The American Statistician 37 (1983), the corrected
/// two-pass formula (1.7); the compensation is Neumaier's, ZAMM 54 (1974) 39–51.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moments {
    /// How many values.
    pub(super) count: f64,
    /// Mean less the origin.
    pub(super) offset: f64,
    /// Sum of the squared distances from the mean.
    pub(super) squares: f64,
}

impl Moments {
    /// The moments of `values` about `origin`; `values` is not empty.
    pub(super) fn about(origin: f64, values: &[f64]) -> Self {
        let count = values.len() as f64;
        let offset = sum(values.iter().map(|x| x - origin)) / count;
        let left = sum(values.iter().map(|x| (x - origin) - offset));
        let raw = sum(values.iter().map(|x| ((x - origin) - offset).powi(2)));
        Self {
            count,
            offset: offset + left / count,
            squares: (raw - left * left / count).max(0.0),
        }
    }

    /// The unbiased variance S / (n − 1).
    pub(super) fn variance(&self) -> f64 {
        self.squares / (self.count - 1.0)
    }
}

/// The sum of `terms`, with the rounding error of each step carried along and added at the end.
pub(super) fn sum(terms: impl IntoIterator<Item = f64>) -> f64 {
    let mut total = 0.0_f64;
    let mut carried = 0.0_f64;
    for term in terms {
        let next = total + term;
        carried += if total.abs() >= term.abs() {
            (total - next) + term
        } else {
            (term - next) + total
        };
        total = next;
    }
    total + carried
}

/// `values` unchanged if there are at least `least` of them and all are finite.
pub(super) fn checked<'a>(
    what: &'static str,
    values: &'a [f64],
    least: usize,
) -> Result<&'a [f64], StatisticsError> {
    if values.len() < least {
        let found = values.len();
        return Err(StatisticsError::TooFew { what, found, least });
    }
    match values.iter().position(|value| !value.is_finite()) {
        Some(index) => Err(StatisticsError::NotFinite {
            what,
            index,
            found: values[index],
        }),
        None => Ok(values),
    }
}

/// after − before, pair by pair, for samples of one length with at least `least` pairs.
pub(super) fn differences(
    before: &[f64],
    after: &[f64],
    least: usize,
) -> Result<Vec<f64>, StatisticsError> {
    if before.len() != after.len() {
        return Err(StatisticsError::NotPaired {
            first: before.len(),
            second: after.len(),
        });
    }
    checked("the values before", before, least)?;
    checked("the values after", after, least)?;
    Ok(before.iter().zip(after).map(|(b, a)| a - b).collect())
}

/// The greatest magnitude among `values`, for telling a spread from rounding.
pub(super) fn magnitude<'a>(values: impl IntoIterator<Item = &'a f64>) -> f64 {
    values.into_iter().fold(0.0, |most, x| most.max(x.abs()))
}

/// Whether a standard deviation is no more than what rounding of values of this magnitude leaves behind.
pub(super) fn is_rounding(deviation: f64, magnitude: f64) -> bool {
    deviation <= 4.0 * f64::EPSILON * magnitude
}
