//! How many hits are needed before a comparison can show anything.

use serde::Serialize;

use super::distributions::{chi_squared_quantile, normal_below, student_quantile};
use super::quadrature::Quadrature;
use super::{Alpha, Confidence, Margin, StatisticsError};

/// Nodes of the quadrature rule.
const ORDER: u32 = 20;
/// Parts into which the range of the estimated spread is cut.
const PANELS: u32 = 8;
/// How far the integrals reach, in standard deviations of the variable: what lies beyond is under 1e-15.
const REACH: f64 = 12.0;

/// What is measured how often, and how the single values spread.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Layout {
    /// Pairs, one value before and one after each; `deviation` is that of the differences.
    Pairs {
        /// Standard deviation of the differences.
        deviation: f64,
    },
    /// As many values before as after, compared by [`welch_difference`](super::welch_difference).
    Groups {
        /// Standard deviation before.
        before: f64,
        /// Standard deviation after.
        after: f64,
    },
    /// As many values before as after at each block, compared by [`additive_effect`](super::additive_effect); one block is the two-sample
    /// t test with a pooled spread.
    Blocks {
        /// How many blocks.
        blocks: u32,
        /// Standard deviation of a single value.
        deviation: f64,
    },
}

/// What the comparison is to show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Question {
    /// Not worse by as much as the margin (greater is worse).
    NotWorse,
    /// Changed by less than the margin, either way.
    Equivalent,
}

/// A comparison that is planned.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Plan {
    /// What is measured.
    pub layout: Layout,
    /// What it is to show.
    pub question: Question,
    /// The margin.
    pub margin: Margin,
    /// The true difference after − before for which the power is wanted; greater is worse.
    pub difference: f64,
    /// Permitted probability of a wrong claim.
    pub alpha: Alpha,
}

/// The spread seen in a pilot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Pilot {
    /// Its standard deviation.
    pub deviation: f64,
    /// The degrees of freedom of that, as hits − 1.
    pub degrees_of_freedom: f64,
}

impl Pilot {
    /// The standard deviation that the true one does not exceed, with this confidence: s √(ν / χ²₁₋c(ν)).
    ///
    /// A plan that takes a small pilot's own deviation has too few hits about half the time.
    ///
    /// # Errors
    /// A deviation or degrees of freedom that are not positive and finite.
    ///
    /// # Example
    /// ```
    /// use relent::compare::{Confidence, Pilot};
    /// // ν = 2: χ² is exponential, χ²(0.2) = −2 ln 0.8 = 0.446287.
    /// let pilot = Pilot { deviation: 6.0, degrees_of_freedom: 2.0 };
    /// let bound = pilot.deviation_at_most(Confidence::new(0.8)?)?;
    /// assert!((bound - 6.0 * (2.0_f64 / (-2.0 * 0.8_f64.ln())).sqrt()).abs() < 1e-8);
    /// # Ok::<(), relent::compare::StatisticsError>(())
    /// ```
    pub fn deviation_at_most(&self, confidence: Confidence) -> Result<f64, StatisticsError> {
        let deviation = positive("the deviation of the pilot", self.deviation)?;
        let freedom = positive(
            "the degrees of freedom of the pilot",
            self.degrees_of_freedom,
        )?;
        chi_squared_quantile(1.0 - confidence.level(), freedom)
            .map(|quantile| deviation * (freedom / quantile).sqrt())
            .ok_or(StatisticsError::OutOfRange {
                what: "the degrees of freedom of the pilot",
                found: freedom,
                expected: "a positive number",
            })
    }
}

