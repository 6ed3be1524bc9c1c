//! The force–time record: what every reader makes of a log and every measure starts from.

mod extremes;
mod outline;
mod provenance;

use ndarray::{Array1, ArrayView1};
use thiserror::Error;

use crate::quantity::{Newton, Second};

pub use extremes::{extremes, steps};
pub use outline::{Distances, Outline, Outlined, SPAN, Span};
pub use provenance::{
    Answers, ChosenRun, Clock, Column, Container, EveryRun, ForceColumn, Provenance, Sign,
};

/// Samples of one run: instants in seconds from the first sample, forces in newtons, and what else was logged beside them.
///
/// # Quantities
/// `times` (s, strictly increasing, starts at 0), `forces` (N, raw: not zeroed, positive when the leaf pushes on the
/// gauge), both of length n ≥ 1; the optional channels have the same length and hold NaN where nothing was logged.
#[derive(Clone, Debug)]
pub struct Trace {
    times: Array1<f64>,
    forces: Array1<f64>,
    steps: (f64, f64),
    outline: Outline,
    resolution: Option<Newton>,
    /// Position of the leaf in mm, growing towards the gauge.
    pub position_mm: Option<Array1<f64>>,
    /// Speed of the leaf in mm/s, positive towards the gauge.
    pub speed_mm_s: Option<Array1<f64>>,
    /// Motor current in A.
    pub current_a: Option<Array1<f64>>,
    /// Rows whose force could not be used, where they fell.
    pub lost: Vec<Lost>,
    /// Averaging or smoothing that the log itself declares, in its words.
    pub averaging: Option<String>,
    /// How its log was read; `None` for a record that was read from no log.
    pub provenance: Option<Provenance>,
}

/// A row that was in the log but gave no usable force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lost {
    /// Index of the last usable sample before it; `None` before the first.
    pub after: Option<usize>,
    /// Line of the log, from 1.
    pub line: u64,
    /// The text found where a force was expected.
    pub text: String,
}

/// Why samples do not make a record.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TraceError {
    /// No sample at all.
    #[error("no sample: expected at least one instant with a force")]
    Empty,
    /// Two columns of different length.
    #[error("{times} instants but {other} values of {channel}: expected one value an instant")]
    Length {
        /// Number of instants.
        times: usize,
        /// Number of values in the other channel.
        other: usize,
        /// Name of the other channel.
        channel: &'static str,
    },
    /// A NaN or infinity.
    #[error("sample {index}: {channel} is {value}, expected a finite number")]
    NotFinite {
        /// Index of the sample, from 0.
        index: usize,
        /// Name of the channel.
        channel: &'static str,
        /// The value found.
        value: f64,
    },
    /// Time does not advance.
    #[error("sample {index}: time {next} s does not come after {previous} s")]
    ClockRunsBack {
        /// Index of the later sample, from 0.
        index: usize,
        /// Instant before it, in seconds.
        previous: f64,
        /// Its own instant, in seconds.
        next: f64,
    },
}

/// The same values in one piece of memory, as they nearly always are.
fn contiguous(values: Array1<f64>) -> Array1<f64> {
    if values.as_slice().is_some() {
        return values;
    }
    values.iter().copied().collect()
}

/// What is wrong with instants or forces that do not make a record.
fn fault(times: &[f64], forces: &[f64]) -> Option<TraceError> {
    for (channel, values) in [("time", times), ("force", forces)] {
        if let Some(index) = values.iter().position(|value| !value.is_finite()) {
            return Some(TraceError::NotFinite {
                index,
                channel,
                value: values[index],
            });
        }
    }
    let mut later = times.iter().zip(&times[1..]);
    let before = later.position(|(previous, next)| next <= previous)?;
    Some(TraceError::ClockRunsBack {
        index: before + 1,
        previous: times[before],
        next: times[before + 1],
    })
}

impl Trace {
    /// Makes a record of instants (s) and raw forces (N); the instants are shifted so that the first is 0.
    ///
    /// # Errors
    /// [`TraceError`] if there is no sample, the lengths differ, a number is not finite or time does not strictly increase.
    ///
    /// # Example
    /// ```
    /// use relent::trace::Trace;
    /// let trace = Trace::new(vec![2.0, 2.001, 2.002], vec![0.0, 12.5, 3.0])?;
    /// assert_eq!(trace.len(), 3);
    /// assert_eq!(trace.times()[0], 0.0);
    /// # Ok::<(), relent::trace::TraceError>(())
    /// ```
    pub fn new(
        times: impl Into<Array1<f64>>,
        forces: impl Into<Array1<f64>>,
    ) -> Result<Self, TraceError> {
        let (times, forces) = (contiguous(times.into()), contiguous(forces.into()));
        let found = times.as_slice().map_or((0.0, 0.0), steps);
        let outline = Outline::of(forces.as_slice().unwrap_or_default());
        Self::outlined(times, forces, found, outline)
    }

