//! A leaf that turns about a post.

use crate::impact::{ImpactError, SpringHit, not_negative, positive};
use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};

/// A uniform leaf hung at one end.
///
/// # Quantities
/// mass (kg, > 0); width from hinge to free edge (mm, > 0); angular speed (rad/s, ≥ 0); torque of the drive about the hinge
/// (N·m, ≥ 0), constant from contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwingLeaf {
    mass: Kilogram,
    width: Millimetre,
    angular_speed_rad_s: f64,
    torque_n_m: f64,
}

impl SwingLeaf {
    /// Makes a swing leaf of mass, width, angular speed and torque.
    ///
    /// # Errors
    /// [`ImpactError`] unless mass and width are greater than 0 and angular speed and torque 0 or more, all finite.
    pub fn new(
        mass: Kilogram,
        width: Millimetre,
        angular_speed_rad_s: f64,
        torque_n_m: f64,
    ) -> Result<Self, ImpactError> {
        positive("mass", Kilogram::SYMBOL, mass.get())?;
        positive("leaf width", Millimetre::SYMBOL, width.get())?;
        not_negative("angular speed", "rad/s", angular_speed_rad_s)?;
        not_negative("torque", "N·m", torque_n_m)?;
        Ok(Self {
            mass,
            width,
            angular_speed_rad_s,
            torque_n_m,
        })
    }

    /// Moment of inertia about the hinge in kg·m².
    ///
    /// I = m b² / 3
    ///
    /// # Holds when
    /// the mass is spread evenly over the width and the leaf is thin.
    ///
    /// # Source
    /// Thin rod about its end, in every table of moments of inertia (checked by integration, ∫ r² dm).
    #[must_use]
    pub fn inertia_kg_m2(&self) -> f64 {
        self.mass.get() * (self.width.get() / 1e3).powi(2) / 3.0
    }

    /// The hit of this leaf on a gauge at a distance from the hinge.
    ///
    /// m = I / r², v = ω r, F_m = M / r
    ///
    /// # Quantities
    /// in: radius r (mm, > 0), spring rate (N/mm, > 0); out: a [`SpringHit`].
    ///
    /// # Holds when
    /// the gauge stands square to the leaf, so that its stroke is short against the radius.
    ///
    /// The inertial peak ω √(k I) is the same at every radius; the push grows towards the hinge.
    ///
    /// # Errors
    /// [`ImpactError::NotPositive`] for a radius or rate of 0 or less.
    ///
    /// # Source
    /// Equal kinetic energy and equal work of the drive; derived here.
    pub fn hit_at(
        &self,
        radius: Millimetre,
        rate: NewtonPerMillimetre,
    ) -> Result<SpringHit, ImpactError> {
        positive("radius", Millimetre::SYMBOL, radius.get())?;
        let arm_m = radius.get() / 1e3;
        SpringHit::new(
            Kilogram(self.inertia_kg_m2() / arm_m.powi(2)),
            MillimetrePerSecond(self.angular_speed_rad_s * radius.get()),
            Newton(self.torque_n_m / arm_m),
            rate,
        )
    }
}
