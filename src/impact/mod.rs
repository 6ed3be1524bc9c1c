//! The mechanical model of a hit: predict it in closed form, integrate it in time, log it with a gauge, and say what to change.
//!
//! A leaf of mass m arrives at speed v on a gauge of spring rate k while its drive pushes with F_m. An elastic edge may sit
//! between the two, the drive may notice the hit, brake, hold and reverse. Everything here is a prediction, never a
//! measurement: a limit is assessed on measured hits alone.

use thiserror::Error;

use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};

pub mod closed_form;
pub mod demo;
pub mod fit;
pub mod gauge;
pub mod simulate;
pub mod what_to_change;

/// A leaf on a spring: the four numbers that the closed forms need, checked once.
///
/// # Quantities
/// mass m (kg, > 0) that the leaf presents at the point of contact; approach speed v (mm/s, ≥ 0); drive force F_m (N, ≥ 0),
/// constant from contact; spring rate k (N/mm, > 0) of all that gives way between leaf and ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringHit {
    mass: Kilogram,
    speed: MillimetrePerSecond,
    drive: Newton,
    rate: NewtonPerMillimetre,
}

/// A number that the model cannot start from.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ImpactError {
    /// Zero, negative or not finite where only a positive number makes sense.
    #[error("{what} is {value} {unit}, expected a number greater than 0 {unit}")]
    NotPositive {
        /// Name of the quantity.
        what: &'static str,
        /// Its unit.
        unit: &'static str,
        /// The number found.
        value: f64,
    },
    /// Negative or not finite where zero or more makes sense.
    #[error("{what} is {value} {unit}, expected 0 {unit} or more")]
    Negative {
        /// Name of the quantity.
        what: &'static str,
        /// Its unit.
        unit: &'static str,
        /// The number found.
        value: f64,
    },
    /// Outside the interval in which the formula holds.
    #[error("{what} is {value} {unit}, expected {least} {unit} to under {most} {unit}")]
    OutOfRange {
        /// Name of the quantity.
        what: &'static str,
        /// Its unit.
        unit: &'static str,
        /// The number found.
        value: f64,
        /// Least number allowed.
        least: f64,
        /// First number no longer allowed.
        most: f64,
    },
    /// Too few samples to fit a pulse.
    #[error("{samples} samples in the stretch to fit, expected at least {least}")]
    TooFewSamples {
        /// Number of samples found.
        samples: usize,
        /// Number needed.
        least: usize,
    },
    /// The samples do not bend like a pulse on a spring.
    #[error("the stretch does not bend like a leaf stopped by a spring: nothing to fit")]
    NoPulse,
    /// The gauge's samples do not make a record.
    #[error("the logged samples do not make a record")]
    Record(#[from] crate::trace::TraceError),
}

impl SpringHit {
    /// Makes a hit of mass, approach speed, drive force and spring rate.
    ///
    /// # Errors
    /// [`ImpactError`] unless mass and rate are greater than 0 and speed and drive force are 0 or more, all finite.
    ///
    /// # Example
    /// ```
    /// use relent::impact::SpringHit;
    /// use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre};
    /// let hit = SpringHit::new(
    ///     Kilogram(200.0),
    ///     MillimetrePerSecond(200.0),
    ///     Newton(0.0),
    ///     NewtonPerMillimetre(500.0),
    /// )?;
    /// assert_eq!(hit.angular_frequency(), 50.0);
    /// # Ok::<(), relent::impact::ImpactError>(())
    /// ```
    pub fn new(
        mass: Kilogram,
        speed: MillimetrePerSecond,
        drive: Newton,
        rate: NewtonPerMillimetre,
    ) -> Result<Self, ImpactError> {
        positive("mass", Kilogram::SYMBOL, mass.get())?;
        not_negative("approach speed", MillimetrePerSecond::SYMBOL, speed.get())?;
        not_negative("drive force", Newton::SYMBOL, drive.get())?;
        positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
        Ok(Self {
            mass,
            speed,
            drive,
            rate,
        })
    }

