//! Laws of the measures on generated records.

use proptest::prelude::*;
use relent::measure::{GaugeFacts, Measure, Measured, Method, Response, Zeroing, measure};
use relent::quantity::{Dimension, Newton, NewtonPerMillimetre, Quantity, Second};
use relent::trace::Trace;

/// The levels and periods of EN 12453 (second-hand).
pub fn method() -> Method {
    Method {
        profile: "laws".to_owned(),
        contact_level: Newton(25.0),
        static_level: Newton(150.0),
        residual_level: Newton(25.0),
        effective_level: Newton(50.0),
        dynamic_period: Second(0.75),
        record: Second(5.0),
        low_pass: None,
    }
}

/// Measures with a gauge of 500 N/mm that is not declared to zero itself.
pub fn measured(trace: &Trace) -> Response {
    let gauge = GaugeFacts {
        spring_rate: Some(NewtonPerMillimetre(500.0)),
        zeroing: Zeroing::NotDeclared,
        declared_speed: None,
    };
    measure(trace, &method(), &gauge)
}

/// A hit at 0.3 s: a pulse, a hold from 0.38 to 1.2 s, and a later hump, sampled at `rate`, with a ripple.
/// Steps of 1/8 N: sums of such numbers are exact, so that no sample changes sides at a level by rounding.
pub fn hit(rate: f64, peak: f64, hold: f64, hump: f64) -> (Vec<f64>, Vec<f64>) {
    let count = (6.0 * rate) as usize;
    let times: Vec<f64> = (0..count).map(|i| i as f64 / rate).collect();
    let bell = |t: f64, middle: f64, width: f64| (-((t - middle) / width).powi(2)).exp();
    let forces = times.iter().enumerate().map(|(i, t)| {
        let held = if (0.38..1.2).contains(t) { hold } else { 0.0 };
        let ripple = ((i * 7919) % 9) as f64 / 8.0;
        let force = peak * bell(*t, 0.35, 0.02) + held + hump * bell(*t, 2.5, 0.1) + ripple;
        (force * 8.0).round() / 8.0
    });
    let forces = forces.collect();
    (times, forces)
}

fn record(times: &[f64], forces: &[f64]) -> Trace {
    Trace::new(times.to_vec(), forces.to_vec()).unwrap()
}

/// The value of a measure as a bare number.
pub fn number(response: &Response, measure: Measure) -> Measured<f64> {
    response.value(measure).map(Quantity::get)
}

