//! Genuine hits: the model's motions, logged with noise of several kinds.

use std::f64::consts::TAU;

use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{
    After, Detection, Drive, Gear, Model, Motion, Push, Reaction, simulate,
};
use relent::impact::{Edge, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};
use relent::trace::Trace;

use super::chance::Chance;

/// The noise of a gauge, in newtons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Noise {
    None,
    /// Independent from sample to sample.
    White(f64),
    /// Each sample takes nine tenths of the one before.
    Coloured(f64),
    /// Hum of 50 Hz of this amplitude, and white noise.
    Hum(f64, f64),
}

/// A gauge with its logger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Logger {
    pub(crate) name: &'static str,
    pub(crate) noise: Noise,
    /// Step of the values, in newtons.
    pub(crate) step: f64,
    /// Samples a second.
    pub(crate) rate: f64,
}

const fn logger(name: &'static str, noise: Noise, step: f64, rate: f64) -> Logger {
    Logger {
        name,
        noise,
        step,
        rate,
    }
}

const TWELVE_BIT: f64 = 2000.0 / 4096.0;
const SIXTEEN_BIT: f64 = 2000.0 / 65536.0;

/// The loggers that the detectors are tried on.
pub(crate) const LOGGERS: [Logger; 12] = [
    logger("0.5 N white, 0.1 N steps", Noise::White(0.5), 0.1, 1000.0),
    logger("0.3 N white, 1 N steps", Noise::White(0.3), 1.0, 1000.0),
    logger(
        "0.2 N white, 12 bit (0.49 N)",
        Noise::White(0.2),
        TWELVE_BIT,
        1000.0,
    ),
    logger(
        "1 N white, 16 bit (0.03 N), 2 kHz",
        Noise::White(1.0),
        SIXTEEN_BIT,
        2000.0,
    ),
    logger(
        "0.5 N white, 0.1 N steps, 500 Hz",
        Noise::White(0.5),
        0.1,
        500.0,
    ),
    logger(
        "0.5 N white, 0.1 N steps, 200 Hz",
        Noise::White(0.5),
        0.1,
        200.0,
    ),
    logger(
        "0.5 N white, 0.5 N steps, 10 kHz",
        Noise::White(0.5),
        0.5,
        10_000.0,
    ),
    logger(
        "0.5 N coloured, 0.1 N steps",
        Noise::Coloured(0.5),
        0.1,
        1000.0,
    ),
    logger(
        "1 N hum, 0.2 N white, 0.1 N steps",
        Noise::Hum(1.0, 0.2),
        0.1,
        1000.0,
    ),
    logger(
        "1 N hum, 0.2 N white, 1 N steps",
        Noise::Hum(1.0, 0.2),
        1.0,
        1000.0,
    ),
    logger("no noise, 0.1 N steps", Noise::None, 0.1, 1000.0),
    logger("no noise, 1 N steps", Noise::None, 1.0, 1000.0),
];

/// A hit of a gate: the gate is drawn from its number, and each of its hits strays a little from the others.
pub(crate) fn motion(gate: u64, hit: u64) -> Motion {
    let mut of_gate = Chance::new(1_000_000 + gate);
    let mut strays = Chance::new(gate * 100_003 + hit + 7);
    let mut stray = |share: f64| 1.0 + share * strays.normal();
    let mass = of_gate.between(80.0, 600.0);
    let speed = of_gate.between(80.0, 220.0) * stray(0.008);
    let drive = of_gate.between(60.0, 220.0);
    let bare = of_gate.uniform() < 0.2;
    let rate = of_gate.between(8.0, 60.0);
    let travel = of_gate.between(15.0, 60.0);
    let damping = of_gate.between(0.03, 0.2) * stray(0.05);
    let delay = of_gate.between(0.02, 0.08) * stray(0.03);
    let pause = of_gate.between(0.05, 0.4);
    let after = match of_gate.uniform() {
        share if share < 0.15 => After::Holds,
        share if share < 0.3 => After::LetsGo,
        _ => After::Reverses {
            speed: MillimetrePerSecond(120.0),
            ramp: Second(0.12),
            distance: Millimetre(400.0),
        },
    };
    let edge = Edge::new(NewtonPerMillimetre(rate), Millimetre(travel)).unwrap();
    let hit = SpringHit::new(
        Kilogram(mass),
        MillimetrePerSecond(speed),
        Newton(drive * stray(0.01)),
        NewtonPerMillimetre(500.0),
    );
    let model = Model {
        hit: hit.unwrap(),
        nose: if bare {
            Nose::Bare
        } else {
            Nose::Elastic(edge)
        },
        damping_ratio: damping,
        drive: Drive::Reacts(Reaction {
            push: Push::SpeedControl {
                slope_n_s_per_m: 6000.0,
            },
            detection: Detection::MotorLoad {
                threshold: Newton(0.75 * drive),
                time_constant: Second(0.012),
            },
            delay: Second(delay),
            braking: Second(0.05),
            pause: Second(pause),
            after,
            gear: Gear {
                stiffness: NewtonPerMillimetre(80.0),
                damping_n_s_per_m: 5000.0,
                greatest: Newton(420.0),
            },
        }),
    };
    // A leaf that stays against the gauge is followed to the end of every record.
    let until = if after == After::Holds { 7.0 } else { 1.5 };
    simulate(&model, Second(until), Second(100e-6)).unwrap()
}

/// What a logger writes of a hit: its phase, its quiet before the hit, its end, its zero and its noise are drawn from the seed.
pub(crate) fn record(motion: &Motion, logger: &Logger, seed: u64) -> Trace {
    let mut chance = Chance::new(seed ^ 0x5555);
    let fast = logger.rate > 5000.0;
    let silent = logger.noise == Noise::None;
    let zero = chance.between(-2.0, 2.0);
    let gauge = Gauge {
        rate: Hertz(logger.rate),
        phase: 0.999 * chance.uniform(),
        lead: Second(chance.between(0.3, 0.7)),
        record: Second(if fast { 2.0 } else { chance.between(5.2, 6.5) }),
        averaging: Averaging::None,
        noise: Newton(0.0),
        seed,
        zero: Newton(if silent {
            rounded(zero, logger.step)
        } else {
            zero
        }),
        drift_n_per_s: if silent {
            0.0
        } else {
            chance.between(-0.05, 0.05)
        },
        capacity: Newton(1e6),
        resolution: Newton(1e-9),
    };
    let clean = log(motion, &gauge).unwrap();
    let times = clean.times().to_vec();
    let mut noise = noise(logger.noise, chance);
    let noisy = clean.forces().into_iter().zip(&times);
    let forces: Vec<f64> = noisy
        .map(|(force, at)| rounded(force + noise(*at), logger.step))
        .collect();
    Trace::new(times, forces).unwrap()
}

fn noise(kind: Noise, mut chance: Chance) -> impl FnMut(f64) -> f64 {
    let phase = chance.between(0.0, TAU);
    let mut wandering = 0.0;
    move |at| match kind {
        Noise::None => 0.0,
        Noise::White(sigma) => sigma * chance.normal(),
        Noise::Coloured(sigma) => {
            wandering = 0.9 * wandering + (1.0_f64 - 0.81).sqrt() * sigma * chance.normal();
            wandering
        }
        Noise::Hum(hum, sigma) => hum * (TAU * 50.0 * at + phase).sin() + sigma * chance.normal(),
    }
}

/// The nearest value that a log of this step can show.
pub(crate) fn rounded(force: f64, step: f64) -> f64 {
    (force / step).round() * step
}
