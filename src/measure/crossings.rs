//! Crossings of a level, by straight-line interpolation between neighbouring samples. The only place that does this.

use super::zeroed::Zeroed;

/// An unbroken run of samples above a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stay {
    /// Instant (s) of the upward crossing; of the first sample, if the record starts above the level.
    pub from: f64,
    /// Index of the first sample above the level.
    pub first: usize,
    /// Index of the last sample above the level.
    pub last: usize,
    /// Instant (s) of the downward crossing; `None` if the record ends above the level.
    pub to: Option<f64>,
}

impl Stay {
    /// Whether the record starts in it, so that its beginning is not known.
    #[must_use]
    pub const fn starts_before_the_record(&self) -> bool {
        self.first == 0
    }

    /// Instant of the downward crossing, or of the last sample.
    #[must_use]
    pub fn end(&self, record: &Zeroed<'_>) -> f64 {
        self.to.unwrap_or_else(|| record.end())
    }

    /// Whether it lasts for at least 2 samples and 1 ms: a spike of one sample is not a contact.
    #[must_use]
    pub fn lasts(&self, record: &Zeroed<'_>) -> bool {
        const LEAST_S: f64 = 0.001;
        self.last > self.first && self.end(record) - self.from >= LEAST_S
    }
}

/// The instant at which the straight line between samples `i` and `i + 1` passes `level`:
/// t = tᵢ + (L − Fᵢ) / (Fᵢ₊₁ − Fᵢ) · (tᵢ₊₁ − tᵢ).
pub(super) fn instant(times: &[f64], values: &[f64], i: usize, level: f64) -> f64 {
    let share = (level - values[i]) / (values[i + 1] - values[i]);
    times[i] + share * (times[i + 1] - times[i])
}

/// Every stay above `level` (N), in the order of time. A sample at the level is not above it.
///
/// # Example
/// A triangle of 0, 100, 0 N at 0, 1, 2 s is above 50 N from 0.5 to 1.5 s.
/// ```
/// use relent::measure::{crossings, Zeroed};
/// use relent::trace::Trace;
/// let trace = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, 100.0, 0.0])?;
/// let stays = crossings::stays(&Zeroed::raw(&trace)?, 50.0);
/// assert_eq!((stays[0].from, stays[0].to), (0.5, Some(1.5)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn stays(record: &Zeroed<'_>, level: f64) -> Vec<Stay> {
    let (times, forces) = (record.times(), record.forces());
    let mut found = Vec::new();
    let mut next = 0;
    let outlined = record.outlined();
    let above = |from| outlined.first(from, |span| span.most > level, |force| force > level);
    let below = |from| outlined.first(from, |span| span.least <= level, |force| force <= level);
    while let Some(first) = above(next) {
        let from = match first {
            0 => times[0],
            _ => instant(times, forces, first - 1, level),
        };
        let below = below(first);
        let after = below.unwrap_or(forces.len());
        let last = after - 1;
        let to = below.map(|_| instant(times, forces, last, level));
        found.push(Stay {
            from,
            first,
            last,
            to,
        });
        next = after;
    }
    found
}

/// Total time (s) of the stays: Σ (to − from), without the intervals in which nothing was measured.
#[must_use]
pub fn total(record: &Zeroed<'_>, stays: &[Stay]) -> f64 {
    let times = record.times();
    let overlap =
        |from: f64, to: f64, gap: usize| (to.min(times[gap + 1]) - from.max(times[gap])).max(0.0);
    stays
        .iter()
        .map(|stay| {
            let end = stay.end(record);
            let unseen: f64 = record
                .gaps()
                .iter()
                .map(|gap| overlap(stay.from, end, *gap))
                .sum();
            (end - stay.from - unseen).max(0.0)
        })
        .sum()
}

/// Every crossing of the stays, upward and downward, in the order of time.
pub(super) fn instants(stays: &[Stay]) -> Vec<f64> {
    stays
        .iter()
        .flat_map(|stay| {
            let from = (!stay.starts_before_the_record()).then_some(stay.from);
            from.into_iter().chain(stay.to)
        })
        .collect()
}
