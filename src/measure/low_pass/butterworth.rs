//! Butterworth low-pass.

use std::f64::consts::PI;

use super::super::{Measured, Unmeasured};
use super::Section;
use crate::quantity::Hertz;

/// The sections of a Butterworth low-pass: poles of the analogue filter on a circle, brought to the sampled signal by the
/// bilinear transform with its corner kept in place, K = tan(π f_c / f_s).
///
/// A pair of poles at the angle θ from the real axis gives d = 1 + 2K cos θ + K²; b = (K², 2K², K²)/d;
/// a = (2(K² − 1), 1 − 2K cos θ + K²)/d. θ = π(2k + 1)/2n for an even order n, πk/n for an odd one, which has besides a
/// single pole: b = (K, K)/(1 + K); a = (K − 1)/(1 + K).
///
/// # Quantities
/// `order` n ≥ 1; `corner` f_c, where the gain is −3 dB (Hz); `rate` f_s (Hz).
///
/// # Errors
/// [`Unmeasured`] if the order is 0, or the corner is not between 0 and half the rate.
///
/// # Source
/// Oppenheim & Schafer, Discrete-Time Signal Processing, bilinear transform; the tests compare with `scipy.signal.butter`.
///
/// # Example
/// At its corner the gain of one pass is 1/√2; at rest it is 1.
/// ```
/// use relent::quantity::Hertz;
/// use relent::measure::low_pass::butterworth;
/// let sections = butterworth::sections(2, Hertz(100.0), Hertz(1000.0))?;
/// let (b, a) = (sections[0].b, sections[0].a);
/// assert!(((b[0] + b[1] + b[2]) / (1.0 + a[0] + a[1]) - 1.0).abs() < 1e-12);
/// # Ok::<(), relent::measure::Unmeasured>(())
/// ```
pub fn sections(order: usize, corner: Hertz, rate: Hertz) -> Measured<Vec<Section>> {
    let (Hertz(corner), Hertz(rate)) = (corner, rate);
    if order == 0 || corner.is_nan() || corner <= 0.0 || corner >= rate / 2.0 {
        return Err(Unmeasured::LowPassTooHigh {
            corner_hz: corner,
            rate_hz: rate,
        });
    }
    let warped = (PI * corner / rate).tan();
    let odd = order % 2 == 1;
    let angle = |k: usize| match odd {
        true => PI * (k + 1) as f64 / order as f64,
        false => PI * (2 * k + 1) as f64 / (2 * order) as f64,
    };
    let single = odd.then(|| Section {
        b: [warped / (1.0 + warped), warped / (1.0 + warped), 0.0],
        a: [(warped - 1.0) / (1.0 + warped), 0.0],
    });
    let pairs = (0..order / 2).map(|k| pair(warped, angle(k)));
    Ok(single.into_iter().chain(pairs).collect())
}

fn pair(warped: f64, angle: f64) -> Section {
    let square = warped * warped;
    let damping = 2.0 * warped * angle.cos();
    let divisor = 1.0 + damping + square;
    let gain = square / divisor;
    Section {
        b: [gain, 2.0 * gain, gain],
        a: [
            2.0 * (square - 1.0) / divisor,
            (1.0 - damping + square) / divisor,
        ],
    }
}
