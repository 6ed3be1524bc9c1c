//! The model of a hit against values worked out by hand from the formula named beside each, and the simulation against the same.
//!
//! Gauge 500 N/mm throughout, ω = √(k/m). Each expected number was computed from the formula in its row with a desk
//! calculator's precision, outside this crate.

use relent::impact::closed_form::{self, EdgeNeeded, SwingLeaf};
use relent::impact::gauge::{Averaging, Gauge, log};
use relent::impact::simulate::{Drive, Model, Motion, STEP, simulate};
use relent::impact::{Edge, Nose, SpringHit};
use relent::quantity::{
    Hertz, Kilogram, Millimetre, MillimetrePerSecond, Newton, NewtonPerMillimetre, Second,
};

use crate::check::{Check, Tolerance, hold};

const GAUGE: NewtonPerMillimetre = NewtonPerMillimetre(500.0);

const PEAK: &str = "F_m + √(F_m² + v² m k), energy balance";
const TO_PEAK: &str = "(π/2 + atan(F_m/(v √(mk))))/ω";
const CONTACT: &str = "(π + 2 atan(F_m/(v √(mk))))/ω";
const ABOVE: &str = "(π − 2 asin((F* − F_m)/R))/ω, R = √(F_m² + v² m k)";
const REACHED: &str = "(φ + asin((F* − F_m)/R))/ω, φ = atan(F_m/(v √(mk)))";
const IMPULSE: &str = "2 m v + F_m T, balance of momentum";
const ENERGY: &str = "F²/(2k)";
const FROM_SPEED: &str = "½ m v²";
const SPEED: &str = "L/√(mk), no drive force";
const SERIES: &str = "v √(m k_s), 1/k_s = 1/k + 1/k_e; stroke F/k_e";
const DAMPED: &str = "v √(mk) exp(−ζ/√(1−ζ²) atan(√(1−ζ²)/ζ))";
const SWING: &str = "I = m b²/3; M/r + √((M/r)² + ω² k I)";
const STIFFER: &str = "√(1 ± 0.1) − 1";
const MISSED: &str = "1 − cos(π Δt/(2T)) of a half-sine of length T";
const EFFECTIVE: &str = "2 P cos θ/(π − 2θ), θ = asin(50 N/P)";
const FALLING: &str =
    "Gere and Goodno, Mechanics of Materials, a weight that falls on a spring (from memory)";

fn hit(mass: f64, speed_mm_s: f64, drive: f64) -> SpringHit {
    SpringHit::new(
        Kilogram(mass),
        MillimetrePerSecond(speed_mm_s),
        Newton(drive),
        GAUGE,
    )
    .unwrap()
}

/// One contact of a leaf whose drive never notices, and a little more.
fn free(hit: SpringHit, nose: Nose, damping_ratio: f64) -> Motion {
    let soft = match nose {
        Nose::Bare => hit,
        Nose::Elastic(edge) => hit
            .on_spring(closed_form::rate_in_series(hit.rate(), edge.rate()).unwrap())
            .unwrap(),
    };
    let model = Model {
        hit,
        nose,
        damping_ratio,
        drive: Drive::NeverNotices,
    };
    simulate(&model, closed_form::contact_time(&soft) * 1.02, STEP).unwrap()
}

