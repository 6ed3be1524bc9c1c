//! Median and noise of a stretch of samples, without sorting it.

/// From the median absolute deviation to the standard deviation of a normal distribution: 1/Φ⁻¹(3/4).
///
/// Source: Rousseeuw & Croux, "Alternatives to the median absolute deviation", JASA 88 (1993), section 1 (1.4826).
const MAD_TO_SIGMA: f64 = 1.4826;

/// Samples of a stretch of which the median is first sought among a few of them.
const MANY: usize = 4 * SAMPLE;
/// How many those are.
const SAMPLE: usize = 63;

/// The median of `values`, finite numbers; `None` for none. Of an even number, the mean of the middle two. `scratch` is
/// overwritten.
pub(super) fn median(values: &[f64], scratch: &mut Vec<f64>) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let mut around = Around {
        low: f64::NEG_INFINITY,
        up_to_low: 0,
        high: f64::INFINITY,
    };
    if values.len() >= MANY
        && let Some(found) = around.narrow(values)
    {
        return Some(found);
    }
    around.gather(values, scratch);
    let at = values.len() / 2 - around.up_to_low;
    let (below, middle) = if at < scratch.len() {
        let (below, middle, _) = scratch.select_nth_unstable_by(at, f64::total_cmp);
        (&*below, *middle)
    } else {
        (scratch.as_slice(), around.high)
    };
    if values.len() % 2 == 1 {
        return Some(middle);
    }
    let lower = below.iter().copied().fold(around.low, f64::max);
    Some(lower + (middle - lower) / 2.0)
}

/// Two values around the middle ones.
struct Around {
    low: f64,
    /// How many values are no greater than `low`.
    up_to_low: usize,
    high: f64,
}

impl Around {
    /// Closes in on the median of many values, which is found where many share it: logs are written in few digits, and a quiet
    /// force takes few values.
    ///
    /// A value of a small sample is the median where less than half of all are below it, and less than half above: counting
    /// shows it, and which way to go if it is not.
    fn narrow(&mut self, values: &[f64]) -> Option<f64> {
        const TRIES: usize = 4;
        let (lower, upper) = ((values.len() - 1) / 2, values.len() / 2);
        let mut sample = [0.0; SAMPLE];
        for (at, value) in sample.iter_mut().enumerate() {
            *value = values[at * values.len() / SAMPLE];
        }
        sample.sort_unstable_by(f64::total_cmp);
        let mut guess = sample[SAMPLE / 2];
        for _ in 0..TRIES {
            let (mut below, mut up_to) = (0, 0);
            for value in values {
                below += usize::from(*value < guess);
                up_to += usize::from(*value <= guess);
            }
            let next = if below > lower {
                self.high = guess;
                let first = sample.partition_point(|value| *value < guess);
                sample[..first].last()
            } else if up_to <= upper {
                (self.low, self.up_to_low) = (guess, up_to);
                let after = sample.partition_point(|value| *value <= guess);
                sample.get(after)
            } else {
                return Some(shared(guess, below, values));
            };
            guess = *next.filter(|next| self.low < **next && **next < self.high)?;
        }
        None
    }

    /// The values between the two, without a branch that the processor would have to guess.
    fn gather(&self, values: &[f64], found: &mut Vec<f64>) {
        found.clear();
        found.extend_from_slice(values);
        let mut many = 0;
        for at in 0..found.len() {
            let value = found[at];
            found[many] = value;
            many += usize::from(self.low < value && value < self.high);
        }
        found.truncate(many);
    }
}

/// The median, if it is `value`, with `below` values below it. Both zeros are equal, and the negative one comes first.
fn shared(value: f64, below: usize, values: &[f64]) -> f64 {
    if value != 0.0 || values.len().is_multiple_of(2) {
        return value + 0.0;
    }
    let negative = |value: &&f64| value.to_bits() == (-0.0_f64).to_bits();
    let negatives = values.iter().filter(negative).count();
    if below + negatives > values.len() / 2 {
        -0.0
    } else {
        0.0
    }
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
    fn a_median_is_that_of_the_sorted_values_to_the_bit() {
        let mut seed = 7_u64;
        for (kinds, offset) in [
            (2, -1),
            (3, -1),
            (4, -2),
            (7, -3),
            (7, 12),
            (40, -20),
            (300, -150),
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
