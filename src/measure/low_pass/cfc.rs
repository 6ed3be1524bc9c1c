//! Channel frequency classes of SAE J211/1.

use std::f64::consts::{PI, SQRT_2};

use super::super::{Measured, Unmeasured};
use super::Section;
use crate::quantity::Hertz;

/// The filter of a channel frequency class, to be run forward and back, see [`super::two_pass`].
///
/// ω_d = 2π · CFC · 2.0775; ω_a = tan(ω_d T / 2); d = 1 + √2 ω_a + ω_a²; a₀ = ω_a²/d, a₁ = 2a₀, a₂ = a₀;
/// b₁ = −2(ω_a² − 1)/d; b₂ = (−1 + √2 ω_a − ω_a²)/d; y = a₀x + a₁x₋₁ + a₂x₋₂ + b₁y₋₁ + b₂y₋₂ (the standard's letters; in
/// [`Section`] b and a are swapped and the sign of b₁, b₂ turned).
///
/// # Quantities
/// `class` (60, 180, 600, 1000), `rate` 1/T (Hz).
///
/// # Errors
/// [`Unmeasured`] if the class is not positive or 2.0775 × class is not below half the rate.
///
/// # Source
/// SAE J211/1, appendix C (memory; the coefficients at 1 and 10 kHz agree with tests/reference/cfc.rs).
///
/// # Example
/// ```
/// use relent::quantity::Hertz;
/// use relent::measure::low_pass::cfc;
/// let section = cfc::section(60.0, Hertz(10_000.0))?;
/// assert!((section.b[0] - 0.00145236747355).abs() < 1e-13);
/// # Ok::<(), relent::measure::Unmeasured>(())
/// ```
pub fn section(class: f64, rate: Hertz) -> Measured<Section> {
    let Hertz(rate) = rate;
    let corner = 2.0775 * class;
    if class.is_nan() || class <= 0.0 || corner >= rate / 2.0 {
        return Err(Unmeasured::LowPassTooHigh {
            corner_hz: corner,
            rate_hz: rate,
        });
    }
    let warped = (PI * corner / rate).tan();
    let square = warped * warped;
    let divisor = 1.0 + SQRT_2 * warped + square;
    let gain = square / divisor;
    Ok(Section {
        b: [gain, 2.0 * gain, gain],
        a: [
            2.0 * (square - 1.0) / divisor,
            (1.0 - SQRT_2 * warped + square) / divisor,
        ],
    })
}
