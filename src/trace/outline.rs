//! The outline of a column of numbers: the smallest and the greatest of every few neighbours, so that a search passes over most.

use std::ops::Range;

use super::extremes::{LANES, extremes, greater, lesser, neighbours};

/// Neighbouring values of which the smallest and the greatest are kept.
pub const SPAN: usize = 16;

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
        let mut span = Self::NOTHING;
        for value in values {
            span = span.and(*value, *value);
        }
        span
    }

    /// As [`Span::of`], two values at a time.
    #[inline(always)]
    fn of_whole(values: &[f64; SPAN]) -> Self {
        let mut lanes = [Self::NOTHING; 2];
        for pair in 0..SPAN / 2 {
            for lane in 0..2 {
                let value = values[2 * pair + lane];
                lanes[lane] = lanes[lane].and(value, value);
            }
        }
        lanes[0].and(lanes[1].least, lanes[1].most)
    }

    /// The span of the same values with `offset` taken off each.
    #[must_use]
    #[inline]
    pub fn less(self, offset: f64) -> Self {
        Self {
            least: self.least - offset,
            most: self.most - offset,
        }
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
        let (chunks, rest) = values.as_chunks::<SPAN>();
        let mut spans = Vec::with_capacity(chunks.len() + 1);
        spans.resize(chunks.len(), Span::NOTHING);
        for (nth, span) in spans.iter_mut().enumerate() {
            *span = Span::of_whole(&chunks[nth]);
        }
        if !rest.is_empty() {
            spans.push(Span::of(rest));
        }
        let mut whole = Span::NOTHING;
        for span in &spans {
            whole = whole.and(span.least, span.most);
        }
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
        let (mut least, mut most) = ([f64::INFINITY; LANES], [0.0; LANES]);
        neighbours::<LANES>(values, |lane, before, after| {
            let distance = (after - before).abs();
            let passed_over = if distance == 0.0 { f64::INFINITY } else { 0.0 };
            least[lane] = lesser(distance + passed_over, least[lane]);
            most[lane] = greater(distance, most[lane]);
        });
        Self {
            least: extremes(&least).0,
            most: extremes(&most).1,
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

    /// The spans, one for every [`SPAN`] values.
    #[must_use]
    pub const fn spans(&self) -> &'a [Span] {
        self.spans
    }

    /// Index of the first value from `from` on that passes a test. `may`: whether a value of a span can.
    pub fn first(
        &self,
        from: usize,
        may: impl Fn(&Span) -> bool,
        passes: impl Fn(f64) -> bool,
    ) -> Option<usize> {
        let (mut from, mut end) = (from, from / SPAN * SPAN);
        for span in self.spans.get(from / SPAN..)? {
            end += SPAN;
            if may(span) {
                let few = self.values.get(from..end.min(self.values.len()))?;
                if let Some(place) = few.iter().position(|value| passes(*value)) {
                    return Some(from + place);
                }
            }
            from = end;
        }
        None
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