    /// The same record with other forces (N).
    ///
    /// # Errors
    /// [`TraceError`] if their number differs or one is not finite.
    pub fn with_forces(&self, forces: Vec<f64>) -> Result<Self, TraceError> {
        let outline = Outline::of(&forces);
        let other = Self::outlined(self.times.clone(), forces.into(), self.steps, outline)?;
        Ok(Self {
            forces: other.forces,
            outline: other.outline,
            resolution: other.resolution,
            ..self.clone()
        })
    }

    /// As [`Trace::new`], for a caller that has the smallest and the greatest step of the instants and the outline of the forces.
    pub(crate) fn outlined(
        mut times: Array1<f64>,
        forces: Array1<f64>,
        mut found: (f64, f64),
        outline: Outline,
    ) -> Result<Self, TraceError> {
        if times.is_empty() {
            return Err(TraceError::Empty);
        }
        if times.len() != forces.len() {
            return Err(TraceError::Length {
                times: times.len(),
                other: forces.len(),
                channel: "force",
            });
        }
        if let (Some(times), Some(forces)) = (times.as_slice(), forces.as_slice()) {
            let sound = found.0 > 0.0 && outline::are_finite(times) && outline.is_finite();
            if let Some(fault) = (!sound).then(|| fault(times, forces)).flatten() {
                return Err(fault);
            }
        }
        let first = times[0];
        if first != 0.0 {
            times.mapv_inplace(|t| t - first);
            found = times.as_slice().map_or(found, steps);
        }
        Ok(Self {
            resolution: resolution(forces.as_slice().unwrap_or_default(), &outline),
            times,
            forces,
            steps: found,
            outline,
            position_mm: None,
            speed_mm_s: None,
            current_a: None,
            lost: Vec::new(),
            averaging: None,
            provenance: None,
        })
    }

    /// Instants in seconds from the first sample, shape (n).
    #[must_use]
    pub fn times(&self) -> ArrayView1<'_, f64> {
        self.times.view()
    }

    /// Raw forces in newtons, shape (n).
    #[must_use]
    pub fn forces(&self) -> ArrayView1<'_, f64> {
        self.forces.view()
    }

    /// The outline of the raw forces (N).
    #[must_use]
    pub const fn outline(&self) -> &Outline {
        &self.outline
    }

    /// Number of samples n, at least 1.
    #[must_use]
    pub fn len(&self) -> usize {
        self.times.len()
    }

    /// Never true: a record holds at least one sample.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.times.is_empty()
    }

    /// Length of the record from its first to its last sample.
    #[must_use]
    pub fn duration(&self) -> Second {
        Second(self.times[self.times.len() - 1])
    }

    /// Shortest and longest time (s) between neighbouring samples; ∞ and −∞ for a single sample.
    #[must_use]
    pub const fn steps(&self) -> (f64, f64) {
        self.steps
    }

    /// Median time between neighbouring samples; `None` for a single sample.
    #[must_use]
    pub fn median_step(&self) -> Option<Second> {
        let times = self.times.as_slice().unwrap_or_default();
        let mut steps: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
        if steps.is_empty() {
            return None;
        }
        let middle = steps.len() / 2;
        let (_, median, _) = steps.select_nth_unstable_by(middle, f64::total_cmp);
        Some(Second(*median))
    }

    /// Smallest step between neighbouring forces that differ: what the log can resolve. `None` if all are equal.
    ///
    /// Differences below 10⁻⁹ of the greatest force are the rounding of a sum, not a step of the gauge.
    #[must_use]
    pub const fn resolution(&self) -> Option<Newton> {
        self.resolution
    }
}

fn resolution(forces: &[f64], outline: &Outline) -> Option<Newton> {
    let whole = outline.whole();
    let rounding = 1e-9 * whole.most.max(-whole.least);
    let least = outline.distances().least;
    let step = if least > rounding {
        least
    } else {
        extremes::least_distance(forces, rounding)
    };
    step.is_finite().then_some(Newton(step))
}
