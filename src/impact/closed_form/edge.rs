//! A leaf that carries an elastic edge, in series with the spring of the gauge.

use crate::impact::{
    Edge, ImpactError, Nose, SpringHit, metre_per_second, newton_per_metre, positive,
};
use crate::quantity::{Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre};

use super::pulse::{greatest_speed, peak_force};

/// Spring rate of two springs in series.
///
/// k = k₁ k₂ / (k₁ + k₂)
///
/// # Quantities
/// in: two rates (N/mm, > 0); out: rate (N/mm), below the softer one.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a rate of 0 or less.
///
/// # Source
/// Equal force, deflections add.
pub fn rate_in_series(
    one: NewtonPerMillimetre,
    other: NewtonPerMillimetre,
) -> Result<NewtonPerMillimetre, ImpactError> {
    for rate in [one, other] {
        positive("spring rate", NewtonPerMillimetre::SYMBOL, rate.get())?;
    }
    Ok(NewtonPerMillimetre(
        1.0 / (1.0 / one.get() + 1.0 / other.get()),
    ))
}

/// How far an edge gives way under a force; never more than its travel.
///
/// x = min(F / k_e, s)
///
/// # Quantities
/// in: force (N), an [`Edge`]; out: stroke (mm).
///
/// # Source
/// Hooke's law up to the stop.
#[must_use]
pub fn edge_stroke(force: Newton, edge: &Edge) -> Millimetre {
    Millimetre((force.get() / edge.rate().get()).clamp(0.0, edge.travel().get()))
}

/// Greatest force on the gauge of a leaf with or without an elastic edge.
///
/// Bare: F_m + √(F_m² + v² m k). With an edge of rate k_e that does not go solid, the same at the rate in series. With one
/// that goes solid at F₁ = k_e s: F_m + √(F_m² + v² m k + (k/k_e)(2 F_m F₁ − F₁²)).
///
/// # Quantities
/// in: a [`SpringHit`] whose rate k is that of the gauge alone, a [`Nose`]; out: force (N).
///
/// # Holds when
/// as for [`peak_force`]; the edge is linear up to its stop and has no mass.
///
/// # Errors
/// none beyond those of [`rate_in_series`], which checked parts cannot raise.
///
/// # Source
/// Energy balance ½ m v² + F_m x = F₁²/(2 k_s) + (F² − F₁²)/(2 k) with x = F₁/k_s + (F − F₁)/k; derived here.
pub fn peak_force_with_nose(hit: &SpringHit, nose: &Nose) -> Result<Newton, ImpactError> {
    let Nose::Elastic(edge) = nose else {
        return Ok(peak_force(hit));
    };
    let soft = peak_force(&hit.on_spring(rate_in_series(hit.rate(), edge.rate())?)?);
    if soft <= edge.solid_force() {
        return Ok(soft);
    }
    let taken = solid_edge_term(hit.drive(), hit.rate(), edge);
    let amplitude = (hit.amplitude().get().powi(2) + taken).max(0.0).sqrt();
    Ok(hit.drive() + Newton(amplitude))
}

/// Greatest approach speed that keeps the peak of a leaf with or without an edge at a limit; `None` if the push alone
/// exceeds it.
///
/// The inverse of [`peak_force_with_nose`] in v.
///
/// # Quantities
/// in: a [`SpringHit`] (its speed is not used; rate of the gauge alone), a [`Nose`], limit L (N, > 0); out: speed (mm/s).
///
/// # Holds when
/// as for [`peak_force_with_nose`].
///
/// # Errors
/// [`ImpactError`] for a limit that is not positive.
///
/// # Source
/// As for [`peak_force_with_nose`].
pub fn greatest_speed_with_nose(
    hit: &SpringHit,
    nose: &Nose,
    limit: Newton,
) -> Result<Option<MillimetrePerSecond>, ImpactError> {
    let Nose::Elastic(edge) = nose else {
        return greatest_speed(hit.mass(), hit.drive(), hit.rate(), limit);
    };
    if limit <= edge.solid_force() {
        let rate = rate_in_series(hit.rate(), edge.rate())?;
        return greatest_speed(hit.mass(), hit.drive(), rate, limit);
    }
    let left = limit.get() * (limit.get() - 2.0 * hit.drive().get())
        - solid_edge_term(hit.drive(), hit.rate(), edge);
    let stiff = hit.mass().get() * newton_per_metre(hit.rate());
    Ok((left >= 0.0).then(|| MillimetrePerSecond((left / stiff).sqrt() * 1e3)))
}

