//! The simulation against SciPy's `solve_ivp`: edges that go solid, damping, bounces and a drive that reverses.
//!
//! `fixtures/reference/impact_edge_goes_solid.toml` holds the cases and SciPy's results; the script that made it and the versions
//! are named in its head.

use relent::impact::simulate::{
    After, Detection, Drive, Gear, Model, Push, Reaction, STEP, simulate,
};
use relent::impact::{Edge, Nose, SpringHit, closed_form};
use relent::quantity::{
    Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};
use serde::Deserialize;

use crate::check::{Check, Tolerance, hold};

const SCIPY: &str = "SciPy 1.17.1 solve_ivp, DOP853, rtol 1e-12, with events at the kinks";

#[derive(Deserialize)]
struct File {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    mass_kg: f64,
    speed_mm_s: f64,
    drive_n: f64,
    gauge_rate_n_per_mm: f64,
    edge_rate_n_per_mm: Option<f64>,
    edge_travel_mm: Option<f64>,
    damping_ratio: f64,
    end_s: f64,
    #[serde(flatten)]
    reaction: Option<Reacts>,
    peak_force_n: f64,
    time_to_peak_s: f64,
    above_150_n_s: f64,
    impulse_ns: f64,
}

#[derive(Deserialize)]
struct Reacts {
    edge_threshold_n: f64,
    delay_s: f64,
    braking_s: f64,
    pause_s: f64,
    gear_stiffness_n_per_mm: f64,
    gear_damping_n_s_per_m: f64,
    gear_greatest_n: f64,
    reversal_speed_mm_s: f64,
    reversal_ramp_s: f64,
    reversal_mm: f64,
}

impl Case {
    fn model(&self) -> Model {
        let nose = match (self.edge_rate_n_per_mm, self.edge_travel_mm) {
            (Some(rate), Some(travel)) => {
                Nose::Elastic(Edge::new(NewtonPerMillimetre(rate), Millimetre(travel)).unwrap())
            }
            _ => Nose::Bare,
        };
        Model {
            hit: SpringHit::new(
                Kilogram(self.mass_kg),
                MillimetrePerSecond(self.speed_mm_s),
                Newton(self.drive_n),
                NewtonPerMillimetre(self.gauge_rate_n_per_mm),
            )
            .unwrap(),
            nose,
            damping_ratio: self.damping_ratio,
            drive: self
                .reaction
                .as_ref()
                .map_or(Drive::NeverNotices, |it| Drive::Reacts(it.reaction())),
        }
    }
}

impl Reacts {
    fn reaction(&self) -> Reaction {
        Reaction {
            push: Push::Constant,
            detection: Detection::EdgeForce {
                threshold: Newton(self.edge_threshold_n),
            },
            delay: Second(self.delay_s),
            braking: Second(self.braking_s),
            pause: Second(self.pause_s),
            after: After::Reverses {
                speed: MillimetrePerSecond(self.reversal_speed_mm_s),
                ramp: Second(self.reversal_ramp_s),
                distance: Millimetre(self.reversal_mm),
            },
            gear: Gear {
                stiffness: NewtonPerMillimetre(self.gear_stiffness_n_per_mm),
                damping_n_s_per_m: self.gear_damping_n_s_per_m,
                greatest: Newton(self.gear_greatest_n),
            },
        }
    }
}

fn cases() -> Vec<Case> {
    let text = include_str!("../../fixtures/reference/impact_edge_goes_solid.toml");
    let file: File = toml::from_str(text).unwrap();
    file.case
}

/// The drive notices, brakes, holds and reverses at a step of 10 µs each, SciPy at the exact instant: four steps late at most,
/// and 10⁻⁴ of a force. Without a reaction what is left is the 2 µs grid on which SciPy's solution was searched.
fn share(case: &Case) -> f64 {
    if case.reaction.is_some() { 1e-4 } else { 1e-8 }
}

pub fn checks() -> Vec<Check> {
    cases()
        .iter()
        .flat_map(|case| {
            let motion = simulate(&case.model(), Second(case.end_s), STEP).unwrap();
            let to = Tolerance::Relative(share(case));
            let time = Tolerance::Absolute(if case.reaction.is_some() { 4e-5 } else { 2e-6 });
            let row = |what, expected, computed, unit, tolerance| Check {
                what: format!("{}: {what}", case.name),
                source: SCIPY,
                expected,
                computed,
                unit,
                tolerance,
            };
            let impulse = motion.impulse_at(Second(case.end_s)).get();
            [
                row(
                    "peak force",
                    case.peak_force_n,
                    motion.peak_force().get(),
                    "N",
                    to,
                ),
                row(
                    "time to peak",
                    case.time_to_peak_s,
                    motion.time_to_peak().get(),
                    "s",
                    time,
                ),
                row(
                    "time above 150 N",
                    case.above_150_n_s,
                    motion.time_above(Newton(150.0)).get(),
                    "s",
                    time,
                ),
                row("impulse", case.impulse_ns, impulse, "N·s", to),
            ]
        })
        .chain(closed_forms())
        .collect()
}

/// The closed forms that such a case has.
fn closed_forms() -> Vec<Check> {
    let cases = cases();
    let find = |name: &str| cases.iter().find(|case| case.name == name).unwrap();
    let (solid, damped) = (find("edge-goes-solid"), find("damped-bare"));
    let model = solid.model();
    let row = |what: &str, expected, computed| Check {
        what: what.to_owned(),
        source: SCIPY,
        expected,
        computed,
        unit: "N",
        tolerance: Tolerance::Relative(1e-9),
    };
    vec![
        row(
            "edge-goes-solid: peak force in closed form",
            solid.peak_force_n,
            closed_form::peak_force_with_nose(&model.hit, &model.nose)
                .unwrap()
                .get(),
        ),
        row(
            "damped-bare: peak force in closed form, with a drive",
            damped.peak_force_n,
            closed_form::damped_peak_force(&damped.model().hit, damped.damping_ratio)
                .unwrap()
                .get(),
        ),
    ]
}

#[test]
fn the_simulation_agrees_with_scipy() {
    hold(&checks(), 30);
}