/// The probability that a planned comparison shows what it is to show, at `repeats` values a side (of each block).
///
/// With SE the true standard error and s = (estimated SE)/SE, √ν·s follows the χ distribution with ν degrees of freedom and is
/// independent of the mean, so for a critical value t
/// not worse: ∫ Φ((Δ − δ)/SE − t s) f(s) ds;
/// equivalent: ∫ [Φ((Δ − δ)/SE − t s) − Φ((−Δ − δ)/SE + t s)] f(s) ds over t s < Δ/SE.
/// The first is a noncentral t probability, the second the difference of two of Owen's Q functions. For groups with spreads of
/// their own, ν and t depend on the share B of the first in the sum of squares, which follows a beta distribution independent of
/// the sum: a second integral over B makes the power of Welch's test exact, not an approximation by one ν.
///
/// # Quantities
/// `repeats`: values before (and as many after) in all, or at each block, or pairs. Deviations, margin and difference in one unit.
///
/// # Holds when
/// Values are normal with the deviations of the plan. Agrees with noncentral t of SciPy and with independent integration to 1e-8.
///
/// # Errors
/// Deviations that are not positive, a difference that is not finite, or so few repeats that nothing can be estimated.
///
/// # Source
/// Owen, Biometrika 52 (1965) 437–446; Phillips, J. Pharmacokinetics and Biopharmaceutics 18 (1990) 137–144.
///
/// # Example
/// ```
/// use relent::compare::{Alpha, Layout, Margin, Plan, Question, power};
/// let plan = Plan {
///     layout: Layout::Blocks { blocks: 9, deviation: 12.0 },
///     question: Question::NotWorse,
///     margin: Margin::new(10.0)?,
///     difference: 0.0,
///     alpha: Alpha::new(0.05)?,
/// };
/// assert!(power(&plan, 3)? > 0.8);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn power(plan: &Plan, repeats: u32) -> Result<f64, StatisticsError> {
    if !plan.difference.is_finite() {
        return Err(StatisticsError::OutOfRange {
            what: "the difference of the plan",
            found: plan.difference,
            expected: "a finite number",
        });
    }
    let n = f64::from(repeats);
    match plan.layout {
        Layout::Pairs { deviation } => {
            enough(repeats, 2)?;
            let error = positive("the deviation", deviation)? / n.sqrt();
            Ok(Chances::of(plan, error).with_freedom(n - 1.0))
        }
        Layout::Blocks { blocks, deviation } => {
            enough(repeats, if blocks > 1 { 1 } else { 2 })?;
            let cells = n * positive("the number of blocks", f64::from(blocks))?;
            let error = positive("the deviation", deviation)? * (2.0 / cells).sqrt();
            Ok(Chances::of(plan, error).with_freedom(2.0 * cells - f64::from(blocks) - 1.0))
        }
        Layout::Groups { before, after } => {
            enough(repeats, 2)?;
            let x = positive("the deviation before", before)?.powi(2);
            let y = positive("the deviation after", after)?.powi(2);
            Ok(Chances::of(plan, ((x + y) / n).sqrt()).with_own_spreads(x, y, n))
        }
    }
}

/// The fewest repeats at which the plan has the power `wanted`, with the power they give.
///
/// # Errors
/// As [`power`]; a power outside 0 … 1; a true difference that is itself outside the margin; a power that `most` repeats do not reach.
pub fn smallest_design(plan: &Plan, wanted: f64, most: u32) -> Result<(u32, f64), StatisticsError> {
    if !(wanted > 0.0 && wanted < 1.0) {
        return Err(StatisticsError::OutOfRange {
            what: "the power wanted",
            found: wanted,
            expected: "a share between 0 and 1, as 0.8",
        });
    }
    let beyond = match plan.question {
        Question::NotWorse => plan.difference,
        Question::Equivalent => plan.difference.abs(),
    };
    if beyond >= plan.margin.get() {
        return Err(StatisticsError::OutOfRange {
            what: "the difference of the plan",
            found: plan.difference,
            expected: "a difference within the margin",
        });
    }
    let least = match plan.layout {
        Layout::Blocks { blocks, .. } if blocks > 1 => 1,
        _ => 2,
    };
    let (mut low, mut high) = (least, least);
    let mut reached = power(plan, high)?;
    while reached < wanted {
        if high >= most {
            return Err(StatisticsError::PowerOutOfReach {
                wanted,
                reached,
                most,
            });
        }
        low = high + 1;
        high = high.saturating_mul(2).min(most);
        reached = power(plan, high)?;
    }
    while low < high {
        let middle = low + (high - low) / 2;
        let there = power(plan, middle)?;
        if there >= wanted {
            (high, reached) = (middle, there);
        } else {
            low = middle + 1;
        }
    }
    Ok((high, reached))
}

