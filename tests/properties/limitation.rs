//! No rounding, no cut and no dropped sample may turn "over" into "within".

use relent::fact::Fact;
use relent::limitation::{Alike, Limitation, Print, Standing, Tolerances, copy, of_record};
use relent::measure::{Answer, GaugeFacts, Measure, Response};
use relent::trace::Trace;

use crate::measure::{hit, measured, number};
use crate::simulated::chance::Chance;

const TOLERANCES: Tolerances = Tolerances {
    sampling_tolerance_share: 0.02,
    drift_share_of_residual_level: 0.2,
    equal_samples_at_top: 3,
};

/// What limits assess.
const LIMITED: [Measure; 7] = [
    Measure::PeakForce,
    Measure::TimeAboveStatic,
    Measure::DynamicPeriod,
    Measure::StaticForce,
    Measure::ResidualForce,
    Measure::TimeAboveResidual,
    Measure::EffectiveForce,
];

fn assessed(times: &[f64], forces: &[f64]) -> (Response, Vec<Limitation>) {
    let trace = Trace::new(times.to_vec(), forces.to_vec()).unwrap();
    let response = measured(&trace);
    let limitations = of_record(&trace, &response, &TOLERANCES, &GaugeFacts::default());
    (response, limitations)
}

fn bounded(found: &[Limitation], measure: Measure) -> bool {
    found
        .iter()
        .any(|one| one.opens(measure).leaves() == Standing::LowerBound)
}

fn void(found: &[Limitation], measure: Measure) -> bool {
    found
        .iter()
        .any(|one| one.opens(measure).leaves() == Standing::EitherWay)
}

/// Holds with a later hump higher than the first hit and without one, and a force that stays at the end.
fn hits() -> [(Vec<f64>, Vec<f64>); 4] {
    let mut pressing = hit(250.0, 700.0, 80.0, 0.0);
    for (t, f) in pressing.0.iter().zip(&mut pressing.1) {
        if *t > 1.2 {
            *f += 40.0;
        }
    }
    [
        hit(250.0, 380.0, 80.0, 0.0),
        hit(250.0, 300.0, 80.0, 450.0),
        hit(500.0, 1500.0, 0.0, 170.0),
        pressing,
    ]
}

#[test]
fn a_record_cut_after_any_line_shows_nothing_as_kept_before_it_covers_what_is_asked_for() {
    for (times, forces) in hits() {
        let (full, _) = assessed(&times, &forces);
        let contact = full.contact.unwrap().get();
        for cut in 1..=times.len() {
            let (response, limitations) = assessed(&times[..cut], &forces[..cut]);
            let covers = times[cut - 1] >= contact + 5.0;
            for measure in LIMITED {
                let Ok(value) = number(&response, measure) else {
                    continue;
                };
                let free = !bounded(&limitations, measure) && !void(&limitations, measure);
                assert!(
                    covers || !free,
                    "{measure} counts as complete at {} s",
                    times[cut - 1]
                );
                let more = number(&full, measure).unwrap_or(f64::INFINITY);
                assert!(
                    void(&limitations, measure) || value <= more + 1e-9 * more.abs(),
                    "{measure} of the record cut at {} s is no lower bound: {value}, later {more}",
                    times[cut - 1]
                );
            }
        }
    }
}

#[test]
fn a_record_whose_beginning_is_cut_off_never_shows_less_as_complete() {
    for (times, forces) in hits() {
        let (full, _) = assessed(&times, &forces);
        for cut in (0..times.len()).step_by(3) {
            let (response, limitations) = assessed(&times[cut..], &forces[cut..]);
            // Once the first hit is wholly gone the rest is a record of its own.
            if times[cut] > 0.3 + 0.1 {
                break;
            }
            for measure in [
                Measure::PeakForce,
                Measure::TimeAboveStatic,
                Measure::TimeAboveResidual,
            ] {
                let (Ok(value), Ok(whole)) = (number(&response, measure), number(&full, measure))
                else {
                    continue;
                };
                let limited = bounded(&limitations, measure) || void(&limitations, measure);
                // Half a step of the ripple is what the zero may move by.
                assert!(
                    limited || value >= whole * (1.0 - 0.002) - 0.6,
                    "{measure} from {} s: {value}, whole {whole}",
                    times[cut]
                );
            }
        }
    }
}