/// All measures of both agree: equally unmeasured, or within `share` of the value plus `least`.
fn same(
    one: &Response,
    other: &Response,
    skip: &[Measure],
    least: f64,
) -> Result<(), TestCaseError> {
    for measure in Measure::ALL
        .into_iter()
        .filter(|measure| !skip.contains(measure))
    {
        match (number(one, measure), number(other, measure)) {
            (Ok(a), Ok(b)) => prop_assert!(
                (a - b).abs() <= least + 1e-9 * a.abs(),
                "{measure}: {a} and {b}"
            ),
            (Err(_), Err(_)) => {}
            (a, b) => prop_assert!(false, "{measure}: {a:?} and {b:?}"),
        }
    }
    prop_assert_eq!(one.answer, other.answer);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_constant_offset_changes_nothing_but_the_zero(
        eighths in -1600..1600_i32, peak in 100.0..2000.0_f64, hold in 0.0..120.0_f64, hump in 0.0..300.0_f64,
    ) {
        let (times, forces) = hit(512.0, peak, hold, hump);
        let offset = f64::from(eighths) / 8.0;
        let moved: Vec<f64> = forces.iter().map(|f| f + offset).collect();
        let (one, other) = (measured(&record(&times, &forces)), measured(&record(&times, &moved)));
        same(&one, &other, &[Measure::Zero], 1e-8)?;
        let difference = number(&other, Measure::Zero).unwrap() - number(&one, Measure::Zero).unwrap();
        prop_assert!((difference - offset).abs() < 1e-9);
    }

    #[test]
    fn the_origin_of_the_clock_changes_nothing(eighths in -80_000..80_000_i32, peak in 100.0..2000.0_f64) {
        let (times, forces) = hit(512.0, peak, 80.0, 0.0);
        let moved: Vec<f64> = times.iter().map(|t| t + f64::from(eighths) / 8.0).collect();
        same(&measured(&record(&times, &forces)), &measured(&record(&moved, &forces)), &[], 1e-7)?;
    }

    #[test]
    fn forces_and_levels_scaled_alike_scale_forces_and_leave_times(
        doublings in -3..4_i32, peak in 100.0..2000.0_f64, hump in 0.0..300.0_f64,
    ) {
        let (times, forces) = hit(512.0, peak, 60.0, hump);
        let factor = 2.0_f64.powi(doublings);
        let one = measured(&record(&times, &forces));
        let mut scaled = method();
        for level in [
            &mut scaled.contact_level,
            &mut scaled.static_level,
            &mut scaled.residual_level,
            &mut scaled.effective_level,
        ] {
            *level = *level * factor;
        }
        let more: Vec<f64> = forces.iter().map(|f| f * factor).collect();
        let other = measure(&record(&times, &more), &scaled, &GaugeFacts::default());
        for measure in Measure::ALL {
            let power = match measure.dimension() {
                Dimension::Force | Dimension::Impulse => 1,
                Dimension::Time => 0,
                _ => continue,
            };
            if let (Ok(a), Ok(b)) = (number(&one, measure), number(&other, measure)) {
                let expected = a * factor.powi(power);
                prop_assert!((expected - b).abs() <= 1e-8 * (1.0 + expected.abs()), "{measure}: {expected} and {b}");
            }
        }
        prop_assert_eq!(one.answer, other.answer);
    }

    #[test]
    fn samples_added_on_the_straight_lines_change_no_area_and_no_crossing(
        peak in 100.0..2000.0_f64, hold in 0.0..120.0_f64, hump in 0.0..300.0_f64,
    ) {
        let (times, forces) = hit(512.0, peak, hold, hump);
        let between = |values: &[f64]| -> Vec<f64> {
            let mut all: Vec<f64> =
                values.windows(2).flat_map(|pair| [pair[0], f64::midpoint(pair[0], pair[1])]).collect();
            all.extend(values.last());
            all
        };
        let gauge = GaugeFacts { zeroing: Zeroing::NotDeclared, ..GaugeFacts::default() };
        let one = measure(&record(&times, &forces), &method(), &gauge);
        // The zero is a median and moves with the added samples: give both records the same one.
        let zeroed = |values: Vec<f64>, t: &[f64]| -> Vec<f64> {
            values.into_iter().zip(t).map(|(f, t)| if *t < 0.25 { 0.5 } else { f }).collect()
        };
        let fine = between(&times);
        let two = measure(&record(&fine, &zeroed(between(&forces), &fine)), &method(), &gauge);
        let one_zeroed = measure(&record(&times, &zeroed(forces.clone(), &times)), &method(), &gauge);
        prop_assert!(one.zero.value.is_ok());
        for measure in [
            Measure::TimeAboveStatic,
            Measure::TimeAboveResidual,
            Measure::DynamicPeriod,
            Measure::Release,
            Measure::Impulse,
            Measure::MeanDynamicForce,
            Measure::EffectiveForce,
            Measure::PeakForce,
            Measure::StaticForce,
        ] {
            match (number(&one_zeroed, measure), number(&two, measure)) {
                (Ok(a), Ok(b)) => prop_assert!((a - b).abs() <= 1e-8 * (1.0 + a.abs()), "{measure}: {a} and {b}"),
                (Err(_), Err(_)) => {}
                (a, b) => prop_assert!(false, "{measure}: {a:?} and {b:?}"),
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_measure_is_ever_nan_or_infinite(
        samples in prop::collection::vec((any::<f64>(), 0.0..1.0_f64), 1..120),
        scale in prop_oneof![Just(1.0), Just(1e-300), Just(1e300)],
        ordinary in any::<prop::sample::Index>(),
    ) {
        let wild = ordinary.index(2) == 0;
        let mut clock = 0.0;
        let (mut times, mut forces) = (Vec::new(), Vec::new());
        for (force, step) in samples {
            clock += (step + 1e-3) * scale;
            times.push(clock);
            let tame = (force.to_bits() % 4000) as f64 / 10.0;
            forces.push(if wild && force.is_finite() { force } else { tame });
        }
        let Ok(mut trace) = Trace::new(times, forces) else { return Ok(()) };
        trace.position_mm = Some(trace.forces().mapv(|f| if f as i64 % 3 == 0 { f64::NAN } else { f }));
        let response = measured(&trace);
        for measure in Measure::ALL {
            if let Ok(value) = number(&response, measure) {
                prop_assert!(value.is_finite(), "{measure}: {value}");
            }
        }
    }
}
