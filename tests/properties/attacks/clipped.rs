//! A top that gauge or logger cut off, and tops that are flat by themselves.

use relent::impact::simulate::{Drive, Model, simulate};
use relent::impact::{Nose, SpringHit};
use relent::quantity::{Kilogram, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second};
use relent::trace::Trace;

use super::site::Site;
use super::{Row, row};
use crate::simulated::chance::Chance;
use crate::simulated::hits::{LOGGERS, Logger, record, rounded};

const CLASS: &str = "Clipped and flat tops";
const LOG: &str = "closing-50-50-1.csv";

/// A hit of 900 N: 40 kg at 190 mm/s on 500 N/mm with a push of 53 N.
fn of_900_n() -> Trace {
    hit(40.0, 189.8, 53.0, 0.02)
}

/// A bare hit whose drive lets go after half a second.
pub(super) fn hit(mass: f64, speed: f64, push: f64, damping_ratio: f64) -> Trace {
    let hit = SpringHit::new(
        Kilogram(mass),
        MillimetrePerSecond(speed),
        Newton(push),
        NewtonPerMillimetre(500.0),
    );
    let model = Model {
        hit: hit.unwrap(),
        nose: Nose::Bare,
        damping_ratio,
        drive: Drive::NeverNotices,
    };
    let motion = simulate(&model, Second(0.6), Second(100e-6)).unwrap();
    let logger = Logger {
        step: 0.1,
        ..LOGGERS[0]
    };
    let trace = record(&motion, &logger, 3);
    let contact = trace
        .forces()
        .iter()
        .position(|force| *force > 25.0)
        .unwrap();
    let until = trace.times()[contact] + 0.5;
    let forces = trace.times().into_iter().zip(trace.forces());
    let forces = forces.map(|(at, force)| if *at < until { *force } else { 0.1 });
    trace.with_forces(forces.collect()).unwrap()
}

fn with(site: &Site, trace: &Trace, alter: impl FnMut(f64) -> f64) -> Site {
    let mut site = site.clone();
    let forces: Vec<f64> = trace.forces().iter().copied().map(alter).collect();
    site.put(LOG, &trace.times().to_vec(), &forces);
    site
}

pub(super) fn rows() -> Vec<Row> {
    let honest = Site::honest();
    let top = of_900_n();
    let mut chance = Chance::new(9);
    let noisy = with(&honest, &top, |force| {
        let cut = force.min(362.0 + 0.3 * chance.normal());
        rounded(cut, 0.1)
    });
    let mut nth = 0;
    let toggling = with(&honest, &top, |force| {
        nth += 1;
        force.min(362.0 + 0.1 * f64::from(nth % 2))
    });
    let still = with(&honest, &top, |force| force.min(362.0));
    let fall = with(&honest, &top, |force| force);
    vec![
        row(
            CLASS,
            "900 N clipped at 362 N",
            "undecided: flat-top",
            still.outcome_by("flat-top"),
        ),
        row(
            CLASS,
            "the same with 0.3 N of noise on the plateau",
            "undecided: flat-top",
            noisy.outcome_by("flat-top"),
        ),
        row(
            CLASS,
            "the same with two codes in turn on the plateau",
            "undecided: flat-top",
            toggling.outcome_by("flat-top"),
        ),
        row(
            CLASS,
            "honest twin: a drive that holds 280 N at its force limit",
            "within",
            holds(&honest).outcome(),
        ),
        row(CLASS, "the 900 N unclipped", "over", fall.outcome()),
    ]
}

/// Damped to come to rest at the push of the drive, without a peak above it.
fn holds(honest: &Site) -> Site {
    with(honest, &hit(250.0, 60.0, 280.0, 0.9), |force| force)
}
