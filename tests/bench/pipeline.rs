//! Benchmarks of the stages, apart: read, measure, assess, report.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use divan::Bencher;
use relent::quantity::{Newton, NewtonPerMillimetre, Second};
use relent::response::{GaugeFacts, Method, Zeroing, measure};
use relent::trace::Trace;

fn main() {
    divan::main();
}

/// A hit of 2000 N at 1 kHz over 6 s with a hold of 80 N and a rounding to 0.1 N.
fn record() -> Trace {
    let times: Vec<f64> = (0..6000).map(|i| f64::from(i) / 1000.0).collect();
    let forces: Vec<f64> = times
        .iter()
        .enumerate()
        .map(|(i, t)| {
            let hit = match t - 0.5 {
                s if (0.0..0.0628).contains(&s) => 2000.0 * (50.0 * s).sin(),
                s if (0.0628..1.0).contains(&s) => 80.0,
                _ => 0.0,
            };
            let ripple = f64::from((i * 7919 % 13) as u32) / 10.0;
            ((hit + ripple) * 10.0).round() / 10.0
        })
        .collect();
    Trace::new(times, forces).unwrap()
}

#[divan::bench]
fn measure_6000_samples(bencher: Bencher<'_, '_>) {
    let trace = record();
    let method = Method {
        profile: "bench".to_owned(),
        contact_level: Newton(25.0),
        static_level: Newton(150.0),
        residual_level: Newton(25.0),
        effective_level: Newton(50.0),
        dynamic_period: Second(0.75),
        record: Second(5.0),
        low_pass: None,
    };
    let gauge = GaugeFacts {
        spring_rate: Some(NewtonPerMillimetre(500.0)),
        zeroing: Zeroing::NotDeclared,
        declared_speed: None,
    };
    bencher.bench(|| measure(divan::black_box(&trace), &method, &gauge));
}
