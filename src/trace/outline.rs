//! The outline of a column of numbers: the smallest and the greatest of every few neighbours, so that a search passes over most.

use std::ops::Range;

use super::extremes::{LANES, greater, lesser, neighbours};

/// Neighbouring values of which the smallest and the greatest are kept.
const SPAN: usize = 16;

/// The smallest and the greatest of some neighbouring values; NaN is passed over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The smallest; ∞ for no value.
    pub least: f64,
    /// The greatest; −∞ for no value.
    pub most: f64,
}

impl Span {
    const NOTHING: Self = Self {
        least: f64::INFINITY,
        most: f64::NEG_INFINITY,
    };

    #[inline(always)]
    fn of(values: &[f64]) -> Self {
        let mut lanes = [Self::NOTHING; 2];
        let (pairs, rest) = values.as_chunks::<2>();
        for pair in pairs {
            for (lane, value) in lanes.iter_mut().zip(pair) {
                *lane = lane.and(*value, *value);
            }
        }
        let [one, other] = lanes;
        let both = one.and(other.least, other.most);
        rest.iter()
            .fold(both, |span, value| span.and(*value, *value))
    }

    #[inline(always)]
    fn and(self, least: f64, most: f64) -> Self {
        Self {
            least: lesser(least, self.least),
            most: greater(most, self.most),
        }
    }
}

/// The outline of a column of numbers, and what their differences from one to the next show.
#[derive(Clone, Debug)]
pub struct Outline {
    spans: Vec<Span>,
    whole: Span,
    finite: bool,
    distances: Distances,
}

/// What the distances between neighbouring values show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distances {
    /// The smallest between values that differ; ∞ if none do.
    pub least: f64,
    /// The greatest; 0 for fewer than two values.
    pub most: f64,
}

impl Outline {
    /// Looks at every value.
    #[must_use]
    pub fn of(values: &[f64]) -> Self {
        let (whole, rest) = values.as_chunks::<SPAN>();
        let mut spans = Vec::with_capacity(whole.len() + 1);
        spans.extend(whole.iter().map(|span| Span::of(span)));
        spans.extend((!rest.is_empty()).then(|| Span::of(rest)));
        let whole = spans.iter().fold(Span::NOTHING, |whole, span| {
            whole.and(span.least, span.most)
        });
        Self {
            spans,
            whole,
            finite: are_finite(values),
            distances: Distances::of(values),
        }
    }

    /// The spans, one for every sixteen values.
    #[must_use]
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    /// The smallest and the greatest of all.
    #[must_use]
    pub const fn whole(&self) -> Span {
        self.whole
    }

    /// Whether every value is a finite number.
    #[must_use]
    pub const fn is_finite(&self) -> bool {
        self.finite
    }

    /// What the distances between neighbouring values show.
    #[must_use]
    pub const fn distances(&self) -> Distances {
        self.distances
    }
}

/// Whether all are finite numbers: their sum is then finite too, unless it is beyond every number.
pub(super) fn are_finite(values: &[f64]) -> bool {
    let mut sums = [0.0; LANES];
    let (chunks, rest) = values.as_chunks::<LANES>();
    for chunk in chunks {
        for lane in 0..LANES {
            sums[lane] += chunk[lane];
        }
    }
    let sum: f64 = sums.iter().chain(rest).sum();
    sum.is_finite() || values.iter().all(|value| value.is_finite())
}

impl Distances {
    fn of(values: &[f64]) -> Self {
        /// As many as there are registers for on every processor.
        const LANES: usize = 4;
        let (mut least, mut most) = ([f64::INFINITY; LANES], [0.0; LANES]);
        let (befores, afters) = neighbours(values);
        let mut look = |lane: usize, before: f64, after: f64| {
            let distance = (after - before).abs();
            let counted = if distance == 0.0 {
                f64::INFINITY
            } else {
                distance
            };
            least[lane] = lesser(counted, least[lane]);
            most[lane] = greater(distance, most[lane]);
        };
        let ((befores, before), (afters, after)) =
            (befores.as_chunks::<LANES>(), afters.as_chunks::<LANES>());
        for (before, after) in befores.iter().zip(afters) {
            for lane in 0..LANES {
                look(lane, before[lane], after[lane]);
            }
        }
        for (before, after) in before.iter().zip(after) {
            look(0, *before, *after);
        }
        Self {
            least: Span::of(&least).least,
            most: Span::of(&most).most,
        }
    }
}

/// Values with their spans, to search in.
#[derive(Clone, Copy, Debug)]
pub struct Outlined<'a> {
    values: &'a [f64],
    spans: &'a [Span],
}

impl<'a> Outlined<'a> {
    /// Values with the spans of their [`Outline`].
    #[must_use]
    pub const fn new(values: &'a [f64], spans: &'a [Span]) -> Self {
        Self { values, spans }
    }

    /// The values.
    #[must_use]
    pub const fn values(&self) -> &'a [f64] {
        self.values
    }

    /// The spans with the index of their first value, and their values.
    pub fn spans(&self) -> impl Iterator<Item = (Span, usize, &'a [f64])> {
        let firsts = (0..).step_by(SPAN);
        let spans = self.spans.iter().zip(self.values.chunks(SPAN));
        firsts
            .zip(spans)
            .map(|(first, (span, values))| (*span, first, values))
    }

    /// Index of the first value from `from` on that passes a test. `may`: whether a value of a span can.
    pub fn first(
        &self,
        from: usize,
        may: impl Fn(&Span) -> bool,
        passes: impl Fn(f64) -> bool,
    ) -> Option<usize> {
        let mut from = from;
        loop {
            let skipped = self.spans.get(from / SPAN..)?.iter().position(&may)?;
            if skipped > 0 {
                from = (from / SPAN + skipped) * SPAN;
            }
            let end = (from / SPAN * SPAN + SPAN).min(self.values.len());
            let mut rest = self.values.get(from..end)?.iter();
            if let Some(place) = rest.position(|value| passes(*value)) {
                return Some(from + place);
            }
            from = end;
        }
    }

    /// Index of the first greatest value in a range; `None` where that is empty.
    #[must_use]
    pub fn greatest(&self, range: Range<usize>) -> Option<usize> {
        self.values.get(range.clone())?.first()?;
        let head = range.start.next_multiple_of(SPAN).min(range.end);
        let tail = (range.end / SPAN * SPAN).max(head);
        let (before, after) = (
            &self.values[range.start..head],
            &self.values[tail..range.end],
        );
        let ends = before.iter().chain(after).copied();
        let spans = self.spans[head / SPAN..].iter().take((tail - head) / SPAN);
        let most = spans
            .map(|span| span.most)
            .chain(ends)
            .fold(f64::NEG_INFINITY, |most, value| greater(value, most));
        let found = self.first(range.start, |span| span.most >= most, |value| value == most)?;
        (found < range.end).then_some(found)
    }
}
