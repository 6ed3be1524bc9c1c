//! Median and noise of a stretch of samples, without sorting it.

/// From the median absolute deviation to the standard deviation of a normal distribution: 1/Φ⁻¹(3/4).
///
/// Source: Rousseeuw & Croux, "Alternatives to the median absolute deviation", JASA 88 (1993), section 1 (1.4826).
const MAD_TO_SIGMA: f64 = 1.4826;

/// The median of `values`, which are reordered; `None` for none. Of an even number, the mean of the middle two.
pub(super) fn median(values: &mut [f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let half = values.len() / 2;
    let odd = values.len() % 2 == 1;
    let (below, middle, _) = values.select_nth_unstable_by(half, f64::total_cmp);
    if odd {
        return Some(*middle);
    }
    let lower = below.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(lower + (*middle - lower) / 2.0)
}

/// Median and noise (1.4826 × median absolute deviation) of `values`; `scratch` is overwritten.
pub(super) fn median_and_noise(values: &[f64], scratch: &mut Vec<f64>) -> Option<(f64, f64)> {
    scratch.clear();
    scratch.extend_from_slice(values);
    let middle = median(scratch)?;
    for value in scratch.iter_mut() {
        *value = (*value - middle).abs();
    }
    Some((middle, MAD_TO_SIGMA * median(scratch)?))
}