/// Mass that explains a peak at a known speed and push; `None` if the push alone explains more than the peak.
///
/// The inverse of [`peak_force_with_nose`] in m.
///
/// # Quantities
/// in: peak (N, > 0), speed (mm/s, > 0), drive force (N, ≥ 0), rate of the gauge (N/mm), a [`Nose`]; out: mass (kg).
///
/// # Holds when
/// as for [`peak_force_with_nose`]. A drive that brakes before the peak makes the mass come out smaller than the leaf's.
///
/// # Errors
/// [`ImpactError`] for a peak, speed or rate that is not positive or a negative drive force.
///
/// # Source
/// As for [`peak_force_with_nose`].
pub fn mass_from_peak(
    peak: Newton,
    speed: MillimetrePerSecond,
    drive: Newton,
    gauge: NewtonPerMillimetre,
    nose: &Nose,
) -> Result<Option<Kilogram>, ImpactError> {
    positive("peak force", Newton::SYMBOL, peak.get())?;
    positive("approach speed", MillimetrePerSecond::SYMBOL, speed.get())?;
    SpringHit::new(Kilogram(1.0), speed, drive, gauge)?;
    let (rate, taken) = match nose {
        Nose::Bare => (gauge, 0.0),
        Nose::Elastic(edge) if peak <= edge.solid_force() => {
            (rate_in_series(gauge, edge.rate())?, 0.0)
        }
        Nose::Elastic(edge) => (gauge, solid_edge_term(drive, gauge, edge)),
    };
    let left = peak.get() * (peak.get() - 2.0 * drive.get()) - taken;
    let per_mass = newton_per_metre(rate) * metre_per_second(speed).powi(2);
    Ok((left > 0.0).then(|| Kilogram(left / per_mass)))
}

/// The stiffest edge, and with it the shortest, that keeps the peak at a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeNeeded {
    /// The gauge's spring alone keeps the peak at or under the limit.
    None,
    /// An edge that is at most this stiff and gives way at least this far.
    Edge(Edge),
    /// The push alone exceeds the limit: no edge helps.
    PushTooStrong,
}

/// Edge that brings the peak of a leaf down to a limit.
///
/// k_s = (L² − 2 L F_m) / (m v²) in series; k_e = 1 / (1/k_s − 1/k); s = L / k_e
///
/// # Quantities
/// in: a [`SpringHit`] whose rate k is that of the gauge alone, limit L (N, > 0); out: greatest rate (N/mm) and the travel (mm)
/// that an edge of that rate needs.
///
/// # Holds when
/// as for [`peak_force_with_nose`]. A softer edge needs more travel, a real one more again as its rate grows on the way.
///
/// # Errors
/// [`ImpactError::NotPositive`] for a limit of 0 or less.
///
/// # Source
/// [`peak_force`] = L solved for the rate in series; derived here.
pub fn edge_for_limit(hit: &SpringHit, limit: Newton) -> Result<EdgeNeeded, ImpactError> {
    positive("limit", Newton::SYMBOL, limit.get())?;
    if peak_force(hit) <= limit {
        return Ok(EdgeNeeded::None);
    }
    let left = limit.get() * (limit.get() - 2.0 * hit.drive().get());
    if left <= 0.0 {
        return Ok(EdgeNeeded::PushTooStrong);
    }
    let in_series = left / (hit.mass().get() * metre_per_second(hit.speed()).powi(2)) / 1e3;
    let rate = 1.0 / (1.0 / in_series - 1.0 / hit.rate().get());
    let edge = Edge::new(NewtonPerMillimetre(rate), Millimetre(limit.get() / rate))?;
    Ok(EdgeNeeded::Edge(edge))
}

/// (k/k_e)(2 F_m F₁ − F₁²): what a solid edge has changed in the square of the amplitude, in N².
fn solid_edge_term(drive: Newton, gauge: NewtonPerMillimetre, edge: &Edge) -> f64 {
    let solid = edge.solid_force().get();
    gauge / edge.rate() * solid * (2.0 * drive.get() - solid)
}