fn row(
    what: impl Into<String>,
    source: &'static str,
    (expected, unit): (f64, &'static str),
    computed: f64,
    tolerance: Tolerance,
) -> Check {
    Check {
        what: what.into(),
        source,
        expected,
        computed,
        unit,
        tolerance,
    }
}

/// A printed value against both ways of computing it; the value is good to its last digit.
fn both(
    what: &str,
    source: &'static str,
    expected: (f64, &'static str),
    (closed, simulated): (f64, f64),
    last_digit: f64,
) -> [Check; 2] {
    let to = Tolerance::Absolute(last_digit);
    [
        row(format!("{what}, closed form"), source, expected, closed, to),
        row(
            format!("{what}, simulated"),
            source,
            expected,
            simulated,
            to,
        ),
    ]
}

fn two_hundred_kilograms() -> Vec<Check> {
    let mut checks = Vec::new();
    let plain = hit(200.0, 200.0, 0.0);
    let motion = free(plain, Nose::Bare, 0.0);
    let (peak, simulated) = (closed_form::peak_force(&plain), motion.peak_force());
    let case = "200 kg at 0.2 m/s, no drive:";
    let mut add = |what: &str, source, expected, values, digit| {
        checks.extend(both(
            &format!("{case} {what}"),
            source,
            expected,
            values,
            digit,
        ));
    };
    add(
        "peak force",
        PEAK,
        (2000.0, "N"),
        (peak.get(), simulated.get()),
        1e-6,
    );
    let deepest = motion.at(motion.time_to_peak()).position.get();
    add(
        "deflection",
        PEAK,
        (4.0, "mm"),
        (peak.get() / 500.0, deepest),
        1e-6,
    );
    let times = (closed_form::time_to_peak(&plain), motion.time_to_peak());
    add(
        "time to peak",
        TO_PEAK,
        (31.4159, "ms"),
        (times.0.get() * 1e3, times.1.get() * 1e3),
        1e-4,
    );
    let contact = (
        closed_form::contact_time(&plain).get(),
        first_fall(&motion, Newton(0.0), &plain),
    );
    add(
        "contact",
        CONTACT,
        (62.8319, "ms"),
        (contact.0 * 1e3, contact.1 * 1e3),
        2e-3,
    );
    let energy = |force| closed_form::energy_in_spring(force, GAUGE).unwrap().get();
    add(
        "energy",
        FROM_SPEED,
        (4.0, "J"),
        (energy(peak), energy(simulated)),
        1e-8,
    );
    let impulse = (
        closed_form::impulse(&plain).get(),
        motion.impulse_at(Second(0.1)).get(),
    );
    add("impulse", IMPULSE, (80.0, "N·s"), impulse, 1e-6);
    checks
}

fn with_a_drive() -> Vec<Check> {
    let mut checks = Vec::new();
    let level = Newton(150.0);
    let pushed = hit(200.0, 200.0, 300.0);
    let motion = free(pushed, Nose::Bare, 0.0);
    let case = "200 kg at 0.2 m/s, 300 N:";
    let first = first_fall(&motion, Newton(0.0), &pushed);
    let reached = motion.time_to_level(level).unwrap().get();
    let rows = [
        (
            "peak force",
            PEAK,
            (2322.375, "N"),
            (
                closed_form::peak_force(&pushed).get(),
                motion.peak_force().get(),
            ),
            1e-3,
        ),
        (
            "time to peak",
            TO_PEAK,
            (34.3937, "ms"),
            (
                closed_form::time_to_peak(&pushed).get() * 1e3,
                motion.time_to_peak().get() * 1e3,
            ),
            1e-4,
        ),
        (
            "contact",
            CONTACT,
            (68.7875, "ms"),
            (closed_form::contact_time(&pushed).get() * 1e3, first * 1e3),
            2e-3,
        ),
        (
            "time above 150 N",
            ABOVE,
            (65.8014, "ms"),
            (
                closed_form::time_above(&pushed, level).get() * 1e3,
                (first_fall(&motion, level, &pushed) - reached) * 1e3,
            ),
            2e-3,
        ),
        (
            "150 N reached",
            REACHED,
            (1.493, "ms"),
            (
                closed_form::time_to_level(&pushed, level).unwrap().get() * 1e3,
                reached * 1e3,
            ),
            1e-3,
        ),
    ];
    for (what, source, expected, values, digit) in rows {
        checks.extend(both(
            &format!("{case} {what}"),
            source,
            expected,
            values,
            digit,
        ));
    }
    checks
}

/// End of the first stretch above a level, found on a grid of 1 µs.
fn first_fall(motion: &Motion, level: Newton, hit: &SpringHit) -> f64 {
    let mut end = closed_form::time_to_peak(hit);
    while motion.force_at(end) > level {
        end = end + Second(1e-6);
    }
    end.get()
}

fn other_leaves() -> Vec<Check> {
    let mut checks = Vec::new();
    let light = hit(80.0, 250.0, 150.0);
    let motion = free(light, Nose::Bare, 0.0);
    let level = Newton(150.0);
    let above = first_fall(&motion, level, &light) - motion.time_to_level(level).unwrap().get();
    checks.extend(both(
        "80 kg at 0.25 m/s, 150 N: peak force",
        PEAK,
        (1738.238, "N"),
        (
            closed_form::peak_force(&light).get(),
            motion.peak_force().get(),
        ),
        1e-3,
    ));
    checks.extend(both(
        "80 kg at 0.25 m/s, 150 N: time above 150 N",
        "π/ω, as the drive force is the level",
        (39.7384, "ms"),
        (
            closed_form::time_above(&light, level).get() * 1e3,
            above * 1e3,
        ),
        2e-3,
    ));
    let heavy = hit(500.0, 150.0, 200.0);
    let motion = free(heavy, Nose::Bare, 0.0);
    checks.extend(both(
        "500 kg at 0.15 m/s, 200 N: peak force",
        PEAK,
        (2580.126, "N"),
        (
            closed_form::peak_force(&heavy).get(),
            motion.peak_force().get(),
        ),
        1e-3,
    ));
    checks.extend(both(
        "500 kg at 0.15 m/s, 200 N: time to peak",
        TO_PEAK,
        (52.3333, "ms"),
        (
            closed_form::time_to_peak(&heavy).get() * 1e3,
            motion.time_to_peak().get() * 1e3,
        ),
        1e-4,
    ));
    checks
}

fn edge_and_energy() -> Vec<Check> {
    let mut checks = Vec::new();
    let plain = hit(200.0, 200.0, 0.0);
    let edge = Edge::new(NewtonPerMillimetre(20.0), Millimetre(40.0)).unwrap();
    let nose = Nose::Elastic(edge);
    let peak = closed_form::peak_force_with_nose(&plain, &nose).unwrap();
    let simulated = free(plain, nose, 0.0).peak_force();
    checks.extend(both(
        "edge of 20 N/mm, 200 kg at 0.2 m/s: peak force",
        SERIES,
        (392.232, "N"),
        (peak.get(), simulated.get()),
        1e-3,
    ));
    checks.extend(both(
        "edge of 20 N/mm, 200 kg at 0.2 m/s: edge stroke",
        SERIES,
        (19.6116, "mm"),
        (
            closed_form::edge_stroke(peak, &edge).get(),
            closed_form::edge_stroke(simulated, &edge).get(),
        ),
        1e-4,
    ));
    let EdgeNeeded::Edge(needed) = closed_form::edge_for_limit(&plain, peak).unwrap() else {
        panic!("an edge brings 2000 N down to 392 N");
    };
    let to = Tolerance::Relative(1e-9);
    checks.push(row(
        "edge that brings 2000 N down to 392.232 N: rate",
        SERIES,
        (20.0, "N/mm"),
        needed.rate().get(),
        to,
    ));
    for (force, joule) in [
        (150.0, 0.0225),
        (400.0, 0.16),
        (700.0, 0.49),
        (1400.0, 1.96),
    ] {
        checks.push(row(
            format!("energy of {force} N in the gauge"),
            ENERGY,
            (joule, "J"),
            closed_form::energy_in_spring(Newton(force), GAUGE)
                .unwrap()
                .get(),
            to,
        ));
    }
    checks
}

fn greatest_speeds() -> Vec<Check> {
    let cases = [
        (50.0, 80.0),
        (100.0, 56.568_5),
        (200.0, 40.0),
        (400.0, 28.284_3),
        (800.0, 20.0),
    ];
    let mut checks = Vec::new();
    for (mass, speed) in cases {
        let found = closed_form::greatest_speed(Kilogram(mass), Newton(0.0), GAUGE, Newton(400.0))
            .unwrap()
            .unwrap();
        checks.push(row(
            format!("greatest speed of {mass} kg for 400 N"),
            SPEED,
            (speed, "mm/s"),
            found.get(),
            Tolerance::Absolute(1e-4),
        ));
        let at_that_speed = free(hit(mass, found.get(), 0.0), Nose::Bare, 0.0);
        checks.push(row(
            format!("simulated peak of {mass} kg at that speed"),
            SPEED,
            (400.0, "N"),
            at_that_speed.peak_force().get(),
            Tolerance::Absolute(1e-5),
        ));
    }
    checks
}

fn damping() -> Vec<Check> {
    let plain = hit(200.0, 200.0, 0.0);
    [
        (0.05, 1853.384),
        (0.1, 1725.201),
        (0.2, 1512.270),
        (0.3, 1343.094),
    ]
    .into_iter()
    .flat_map(|(ratio, force)| {
        both(
            &format!("damping ratio {ratio}, 200 kg at 0.2 m/s: spring force"),
            DAMPED,
            (force, "N"),
            (
                closed_form::damped_peak_force(&plain, ratio).unwrap().get(),
                free(plain, Nose::Bare, ratio).peak_force().get(),
            ),
            1e-3,
        )
    })
    .collect()
}

fn swing_leaf() -> Vec<Check> {
    let mut checks = Vec::new();
    for (torque, radius_mm, force) in [
        (0.0, 3000.0, 1500.0),
        (0.0, 1500.0, 1500.0),
        (0.0, 300.0, 1500.0),
        (300.0, 3000.0, 1603.330),
        (300.0, 300.0, 2802.776),
    ] {
        let leaf = SwingLeaf::new(Kilogram(150.0), Millimetre(3000.0), 0.1, torque).unwrap();
        let at = leaf.hit_at(Millimetre(radius_mm), GAUGE).unwrap();
        checks.extend(both(
            &format!("swing leaf 150 kg, 3 m, 0.1 rad/s, {torque} N·m, gauge at {radius_mm} mm: peak force"),
            SWING,
            (force, "N"),
            (
                closed_form::peak_force(&at).get(),
                free(at, Nose::Bare, 0.0).peak_force().get(),
            ),
            1e-3,
        ));
    }
    checks
}

fn gauge_spring() -> Vec<Check> {
    let plain = hit(200.0, 200.0, 0.0);
    [(0.1, 4.88), (-0.1, -5.13)]
        .into_iter()
        .flat_map(|(change, percent)| {
            let stiffer = plain.on_spring(GAUGE * (1.0 + change)).unwrap();
            let simulated = free(stiffer, Nose::Bare, 0.0).peak_force() / Newton(2000.0) - 1.0;
            both(
                &format!("gauge spring {:+} %: inertial peak", change * 100.0),
                STIFFER,
                (percent, "%"),
                (
                    closed_form::peak_change_with_rate(&plain, change).unwrap() * 100.0,
                    simulated * 100.0,
                ),
                5e-3,
            )
        })
        .collect()
}

/// A half-sine of 20 ms is a mass of k T²/π² without a drive; the worst of many phases of the clock is what sampling misses.
fn sampled_half_sine() -> Vec<Check> {
    let length = 0.02_f64;
    let mass = 500e3 * (length / std::f64::consts::PI).powi(2);
    let motion = free(hit(mass, 100.0, 0.0), Nose::Bare, 0.0);
    let true_peak = motion.peak_force();
    [(200.0, -7.61), (500.0, -1.23), (1000.0, -0.308)]
        .into_iter()
        .map(|(rate, percent)| {
            let worst = (0..400)
                .map(|step| {
                    let logged = log(&motion, &quiet_gauge(rate, f64::from(step) / 400.0)).unwrap();
                    let top = logged.forces().iter().copied().fold(0.0, f64::max);
                    (top / true_peak.get() - 1.0) * 100.0
                })
                .fold(0.0, f64::min);
            row(
                format!("half-sine of 20 ms logged at {rate} Hz, worst phase"),
                MISSED,
                (percent, "%"),
                worst,
                // Printed to two or three digits, and the worst of 400 phases is not quite the worst of all.
                Tolerance::Relative(6e-3),
            )
        })
        .collect()
}

/// A gauge that adds nothing of its own.
fn quiet_gauge(rate: f64, phase: f64) -> Gauge {
    Gauge {
        rate: Hertz(rate),
        phase,
        lead: Second(0.05),
        record: Second(0.1),
        averaging: Averaging::None,
        noise: Newton(0.0),
        seed: 1,
        zero: Newton(0.0),
        drift_n_per_s: 0.0,
        capacity: Newton(1e5),
        resolution: Newton(1e-9),
    }
}

fn effective_force() -> Vec<Check> {
    [(150.0, 114.887), (200.0, 146.914), (300.0, 210.784)]
        .into_iter()
        .flat_map(|(peak, mean)| {
            let closed =
                closed_form::half_sine_effective_force(Newton(peak), Newton(50.0)).unwrap();
            // v √(m k) = peak for 200 kg at peak/10 mm/s.
            let motion = free(hit(200.0, peak / 10.0, 0.0), Nose::Bare, 0.0);
            let begin = motion.time_to_level(Newton(50.0)).unwrap();
            let end = motion.last_fall_to(Newton(50.0)).unwrap();
            let taken = motion.impulse_at(end) - motion.impulse_at(begin);
            both(
                &format!("half-sine of {peak} N above 50 N: effective force"),
                EFFECTIVE,
                (mean, "N"),
                (closed.unwrap().get(), taken.get() / (end - begin).get()),
                1e-3,
            )
        })
        .collect()
}

/// 5 N that fall 200 mm on 90 N/m: a hit of 5 N/g at √(2 g h) with its own weight as drive force.
fn falling_weight() -> Vec<Check> {
    let gravity = 9.806_65;
    let (weight, height) = (Newton(5.0), Millimetre(200.0));
    let rate = NewtonPerMillimetre(0.09);
    let as_hit = SpringHit::new(
        Kilogram(5.0 / gravity),
        MillimetrePerSecond((2.0 * gravity * 0.2_f64).sqrt() * 1e3),
        weight,
        rate,
    )
    .unwrap();
    let simulated = free(as_hit, Nose::Bare, 0.0).peak_force();
    let deflection = closed_form::falling_weight_deflection(weight, height, rate).unwrap();
    let mut checks = Vec::from(both(
        "5 N from 200 mm on 90 N/m: deflection",
        FALLING,
        (214.6425, "mm"),
        (deflection.get(), simulated.get() / 0.09),
        1e-4,
    ));
    checks.extend(both(
        "5 N from 200 mm on 90 N/m: impact factor",
        FALLING,
        (3.863_564, ""),
        (
            closed_form::impact_factor(weight, height, rate).unwrap(),
            simulated / weight,
        ),
        1e-6,
    ));
    checks.push(row(
        "the same as a hit in closed form: deflection",
        FALLING,
        (214.6425, "mm"),
        closed_form::peak_force(&as_hit).get() / 0.09,
        Tolerance::Absolute(1e-4),
    ));
    checks
}

pub fn checks() -> Vec<Check> {
    [
        two_hundred_kilograms(),
        with_a_drive(),
        other_leaves(),
        edge_and_energy(),
        greatest_speeds(),
        damping(),
        swing_leaf(),
        gauge_spring(),
        sampled_half_sine(),
        effective_force(),
        falling_weight(),
    ]
    .concat()
}

#[test]
fn a_hit_is_what_the_formulas_say() {
    hold(&checks(), 85);
}