    /// Mass that the leaf presents at the point of contact.
    #[must_use]
    pub const fn mass(&self) -> Kilogram {
        self.mass
    }

    /// Approach speed.
    #[must_use]
    pub const fn speed(&self) -> MillimetrePerSecond {
        self.speed
    }

    /// Drive force, constant from contact.
    #[must_use]
    pub const fn drive(&self) -> Newton {
        self.drive
    }

    /// Spring rate of all that gives way.
    #[must_use]
    pub const fn rate(&self) -> NewtonPerMillimetre {
        self.rate
    }

    /// The same hit on another spring.
    ///
    /// # Errors
    /// [`ImpactError`] unless the rate is greater than 0.
    pub fn on_spring(&self, rate: NewtonPerMillimetre) -> Result<Self, ImpactError> {
        Self::new(self.mass, self.speed, self.drive, rate)
    }

    /// The same leaf with another push of its drive.
    ///
    /// # Errors
    /// [`ImpactError`] unless the force is 0 or more.
    pub fn with_drive(&self, drive: Newton) -> Result<Self, ImpactError> {
        Self::new(self.mass, self.speed, drive, self.rate)
    }

    /// ω = √(k/m) in rad/s.
    #[must_use]
    pub fn angular_frequency(&self) -> f64 {
        (newton_per_metre(self.rate) / self.mass.get()).sqrt()
    }

    /// v √(m k): the peak that inertia alone would give.
    #[must_use]
    pub fn inertial_force(&self) -> Newton {
        let (v, k) = (metre_per_second(self.speed), newton_per_metre(self.rate));
        Newton(v * (self.mass.get() * k).sqrt())
    }

    /// R = √(F_m² + v² m k): the amplitude of the force about F_m.
    #[must_use]
    pub fn amplitude(&self) -> Newton {
        Newton(self.drive.get().hypot(self.inertial_force().get()))
    }

    /// φ = atan(F_m / (v √(m k))) in rad, between 0 and π/2.
    #[must_use]
    pub fn phase(&self) -> f64 {
        self.drive.get().atan2(self.inertial_force().get())
    }
}

/// What the leaf carries at its front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Nose {
    /// Nothing that gives way: the leaf meets the gauge with its frame.
    Bare,
    /// An elastic edge.
    Elastic(Edge),
}

/// An elastic edge: a linear spring until its travel is used up, rigid after that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    rate: NewtonPerMillimetre,
    travel: Millimetre,
}

impl Edge {
    /// Makes an edge of spring rate and travel.
    ///
    /// # Errors
    /// [`ImpactError`] unless both are greater than 0 and finite.
    pub fn new(rate: NewtonPerMillimetre, travel: Millimetre) -> Result<Self, ImpactError> {
        positive("edge rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
        positive("edge travel", Millimetre::SYMBOL, travel.get())?;
        Ok(Self { rate, travel })
    }

    /// Spring rate before the edge is solid.
    #[must_use]
    pub const fn rate(&self) -> NewtonPerMillimetre {
        self.rate
    }

    /// How far the edge gives way until it is solid.
    #[must_use]
    pub const fn travel(&self) -> Millimetre {
        self.travel
    }

    /// Force at which the travel is used up: rate × travel.
    #[must_use]
    pub fn solid_force(&self) -> Newton {
        Newton(self.rate.get() * self.travel.get())
    }
}

fn positive(what: &'static str, unit: &'static str, value: f64) -> Result<(), ImpactError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(ImpactError::NotPositive { what, unit, value })
    }
}

fn not_negative(what: &'static str, unit: &'static str, value: f64) -> Result<(), ImpactError> {
    if value.is_finite() && value >= 0.0 {
        Ok(())
    } else {
        Err(ImpactError::Negative { what, unit, value })
    }
}

fn newton_per_metre(rate: NewtonPerMillimetre) -> f64 {
    rate.get() * 1e3
}

fn metre_per_second(speed: MillimetrePerSecond) -> f64 {
    speed.get() / 1e3
}
