//! The scatter of repeats, pooled over the test points of a visit where they scatter alike.

use statrs::function::beta::beta_reg;

/// Chance, over all points of a visit together, of leaving one out although all scatter alike.
const FALSE_ALARMS: f64 = 0.05;

/// The relative scatter of repeats, pooled over test points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PooledSpread {
    /// Pooled standard deviation as a share of the mean: s² = Σ(nᵢ − 1)(sᵢ/x̄ᵢ)² / Σ(nᵢ − 1).
    pub relative: f64,
    /// Its degrees of freedom: Σ(nᵢ − 1).
    pub dof: f64,
    /// Test points in it; 0 for a scatter that is declared and not measured.
    pub points: usize,
}

/// How the repeats scatter at each test point of a visit, and which points scatter alike.
///
/// # Why pool
/// A standard deviation from three hits has two degrees of freedom: it is often far too small by luck, and the coverage factor
/// that makes up for it is 4.3. Nine points of three hits that scatter alike give one standard deviation with eighteen.
///
/// # When it is permitted
/// Scatter in proportion to the force, and alike at all points of the pool. The latter is tested: the point with the greatest
/// relative variance is held against all by Cochran's C, in the form for unequal numbers of hits; a point whose share is too
/// great (5 % over all points together) keeps its own scatter and leaves the pool, and the rest is tested again. Cochran's test
/// and not Bartlett's or Levene's, because the harm is one-sided (a wild point that borrows calm from the others), because it
/// takes points of equal readings in its stride (a variance of 0), and because it names the point. Where more than a third of
/// the points would leave, the gate does not scatter alike and nothing is pooled.
///
/// # Errors
/// With three hits a point must scatter several times as much as the others before the test sees it in most visits, and two
/// points that are about equally wild among few can hide each other. A wild point that is not seen borrows calm from the others.
///
/// # Source
/// Pooling: JCGM 100:2008, 4.2.4 and H.3.6. The test, repeated after each point that leaves: ISO 5725-2:1994, 7.3.3, and for
/// unequal numbers R. U. E. 't Lam, Analytica Chimica Acta 659, 2010 (both from memory; its critical values are computed here).
///
/// # Example
/// ```
/// use relent::uncertainty::VisitScatter;
/// let visit = VisitScatter::of(&[
///     vec![372.0, 380.0, 376.0],
///     vec![341.0, 347.0, 339.0],
///     vec![298.0, 300.0, 305.0],
///     vec![300.0, 420.0, 360.0],
/// ]);
/// assert_eq!(visit.with(0).unwrap().dof, 6.0);
/// assert!(visit.with(3).is_none(), "the last point scatters by itself");
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct VisitScatter {
    /// Of each point: Σ(x/x̄ − 1)² and n − 1; `None` for a point that cannot be pooled.
    points: Vec<Option<(f64, f64)>>,
    /// Whether each point is in the pool.
    pooled: Vec<bool>,
}

impl VisitScatter {
    /// Of the repeats at each point, in the order of the points. A point of fewer than two hits, or of a mean that is not above
    /// 0, is in no pool.
    #[must_use]
    pub fn of(points: &[Vec<f64>]) -> Self {
        let points: Vec<Option<(f64, f64)>> =
            points.iter().map(|values| relative(values)).collect();
        let mut pooled: Vec<bool> = points.iter().map(Option::is_some).collect();
        let all = members(&points, &pooled).count();
        while let Some(wild) = wildest(&points, &pooled) {
            pooled[wild] = false;
        }
        let left = members(&points, &pooled).count();
        if left < 2 || 3 * (all - left) > all {
            pooled.fill(false);
        }
        Self { points, pooled }
    }

    /// The scatter that may stand for that of a point: of the whole pool if the point is in it, else `None`.
    #[must_use]
    pub fn with(&self, place: usize) -> Option<PooledSpread> {
        self.pooled
            .get(place)
            .copied()
            .unwrap_or(false)
            .then(|| self.over(|_| true))?
    }

    /// Whether the point has repeats whose scatter can be held against that of others.
    #[must_use]
    pub fn holds(&self, place: usize) -> bool {
        self.points.get(place).is_some_and(Option::is_some)
    }

    /// The scatter at the points of the pool other than this one.
    #[must_use]
    pub fn without(&self, place: usize) -> Option<PooledSpread> {
        self.over(|other| other != place)
    }

    fn over(&self, wanted: impl Fn(usize) -> bool) -> Option<PooledSpread> {
        let (mut squares, mut dof, mut points) = (0.0, 0.0, 0);
        for (_, (square, free)) in
            members(&self.points, &self.pooled).filter(|(place, _)| wanted(*place))
        {
            squares += square;
            dof += free;
            points += 1;
        }
        (points > 0).then(|| PooledSpread {
            relative: f64::sqrt(squares / dof),
            dof,
            points,
        })
    }
}

/// Σ(x/x̄ − 1)² and n − 1.
fn relative(values: &[f64]) -> Option<(f64, f64)> {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    if values.len() < 2 || !mean.is_finite() || mean <= 0.0 {
        return None;
    }
    let squares = values.iter().map(|value| (value / mean - 1.0).powi(2));
    Some((squares.sum(), n - 1.0))
}

fn members<'a>(
    points: &'a [Option<(f64, f64)>],
    pooled: &'a [bool],
) -> impl Iterator<Item = (usize, (f64, f64))> + 'a {
    points
        .iter()
        .zip(pooled)
        .enumerate()
        .filter_map(|(place, (point, pooled))| Some((place, (*point)?)).filter(|_| *pooled))
}

/// The point of the pool whose variance is too great a part of all to be chance.
fn wildest(points: &[Option<(f64, f64)>], pooled: &[bool]) -> Option<usize> {
    let count = members(points, pooled).count();
    let (squares, dof) =
        members(points, pooled).fold((0.0, 0.0), |sum, (_, one)| (sum.0 + one.0, sum.1 + one.1));
    if count < 2 || squares <= 0.0 {
        return None;
    }
    members(points, pooled)
        .map(|(place, one)| {
            (
                place,
                largest_share_chance(one.0 / squares, one.1, dof, count),
            )
        })
        .min_by(|one, other| one.1.total_cmp(&other.1))
        .filter(|(_, chance)| *chance < FALSE_ALARMS)
        .map(|(place, _)| place)
}

/// The chance, at most, that any of so many points holds this share of the sum of squares or more if all scatter alike: the
/// number of points times P(Beta(ν/2, (N − ν)/2) > share), with ν the point's degrees of freedom and N those of all.
///
/// # Source
/// Cochran's C: the share of a point under equal variances follows that beta distribution; the factor is Bonferroni's.
///
/// # Example
/// ```
/// use relent::uncertainty::largest_share_chance;
/// // Nine points of three hits: the 5 % point of C is 0.478 (ISO 5725-2:1994, table 4, from memory).
/// assert!((largest_share_chance(0.478, 2.0, 18.0, 9) - 0.05).abs() < 1e-3);
/// ```
#[must_use]
pub fn largest_share_chance(share: f64, dof: f64, all_dof: f64, points: usize) -> f64 {
    let rest = (all_dof - dof) / 2.0;
    if rest <= 0.0 {
        return 1.0;
    }
    // 1 − I(share; a, b) = I(1 − share; b, a), without losing the digits of a small chance.
    let above = beta_reg(rest, dof / 2.0, (1.0 - share).clamp(0.0, 1.0));
    (points as f64 * above).min(1.0)
}
