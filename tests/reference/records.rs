//! Records in closed form, from the formulas beside them, and the values that SciPy computed; nothing here uses the crate's own
//! model of a hit.

use std::f64::consts::PI;

use relent::measure::{GaugeFacts, Method, Response, Zeroing, measure};
use relent::quantity::{Newton, NewtonPerMillimetre, Second};
use relent::trace::Trace;
use serde::Deserialize;

/// Where the closed forms come from.
pub const CLOSED_FORM: &str = "closed form: m x'' + k x = F_m, x(0) = 0, x'(0) = v; F = k x";
/// Where the straight-line records come from.
pub const STRAIGHT: &str = "closed form: force of straight lines between given corners";
/// Where the values of `response_scipy.toml` come from.
pub const SCIPY: &str = "SciPy 1.17.1, NumPy 2.4.6: fixtures/reference/response_scipy.py";

/// The sampling rates of the synthetic records, in Hz.
pub const RATES: [f64; 2] = [1000.0, 10_000.0];
/// First touch, from the first sample; between two samples at both rates.
pub const TOUCH_S: f64 = 0.200_037;
/// Length of the synthetic records.
pub const LENGTH_S: f64 = 6.0;

/// A mass on a spring gauge, driven by a constant force from first touch, until it leaves the gauge.
#[derive(Clone, Copy)]
pub struct DrivenHit {
    pub mass_kg: f64,
    pub speed_m_s: f64,
    pub drive_n: f64,
    pub rate_n_m: f64,
}

impl DrivenHit {
    pub const fn new(mass_kg: f64, speed_m_s: f64, drive_n: f64) -> Self {
        Self {
            mass_kg,
            speed_m_s,
            drive_n,
            rate_n_m: 500_000.0,
        }
    }

    pub fn omega(&self) -> f64 {
        (self.rate_n_m / self.mass_kg).sqrt()
    }

    fn inertial(&self) -> f64 {
        self.speed_m_s * (self.mass_kg * self.rate_n_m).sqrt()
    }

    /// R = √(F_m² + v² m k)
    pub fn radius(&self) -> f64 {
        self.drive_n.hypot(self.inertial())
    }

    fn lag(&self) -> f64 {
        (self.drive_n / self.inertial()).atan()
    }

    /// Instant of the peak after first touch: (π/2 + atan(F_m/(v√(mk))))/ω
    pub fn peak_at(&self) -> f64 {
        (PI / 2.0 + self.lag()) / self.omega()
    }

    /// Time on the gauge: (π + 2 atan(F_m/(v√(mk))))/ω
    pub fn stay(&self) -> f64 {
        (PI + 2.0 * self.lag()) / self.omega()
    }

    /// Instant after first touch at which the force rises through a level.
    pub fn up(&self, level: f64) -> f64 {
        (((level - self.drive_n) / self.radius()).asin() + self.lag()) / self.omega()
    }

    /// Instant after first touch at which the force falls through a level.
    pub fn down(&self, level: f64) -> f64 {
        self.stay() - self.up(level)
    }

    /// ∫F dt between the two crossings of a level: F_m (t₂ − t₁) + (2R/ω) cos(asin((L − F_m)/R))
    pub fn impulse_above(&self, level: f64) -> f64 {
        let sine = (level - self.drive_n) / self.radius();
        self.drive_n * (self.down(level) - self.up(level))
            + 2.0 * self.radius() / self.omega() * (1.0 - sine * sine).sqrt()
    }

    /// F = F_m + R sin(ωt − φ) while the mass is on the gauge, t after first touch.
    pub fn force(&self, t: f64) -> f64 {
        if (0.0..self.stay()).contains(&t) {
            self.drive_n + self.radius() * (self.omega() * t - self.lag()).sin()
        } else {
            0.0
        }
    }

    /// The record of this hit, and what relent measures on it.
    pub fn measured(&self, rate_hz: f64) -> Response {
        measured(&sampled(|t| self.force(t - TOUCH_S), rate_hz, LENGTH_S))
    }

    /// Greatest loss at the top of the pulse between samples: (R ω²) Δt²/8.
    pub fn loss(&self, rate_hz: f64) -> f64 {
        self.radius() * self.omega().powi(2) / rate_hz.powi(2) / 8.0
    }
}