#[test]
fn a_dropped_sample_never_lowers_a_measure_without_a_limitation() {
    for (times, forces) in hits() {
        let (full, _) = assessed(&times, &forces);
        for width in [1, 3] {
            for gone in 1..times.len() - width {
                let without = |values: &[f64]| [&values[..gone], &values[gone + width..]].concat();
                let (response, limitations) = assessed(&without(&times), &without(&forces));
                for measure in LIMITED {
                    let (Ok(value), Ok(whole)) =
                        (number(&response, measure), number(&full, measure))
                    else {
                        continue;
                    };
                    let limited = bounded(&limitations, measure) || void(&limitations, measure);
                    let (zero, before) = (response.zero.subtracted, full.zero.subtracted);
                    // A sample dropped from the quiet stretch moves the zero by a step of the log at most.
                    let moved = (zero - before).get().abs();
                    assert!(moved <= 0.125);
                    let slack = if measure.unit() == "N" {
                        moved
                    } else {
                        2e-4 * moved
                    };
                    assert!(
                        limited || value >= whole - slack - 1e-9,
                        "{measure} without {gone}: {value}, whole {whole}"
                    );
                }
            }
        }
    }
}

#[test]
fn a_good_record_has_no_limitation() {
    let (times, forces) = hit(1000.0, 380.0, 80.0, 0.0);
    let (response, limitations) = assessed(&times, &forces);
    assert_eq!(limitations, []);
    assert_eq!(response.answer, Answer::StopsAndReverses);
}

#[test]
fn clipping_at_any_height_is_seen() {
    let (times, forces) = hit(1000.0, 800.0, 0.0, 0.0);
    for height in [200.0, 300.0, 400.0, 600.0, 780.0] {
        let clipped: Vec<f64> = forces.iter().map(|f| f.min(height)).collect();
        let (_, limitations) = assessed(&times, &clipped);
        assert!(
            limitations.iter().any(|one| one.code() == "flat-top"),
            "clipped at {height} N"
        );
    }
}

#[test]
fn a_rounded_top_in_coarse_steps_is_not_clipping() {
    let times: Vec<f64> = (0..60_000).map(|i| f64::from(i) / 10_000.0).collect();
    let coarse: Vec<f64> = times
        .iter()
        .enumerate()
        .map(|(i, t)| match *t < 0.2 {
            // Noise of one step before the hit, none on its top: the worst case for the rule.
            true => (i % 3) as f64,
            false => (800.0 * (-((t - 0.35) / 0.02).powi(2)).exp()).round(),
        })
        .collect();
    let (response, limitations) = assessed(&times, &coarse);
    let top = response.peak.unwrap().index;
    assert!(
        coarse[top..top + 3]
            .iter()
            .all(|force| *force == coarse[top])
    );
    assert!(
        limitations.iter().all(|one| one.code() != "flat-top"),
        "{limitations:?}"
    );
}

#[test]
fn a_push_logged_as_negative_gives_no_reading_whatever_the_gauge_rings_back() {
    let (times, forces) = hit(1000.0, 800.0, 0.0, 90.0);
    let (inverted_hit, ring): (Vec<f64>, Vec<f64>) = forces
        .iter()
        .zip(&times)
        .map(|(f, t)| (-f, if *t > 2.0 { *f } else { -f }))
        .unzip();
    for forces in [inverted_hit, ring] {
        let (_, limitations) = assessed(&times, &forces);
        assert!(limitations.iter().any(|one| one.code() == "no-reading"));
        assert!(void(&limitations, Measure::PeakForce));
    }
}

#[test]
fn a_copy_is_found_under_another_offset_number_format_and_clock() {
    let (times, forces) = hit(500.0, 380.0, 80.0, 0.0);
    let mut chance = Chance::new(5);
    let other = hit(500.0, 381.0, 80.0, 0.0).1;
    let other: Vec<f64> = other.iter().map(|f| f + chance.normal().round()).collect();
    let offset: Vec<f64> = forces.iter().map(|f| f + 3.7).collect();
    let kilonewtons: Vec<f64> = forces.iter().map(|f| f / 1000.0 * 1000.0).collect();
    let clock: Vec<f64> = times.iter().map(|t| t + 12.5).collect();
    let print = |times: &[f64], forces: &[f64]| {
        Print::of(&Trace::new(times.to_vec(), forces.to_vec()).unwrap())
    };
    let names = [
        ("a", &print(&times, &forces)),
        ("other", &print(&times, &other)),
        ("offset", &print(&times, &offset)),
        ("kN", &print(&clock, &kilonewtons)),
    ];
    let found = copy::find(&names, &[]);
    assert_eq!(found.iter().map(|(i, _)| *i).collect::<Vec<_>>(), [0, 2, 3]);
    let Limitation::Copy { originals } = &found[0].1 else {
        panic!("{found:?}");
    };
    let logs: Vec<&str> = originals.iter().map(|one| &*one.log).collect();
    assert_eq!(logs, ["offset", "kN"]);
    assert!(
        originals
            .iter()
            .all(|one| one.alike == Some(Alike::Samples))
    );
}