/// The distances of the true difference from the margins in standard errors, and how often an interval of random width fits between.
struct Chances {
    question: Question,
    alpha: f64,
    /// (Δ − δ)/SE.
    to_upper: f64,
    /// (−Δ − δ)/SE.
    to_lower: f64,
    rule: Quadrature,
}

impl Chances {
    fn of(plan: &Plan, standard_error: f64) -> Self {
        Self {
            question: plan.question,
            alpha: plan.alpha.get(),
            to_upper: (plan.margin.get() - plan.difference) / standard_error,
            to_lower: (-plan.margin.get() - plan.difference) / standard_error,
            rule: Quadrature::new(ORDER),
        }
    }

    fn with_freedom(&self, freedom: f64) -> f64 {
        self.over_spread(-student_quantile(self.alpha, freedom), freedom)
    }

    /// The chance averaged over s, for half widths of t·s standard errors.
    fn over_spread(&self, t: f64, freedom: f64) -> f64 {
        // Proportional to the density of s, and about 1 at its peak.
        let density = |s: f64| ((freedom - 1.0) * s.ln() - freedom * (s * s - 1.0) / 2.0).exp();
        let reach = REACH / (2.0 * freedom).sqrt();
        let (lower, upper) = ((1.0 - reach).max(0.0), 1.0 + reach);
        let whole = self.rule.integral(lower, upper, PANELS, density);
        let end = match self.question {
            Question::NotWorse => upper,
            Question::Equivalent => upper.min((self.to_upper - self.to_lower) / 2.0 / t),
        };
        let shown = |s: f64| self.at_half_width(t * s) * density(s);
        (self.rule.integral(lower, end, PANELS, shown) / whole).clamp(0.0, 1.0)
    }

    fn at_half_width(&self, half: f64) -> f64 {
        let not_above = normal_below(self.to_upper - half);
        match self.question {
            Question::NotWorse => not_above,
            Question::Equivalent => not_above - normal_below(self.to_lower + half),
        }
    }

    /// Averaged over the share B = sin²θ of the first group in the sum of squares, for variances x and y and n values each.
    fn with_own_spreads(&self, x: f64, y: f64, n: f64) -> f64 {
        let power = n - 2.0;
        // sin θ and cos θ to the same power: proportional to the density of θ, greatest at π/4.
        let density = |theta: f64| (2.0 * theta).sin().powf(power);
        let quarter = std::f64::consts::FRAC_PI_4;
        let reach = (REACH / (4.0 * power).sqrt()).min(quarter);
        let chance = |theta: f64| {
            let (first, second) = (x * theta.sin().powi(2), y * theta.cos().powi(2));
            let (part, rest) = (first / (first + second), second / (first + second));
            let freedom = (n - 1.0) / (part * part + rest * rest);
            let t = -student_quantile(self.alpha, freedom);
            let width = (2.0 * (first + second) / (x + y)).sqrt();
            self.over_spread(t * width, 2.0 * n - 2.0) * density(theta)
        };
        let (lower, upper) = (quarter - reach, quarter + reach);
        let whole = self.rule.integral(lower, upper, PANELS / 2, density);
        self.rule.integral(lower, upper, PANELS / 2, chance) / whole
    }
}

fn positive(what: &'static str, found: f64) -> Result<f64, StatisticsError> {
    if found > 0.0 && found.is_finite() {
        return Ok(found);
    }
    Err(StatisticsError::OutOfRange {
        what,
        found,
        expected: "a positive number",
    })
}

fn enough(repeats: u32, least: usize) -> Result<(), StatisticsError> {
    let found = repeats as usize;
    if found >= least {
        return Ok(());
    }
    Err(StatisticsError::TooFew {
        what: "the repeats of the plan",
        found,
        least,
    })
}
