//! A straight line through values: does something drift, and how fast.

use serde::Serialize;

use super::sample::{Moments, checked, is_rounding, magnitude, sum};
use super::{Confidence, Estimate, Interval, StatisticsError};

/// A straight line y = intercept + slope·x with what is needed for its intervals.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Line {
    /// The slope, in units of y a unit of x.
    pub slope: Estimate,
    /// The value at x = 0.
    pub intercept: Estimate,
    /// Standard deviation of the values about the line.
    pub residual_deviation: f64,
    /// The share of the spread of y that the line explains.
    pub r_squared: f64,
    count: f64,
    mean_x: f64,
    mean_y: f64,
    squares_x: f64,
}

impl Line {
    /// The height of the line at `x`, with the standard error of that height.
    ///
    /// # Errors
    /// An `x` that is not finite.
    pub fn height_at(&self, x: f64) -> Result<Estimate, StatisticsError> {
        let distance = x - self.mean_x;
        Estimate::new(
            self.mean_y + self.slope.value() * distance,
            self.residual_deviation
                * (1.0 / self.count + distance * distance / self.squares_x).sqrt(),
            self.count - 2.0,
        )
    }

    /// Where one further value at `x` is to be expected.
    ///
    /// # Errors
    /// An `x` that is not finite.
    pub fn next_value_at(
        &self,
        x: f64,
        confidence: Confidence,
    ) -> Result<Interval, StatisticsError> {
        let height = self.height_at(x)?;
        let error = height.standard_error().hypot(self.residual_deviation);
        Ok(Estimate::new(height.value(), error, height.degrees_of_freedom())?.interval(confidence))
    }
}

/// Where a line reaches a level.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reach {
    /// Where the line itself does.
    pub at: f64,
    /// Where the upper and the lower bound of its height do, the smaller x first.
    pub between: (f64, f64),
}

impl Line {
    /// Where the line reaches a level, and where the bounds of its height do; `None` unless the interval of the slope excludes
    /// zero at this confidence.
    ///
    /// x = x̄ + (L − ȳ)/b. The bounds solve (ȳ + b·d − L)² = t² s² (1/n + d²/S_xx) for d = x − x̄:
    /// with A = b² − t² s²/S_xx, d = (b h ± √(b²h² − A(h² − t² s²/n)))/A, h = L − ȳ.
    ///
    /// # Quantities
    /// level in the unit of y; out in the unit of x.
    ///
    /// # Holds when
    /// as for the line, and as far as the line goes on: it says nothing of what happens beyond the values.
    ///
    /// # Source
    /// Fieller, E. C. 1954, Some problems in interval estimation, J. R. Stat. Soc. B 16, 175–185 (from memory); the tests
    /// find the bounds with a root finder of SciPy instead.
    ///
    /// # Example
    /// ```
    /// use relent::compare::{Confidence, least_squares};
    /// let line = least_squares(&[0.0, 1.0, 2.0, 3.0], &[0.1, 0.9, 2.1, 2.9])?;
    /// // Slope 0.96, intercept 0.06: 4.86 is reached at 5.
    /// let reach = line.reaches(4.86, Confidence::new(0.95)?).unwrap();
    /// assert!((reach.at - 5.0).abs() < 1e-12);
    /// assert!(reach.between.0 < 5.0 && reach.between.1 > 5.0);
    /// # Ok::<(), relent::compare::StatisticsError>(())
    /// ```
    #[must_use]
    pub fn reaches(&self, level: f64, confidence: Confidence) -> Option<Reach> {
        let interval = self.slope.interval(confidence);
        if interval.lower <= 0.0 && interval.upper >= 0.0 {
            return None;
        }
        let (b, h) = (self.slope.value(), level - self.mean_y);
        // t·s/√S_xx is half the width of the slope's interval.
        let half = (interval.upper - interval.lower) / 2.0;
        let a = b * b - half * half;
        let ts = half * self.squares_x.sqrt();
        let root = (b * b * h * h - a * (h * h - ts * ts / self.count))
            .max(0.0)
            .sqrt();
        let ends = [(b * h - root) / a, (b * h + root) / a].map(|d| self.mean_x + d);
        let reach = Reach {
            at: self.mean_x + h / b,
            between: (ends[0].min(ends[1]), ends[0].max(ends[1])),
        };
        [reach.at, reach.between.0, reach.between.1]
            .iter()
            .all(|x| x.is_finite())
            .then_some(reach)
    }
}

/// The straight line of least squares through values.
///
/// b = Σ (xᵢ − x̄)(yᵢ − ȳ) / S_xx, a = ȳ − b x̄, s² = Σ (yᵢ − ȳ − b(xᵢ − x̄))² / (n − 2),
/// SE_b = s/√S_xx, SE_a = s √(1/n + x̄²/S_xx), ν = n − 2.
///
/// # Quantities
/// `x` and `y` of one length n ≥ 3, each in its unit.
///
/// # Holds when
/// The values scatter about a straight line independently, normally and with one spread. Sums are taken about the first
/// point with compensation.
///
/// # Errors
/// Unequal lengths, fewer than three points, a value that is not finite, all x alike, or values that lie on a line to within
/// rounding.
///
/// # Source
/// Gauss's least squares; certified values of NIST StRD "Norris" in the tests.
///
/// # Example
/// ```
/// // (0, 1), (1, 2), (2, 4): slope 1.5, intercept 5/6, residuals 1/6, −1/3, 1/6.
/// let line = relent::compare::least_squares(&[0.0, 1.0, 2.0], &[1.0, 2.0, 4.0])?;
/// assert!((line.slope.value() - 1.5).abs() < 1e-15);
/// assert!((line.intercept.value() - 5.0 / 6.0).abs() < 1e-15);
/// assert!((line.residual_deviation.powi(2) - 1.0 / 6.0).abs() < 1e-15);
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn least_squares(x: &[f64], y: &[f64]) -> Result<Line, StatisticsError> {
    if x.len() != y.len() {
        return Err(StatisticsError::NotPaired {
            first: x.len(),
            second: y.len(),
        });
    }
    checked("the x values", x, 3)?;
    checked("the y values", y, 3)?;
    let (across, up) = (Moments::about(x[0], x), Moments::about(y[0], y));
    if across.squares <= 0.0 {
        return Err(StatisticsError::NoSpread {
            what: "the x values",
        });
    }
    let distances = || {
        let from_means = |(x_i, y_i)| (x_i - x[0] - across.offset, y_i - y[0] - up.offset);
        x.iter().zip(y).map(from_means)
    };
    let slope = sum(distances().map(|(dx, dy)| dx * dy)) / across.squares;
    let residual = sum(distances().map(|(dx, dy)| (dy - slope * dx).powi(2)));
    let freedom = across.count - 2.0;
    let deviation = (residual / freedom).sqrt();
    if is_rounding(deviation, magnitude(y)) {
        return Err(StatisticsError::NoSpread {
            what: "the distances of the values from the line",
        });
    }
    let (mean_x, mean_y) = (x[0] + across.offset, y[0] + up.offset);
    let reach = (1.0 / across.count + mean_x * mean_x / across.squares).sqrt();
    Ok(Line {
        slope: Estimate::new(slope, deviation / across.squares.sqrt(), freedom)?,
        intercept: Estimate::new(mean_y - slope * mean_x, deviation * reach, freedom)?,
        residual_deviation: deviation,
        r_squared: 1.0 - residual / up.squares,
        count: across.count,
        mean_x,
        mean_y,
        squares_x: across.squares,
    })
}
