//! The distributions the comparisons rest on, as plain functions of finite arguments.
//!
//! The incomplete beta function and the complementary error function are those of `statrs`; the tests compare the results
//! with SciPy. Its quantiles are refined here, because they stop at some eight digits.

use statrs::distribution::{ChiSquared, ContinuousCDF};
use statrs::function::beta::{beta_reg, inv_beta_reg, ln_beta};
use statrs::function::erf::erfc;

/// P(Z ≤ z) of the standard normal distribution.
pub(super) fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}

/// P(T > t) of Student's distribution with ν degrees of freedom, accurate in the upper tail.
pub(super) fn student_above(t: f64, nu: f64) -> f64 {
    let half = 0.5 * beta_reg(nu / 2.0, 0.5, nu / (nu + t * t));
    if t > 0.0 { half } else { 1.0 - half }
}

/// The t with P(T ≤ t) = p: a first value from the inverse beta function, then Newton steps on the smaller tail.
pub(super) fn student_quantile(p: f64, nu: f64) -> f64 {
    let tail = p.min(1.0 - p);
    if tail == 0.5 {
        return 0.0;
    }
    let y = inv_beta_reg(nu / 2.0, 0.5, 2.0 * tail);
    let mut t = (nu * (1.0 - y) / y).sqrt();
    for _ in 0..8 {
        let step = (student_above(t, nu) - tail) / student_density(t, nu);
        t = (t + step).max(t / 2.0);
        if step.abs() <= 1e-14 * t {
            break;
        }
    }
    if p < 0.5 { -t } else { t }
}

fn student_density(t: f64, nu: f64) -> f64 {
    let log = -ln_beta(nu / 2.0, 0.5) - 0.5 * nu.ln() - 0.5 * (nu + 1.0) * (t * t / nu).ln_1p();
    log.exp()
}

/// P(F > f) of the variance ratio with d₁ and d₂ degrees of freedom.
pub(super) fn variance_ratio_above(f: f64, d1: f64, d2: f64) -> f64 {
    beta_reg(d2 / 2.0, d1 / 2.0, d2 / (d2 + d1 * f))
}

/// The x with P(χ² ≤ x) = p for ν > 0 degrees of freedom; `None` if ν is not a positive number.
pub(super) fn chi_squared_quantile(p: f64, nu: f64) -> Option<f64> {
    ChiSquared::new(nu).ok().map(|chi| chi.inverse_cdf(p))
}
