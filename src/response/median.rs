//! Median and noise of a stretch of samples, without sorting it.

/// From the median absolute deviation to the standard deviation of a normal distribution: 1/Φ⁻¹(3/4).
///
/// Source: Rousseeuw & Croux, "Alternatives to the median absolute deviation", JASA 88 (1993), section 1 (1.4826).
const MAD_TO_SIGMA: f64 = 1.4826;

/// The median of `values`; `None` for none. Of an even number, the mean of the middle two. `scratch` is overwritten.
pub(super) fn median(values: &[f64], scratch: &mut Vec<f64>) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    if let Some(found) = shared(values) {
        return Some(found);
    }
    scratch.clear();
    scratch.extend_from_slice(values);
    let half = values.len() / 2;
    let (below, middle, _) = scratch.select_nth_unstable_by(half, f64::total_cmp);
    if values.len() % 2 == 1 {
        return Some(*middle);
    }
    let lower = below.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(lower + (*middle - lower) / 2.0)
}

/// The median, if it is one that many values share: logs are written in few digits, and a quiet force takes few values.
///
/// A value of a small sample is the median where less than half of all are below it, and less than half above: counting shows it.
fn shared(values: &[f64]) -> Option<f64> {
    const SAMPLE: usize = 63;
    const TRIES: usize = 4;
    if values.len() < 4 * SAMPLE {
        return None;
    }
    let half = values.len() / 2;
    let mut sample = [0.0; SAMPLE];
    for (at, value) in sample.iter_mut().enumerate() {
        *value = values[at * values.len() / SAMPLE];
    }
    sample.sort_unstable_by(f64::total_cmp);
    let mut guess = sample[SAMPLE / 2];
    for _ in 0..TRIES {
        let below = values.iter().filter(|value| **value < guess).count();
        let up_to = values.iter().filter(|value| **value <= guess).count();
        if below >= half {
            let first = sample.partition_point(|value| *value < guess);
            guess = sample[first.checked_sub(1)?];
        } else if up_to <= half {
            let after = sample.partition_point(|value| *value <= guess);
            guess = *sample.get(after)?;
        } else if guess == 0.0 && values.len() % 2 == 1 {
            // Both zeros are equal, and the negative one comes first.
            let negative = |value: &&f64| value.to_bits() == (-0.0_f64).to_bits();
            let negatives = values.iter().filter(negative).count();
            return Some(if below + negatives > half { -0.0 } else { 0.0 });
        } else {
            return Some(guess + 0.0);
        }
    }
    None
}

/// Median and noise (1.4826 × median absolute deviation) of `values`.
pub(super) fn median_and_noise(values: &[f64]) -> Option<(f64, f64)> {
    let mut scratch = Vec::new();
    let middle = median(values, &mut scratch)?;
    let deviations: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
    Some((middle, MAD_TO_SIGMA * median(&deviations, &mut scratch)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The median of a sorted copy.
    fn sorted(values: &[f64]) -> f64 {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        let half = sorted.len() / 2;
        if sorted.len() % 2 == 1 {
            return sorted[half];
        }
        sorted[half - 1] + (sorted[half] - sorted[half - 1]) / 2.0
    }

    #[test]
    fn a_shared_median_is_that_of_the_sorted_values_to_the_bit() {
        let mut seed = 7_u64;
        for (kinds, offset) in [
            (2, -1),
            (3, -1),
            (4, -2),
            (7, -3),
            (7, 12),
            (40, -20),
            (4000, -9),
        ] {
            for many in 240..300_usize {
                let values: Vec<f64> = (0..many)
                    .map(|_| {
                        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                        let tenths = ((seed >> 33) % kinds) as i32 + offset;
                        // Half of the zeros are negative.
                        let sign = if tenths == 0 && seed >> 63 == 1 {
                            -1.0
                        } else {
                            1.0
                        };
                        sign * f64::from(tenths) / 10.0
                    })
                    .collect();
                let found = median(&values, &mut Vec::new()).map(f64::to_bits);
                assert_eq!(found, Some(sorted(&values).to_bits()), "{values:?}");
            }
        }
    }
}