/// 200 kg at 0.2 m/s without a drive: 2000 N, 62.8319 ms.
pub const FREE: DrivenHit = DrivenHit::new(200.0, 0.2, 0.0);
/// 200 kg at 0.2 m/s with 300 N: 2322.375 N, above 150 N for 65.8014 ms.
pub const DRIVEN: DrivenHit = DrivenHit::new(200.0, 0.2, 300.0);
/// 80 kg at 0.25 m/s with 150 N: 1738.238 N, above 150 N for π/ω.
pub const LIGHT: DrivenHit = DrivenHit::new(80.0, 0.25, 150.0);
/// 500 kg at 0.15 m/s with 200 N: 2580.126 N.
pub const HEAVY: DrivenHit = DrivenHit::new(500.0, 0.15, 200.0);

/// A record of a force given as a function of time.
pub fn sampled(force: impl Fn(f64) -> f64, rate_hz: f64, length_s: f64) -> Trace {
    let count = (length_s * rate_hz).round() as usize;
    let times: Vec<f64> = (0..=count).map(|i| i as f64 / rate_hz).collect();
    let forces: Vec<f64> = times.iter().map(|t| force(*t)).collect();
    Trace::new(times, forces).unwrap()
}

/// The straight line through corners (s, N), level before the first and after the last.
pub fn straight(corners: &[(f64, f64)], t: f64) -> f64 {
    let next = corners.partition_point(|(at, _)| *at <= t);
    if next == 0 || next == corners.len() {
        return corners[next.saturating_sub(1)].1;
    }
    let ((t0, f0), (t1, f1)) = (corners[next - 1], corners[next]);
    f0 + (t - t0) / (t1 - t0) * (f1 - f0)
}

/// A hit of straight lines: 600 N at its top, a hold of 80 N for a second, then free. Corners lie on samples at both rates.
pub const HOLD: [(f64, f64); 6] = [
    (0.2, 0.0),
    (0.22, 600.0),
    (0.25, 80.0),
    (1.25, 80.0),
    (1.3, 0.0),
    (6.0, 0.0),
];

/// The levels and periods of EN 12453 as measures.md and standards.md give them (second-hand).
pub fn method() -> Method {
    Method {
        profile: "reference".to_owned(),
        contact_level: Newton(25.0),
        static_level: Newton(150.0),
        residual_level: Newton(25.0),
        effective_level: Newton(50.0),
        dynamic_period: Second(0.75),
        record: Second(5.0),
        low_pass: None,
    }
}

/// What relent measures on a record, with a gauge of 500 N/mm.
pub fn measured(trace: &Trace) -> Response {
    let gauge = GaugeFacts {
        spring_rate: Some(NewtonPerMillimetre(500.0)),
        zeroing: Zeroing::NotDeclared,
        declared_speed: None,
    };
    measure(trace, &method(), &gauge)
}

/// The values of `fixtures/reference/response_scipy.toml`.
#[derive(Deserialize)]
pub struct Scipy {
    pub record: Vec<ScipyRecord>,
    pub low_pass: ScipyLowPass,
}

/// A random smooth record and what SciPy finds on it.
#[derive(Deserialize)]
pub struct ScipyRecord {
    pub seed: u32,
    pub times_s: Vec<f64>,
    pub forces_n: Vec<f64>,
    pub trapezoid_ns: f64,
    pub crossings_s: Vec<f64>,
    pub time_above_s: f64,
    pub median_n: f64,
    pub noise_n: f64,
    pub peaks_5: Vec<usize>,
    pub peaks_20: Vec<usize>,
    pub peaks_60: Vec<usize>,
}

impl ScipyRecord {
    /// The record as a trace.
    pub fn trace(&self) -> Trace {
        Trace::new(self.times_s.clone(), self.forces_n.clone()).unwrap()
    }
}

/// A signal and what SciPy's filters make of it.
#[derive(Deserialize)]
pub struct ScipyLowPass {
    pub signal_n: Vec<f64>,
    pub forward_1: Vec<f64>,
    pub forward_2: Vec<f64>,
    pub forward_3: Vec<f64>,
    pub forward_4: Vec<f64>,
    pub two_pass_1: Vec<f64>,
    pub two_pass_2: Vec<f64>,
    pub two_pass_3: Vec<f64>,
    pub two_pass_4: Vec<f64>,
    pub butter_2: Vec<f64>,
    pub cfc_60: Vec<f64>,
}

/// Reads the values of SciPy.
pub fn scipy() -> Scipy {
    toml::from_str(include_str!("../../fixtures/reference/response_scipy.toml")).unwrap()
}
