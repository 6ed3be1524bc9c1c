//! The hit in closed form: what a mass on a spring does, without integrating anything.
//!
//! All of these follow from Newton's second law for one degree of freedom, m ẍ + k x = F_m with x(0) = 0 and ẋ(0) = v, whose
//! solution F(t) = k x(t) = F_m + R sin(ωt − φ) stands in every text on vibrations. They assume that the drive keeps
//! pushing until the peak is over; a drive that brakes earlier stays below them.

mod damped;
mod edge;
mod falling;
mod half_sine;
mod pulse;
mod swing;

pub(super) use damped::check_damping_ratio;
pub use damped::damped_peak_force;
pub use edge::{
    EdgeNeeded, edge_for_limit, edge_stroke, greatest_speed_with_nose, mass_from_peak,
    peak_force_with_nose, rate_in_series,
};
pub use falling::{falling_weight_deflection, impact_factor};
pub use half_sine::half_sine_effective_force;
pub use pulse::{
    contact_time, energy_in_spring, greatest_drive, greatest_speed, impulse, peak_change_with_rate,
    peak_force, rate_from_peak, time_above, time_to_level, time_to_peak,
};
pub use swing::SwingLeaf;
