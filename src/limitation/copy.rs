//! Copies: one hit under two names or test points, whatever was done to its samples. A copy is not a repeat.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::Limitation;
use super::fingerprint::Fingerprint;
use crate::fact::Fact;
use crate::quantity::Newton;
use crate::trace::Trace;

/// A log of which another is a copy.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Original {
    /// Its name.
    pub log: String,
    /// The day of the earlier visit that it is of, if that is known.
    #[cfg_attr(feature = "schema", schemars(with = "Option<String>"))]
    pub visited_on: Option<Date>,
    /// The folder of that visit, as it was given; none for a log of the same visit.
    pub folder: Option<String>,
    /// What the two have in common.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub alike: Option<Alike>,
}

/// What a copy has in common with its original.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum Alike {
    /// Every sample, but for number format, offset and clock.
    Samples,
    /// The noise: scaled, trimmed, smoothed, resampled or rounded otherwise.
    Noise {
        /// Correlation of the noise in per cent.
        correlation_percent: u8,
    },
    /// Long runs of steps, in a log without noise.
    Steps {
        /// How many.
        runs: usize,
    },
}

impl Fact for Alike {
    const FAMILY: &'static str = "alike";
}

/// What records are compared by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Print {
    /// [`digest`] of the samples.
    pub samples: [u8; 32],
    /// Noise and steps; none for a record that starts at its peak, and in a sealed record of an earlier form.
    pub fingerprint: Option<Fingerprint>,
}

/// A log of an earlier visit to the same gate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EarlierLog {
    /// The log with its visit, as the record will name it.
    pub log: Original,
    /// What it is compared by.
    pub print: Print,
}

impl Print {
    /// Of a record.
    #[must_use]
    pub fn of(trace: &Trace) -> Self {
        let resolution = trace.resolution().map_or(0.0, Newton::get);
        let (times, forces) = (trace.times(), trace.forces());
        let both = times.as_slice().zip(forces.as_slice());
        Self {
            samples: digest(trace),
            fingerprint: both
                .and_then(|(times, forces)| Fingerprint::of(times, forces, resolution)),
        }
    }

    /// What two records have in common if one was made from the other, or both from a third.
    #[must_use]
    pub fn alike(&self, other: &Self) -> Option<Alike> {
        if self.samples == other.samples {
            return Some(Alike::Samples);
        }
        let likeness = self
            .fingerprint
            .as_ref()?
            .likeness(other.fingerprint.as_ref()?);
        if likeness.same_noise() {
            let correlation_percent = (100.0 * likeness.correlation).round() as u8;
            return Some(Alike::Noise {
                correlation_percent,
            });
        }
        let runs = likeness.equal_runs;
        likeness.same_steps().then_some(Alike::Steps { runs })
    }
}

/// Where a force is rounded up, as a share of the unit: near no fraction in which gauges step, so that the rounding of a sum
/// (an offset, another unit) never tips a force to the next whole number.
const OFF_EVERY_FRACTION: f64 = 0.381_966;

/// A digest of the samples that does not change with line ends, number formats, a constant offset or the clock's origin.
///
/// SHA-256 over the whole numbers (fᵢ − f₀)/q, q a tenth of the power of ten at or below the smallest step between neighbouring
/// forces, each in as few bytes as it needs ([`write`]). The instants are left out: a copy whose clock was rewritten is still a
/// copy, and two hits never share every force to the last digit.
///
/// # Example
/// ```
/// use relent::limitation::copy::digest;
/// use relent::trace::Trace;
/// let one = Trace::new(vec![0.0, 0.1, 0.2], vec![0.3, 12.5, 3.0])?;
/// let shifted = Trace::new(vec![9.0, 9.1, 9.2], vec![2.3, 14.5, 5.0])?;
/// let other = Trace::new(vec![0.0, 0.1, 0.2], vec![0.3, 12.6, 3.0])?;
/// assert_eq!(digest(&one), digest(&shifted));
/// assert_ne!(digest(&one), digest(&other));
/// # Ok::<(), relent::trace::TraceError>(())
/// ```
#[must_use]
pub fn digest(trace: &Trace) -> [u8; 32] {
    let step = trace.resolution().map_or(1.0, Newton::get);
    let unit = 10f64.powf((step.log10() + 1e-6).floor() - 1.0);
    let forces = trace.forces();
    let first = forces[0];
    let mut bytes = Vec::with_capacity(4 * forces.len());
    for force in forces {
        write(
            below((force - first) / unit + OFF_EVERY_FRACTION),
            &mut bytes,
        );
    }
    Sha256::digest(&bytes).into()
}

/// Adds a whole number: its sign in the lowest bit (0, −1, 1, −2 … as 0, 1, 2, 3 …), then seven bits a byte from the lowest on, the
/// highest bit of each byte but the last set. No number is the beginning of another, so that other numbers give other bytes.
///
/// # Source
/// Signed variable-length integers as the Protocol Buffers encoding has them (sint64), from memory.
fn write(number: i64, bytes: &mut Vec<u8>) {
    let mut rest = ((number << 1) ^ (number >> 63)) as u64;
    while rest >= 0x80 {
        bytes.push(rest as u8 | 0x80);
        rest >>= 7;
    }
    bytes.push(rest as u8);
}

/// The greatest whole number not above a value; the nearest that there is for one beyond them. As `floor`, without a call for each
/// sample.
fn below(value: f64) -> i64 {
    let towards_zero = value as i64;
    if towards_zero as f64 > value {
        towards_zero.saturating_sub(1)
    } else {
        towards_zero
    }
}

/// For every record that was made from another one or from a log of an earlier visit, its place and the limitation that names all of these.
#[must_use]
pub fn find(records: &[(&str, &Print)], earlier: &[EarlierLog]) -> Vec<(usize, Limitation)> {
    let copy = |(place, (_, print)): (usize, &(&str, &Print))| {
        let others = records.iter().enumerate();
        let others = others.filter(|(other, _)| *other != place);
        let here = others.filter_map(|(_, (log, other))| {
            Some(Original {
                log: (*log).to_owned(),
                visited_on: None,
                folder: None,
                alike: Some(print.alike(other)?),
            })
        });
        let before = earlier.iter().filter_map(|old| {
            let alike = Some(print.alike(&old.print)?);
            let log = old.log.clone();
            Some(Original { alike, ..log })
        });
        let originals: Vec<Original> = here.chain(before).collect();
        (!originals.is_empty()).then_some((place, Limitation::Copy { originals }))
    };
    records.iter().enumerate().filter_map(copy).collect()
}

#[cfg(test)]
mod tests {
    use super::{below, write};

    #[test]
    fn numbers_are_written_in_as_few_bytes_as_they_need() {
        for (number, bytes) in [
            (0, vec![0]),
            (-1, vec![1]),
            (1, vec![2]),
            (-64, vec![0x7f]),
            (64, vec![0x80, 1]),
            (150, vec![0xac, 2]),
            (
                i64::MIN,
                vec![0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1],
            ),
        ] {
            let mut written = Vec::new();
            write(number, &mut written);
            assert_eq!(written, bytes, "{number}");
        }
    }

    #[test]
    fn below_is_floor() {
        let far = 2f64.powi(63);
        for value in [
            0.0,
            -0.0,
            0.4,
            -0.4,
            1.0,
            -1.0,
            -1.5,
            2.999,
            -2.001,
            1e15,
            -1e15,
            1e-300,
            -1e-300,
            far,
            -far,
            2.0 * far,
            -2.0 * far,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::NAN,
        ] {
            assert_eq!(below(value), value.floor() as i64, "{value}");
        }
    }
}
