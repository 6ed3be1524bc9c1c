//! Laws of comparing series: pairing, refusal, what is left out, and that nothing is called equal for want of evidence.

use std::sync::LazyLock;

use relent::compare::{
    Arrangement, Aspect, Bearing, COMPARED, Change, Claim, Confidence, Counting, Excluded, Goal,
    Margin, OpenReason, Outcome, Question, Series, Study, Terms, copies, differences, needs, study,
};
use relent::gate::{self, GateFile, names};
use relent::impact::demo::{Firmware, HITS, firmware_files};
use relent::ingest::Answers;
use relent::limitation::Limitation;
use relent::limits;
use relent::measure::Measure;
use relent::readiness::{built_in, readiness};
use relent::visit::{Log, assess};

/// The three series of the demo.
static SERIES: LazyLock<[Series; 3]> = LazyLock::new(|| Firmware::ALL.map(|it| series(it.name())));

fn gate_file() -> GateFile {
    let files = firmware_files().unwrap();
    gate::read(&files[0].bytes).unwrap().file
}

fn series(name: &str) -> Series {
    let files = firmware_files().unwrap();
    let gate = gate_file();
    let prefix = format!("firmware/{name}/");
    let of: Vec<_> = files
        .iter()
        .filter_map(|file| Some((file.path.strip_prefix(&prefix)?, &file.bytes)))
        .collect();
    let listed: Vec<&str> = of.iter().map(|(name, _)| *name).collect();
    let placed = names::place(&listed, gate.logs.as_ref().unwrap(), &gate.gate).unwrap();
    assert_eq!(placed.problems, []);
    let logs = placed
        .hits
        .into_iter()
        .map(|hit| Log {
            bytes: Ok(of
                .iter()
                .find(|(name, _)| *name == hit.file)
                .unwrap()
                .1
                .clone()),
            file: hit.file,
            point: hit.point,
            repeat: hit.repeat,
        })
        .collect();
    let profile = limits::profile(&gate.assessment.profile).unwrap();
    let readiness = readiness(&gate, built_in());
    Series {
        name: name.to_owned(),
        assessment: assess(gate, profile, logs, &Answers::default(), &[], readiness),
    }
}

fn terms(force_n: Option<f64>, time_s: Option<f64>) -> Terms {
    Terms {
        measures: COMPARED.to_vec(),
        confidence: Confidence::new(0.95).unwrap(),
        margin_force_n: force_n.map(|it| Margin::new(it).unwrap()),
        margin_time_s: time_s.map(|it| Margin::new(it).unwrap()),
        margin_impulse_ns: None,
        arrangement: Arrangement::Separate,
        counting: Counting {
            most_exact: 1000,
            draws: 999,
            seed: 1,
        },
    }
}

fn of(study: &Study, measure: Measure) -> &relent::compare::MeasureStudy {
    study
        .measures
        .iter()
        .find(|it| it.measure == measure)
        .unwrap()
}

#[test]
fn the_sooner_firmware_stops_sooner_with_a_peak_within_20_n() {
    let found = study(&SERIES[0], &SERIES[1], &terms(Some(20.0), Some(0.02)));
    let stop = &of(&found, Measure::StopTime)
        .pooled
        .as_ref()
        .unwrap()
        .effect;
    assert_eq!(stop.change(), Change::Lower);
    assert!(stop.interval.upper < -0.03);
    let peak = &of(&found, Measure::PeakForce)
        .pooled
        .as_ref()
        .unwrap()
        .effect;
    assert_eq!(peak.claim(), Some(Claim::LessThanMargin));
    assert_eq!(found.outcome(), Outcome::NotWorse);
    assert_eq!(found.unmatched, []);
    for measure in &found.measures {
        assert_eq!(measure.points.len(), Firmware::PLACES.len());
        assert!(
            measure
                .points
                .iter()
                .all(|it| it.before.kept.len() == HITS as usize)
        );
    }
}

#[test]
fn the_firmware_with_a_lapse_is_worse_at_that_one_point_and_the_mean_does_not_hide_it() {
    let found = study(&SERIES[0], &SERIES[2], &terms(Some(20.0), None));
    let peak = of(&found, Measure::PeakForce);
    let worse: Vec<(f64, f64)> = peak
        .points
        .iter()
        .filter(|it| it.effect.as_ref().unwrap().claim() == Some(Claim::WorseBeyond))
        .map(|it| (it.point.gap_mm, it.point.height_mm))
        .collect();
    let (gap, height) = Firmware::WORSE_AT;
    assert_eq!(worse, [(f64::from(gap), f64::from(height))]);
    assert!(peak.pooled.as_ref().unwrap().points_differ());
    assert!(!peak.pooled_speaks());
    assert!(matches!(found.outcome(), Outcome::WorseBeyondMargin { places } if places.len() == 1));
}

#[test]
fn two_hits_a_side_show_nothing_and_are_not_called_equal() {
    let few = |series: &Series| {
        let mut few = series.clone();
        few.assessment.hits.retain(|hit| hit.repeat <= 2);
        few
    };
    let margin = 0.5;
    let found = study(
        &few(&SERIES[0]),
        &few(&SERIES[1]),
        &terms(Some(margin), None),
    );
    let peak = of(&found, Measure::PeakForce);
    for point in &peak.points {
        let effect = point.effect.as_ref().unwrap();
        assert_eq!(effect.change(), Change::NotShown);
        assert_ne!(effect.claim(), Some(Claim::LessThanMargin));
    }
    assert!(matches!(found.outcome(), Outcome::Undecided { .. }));
    let alone = study(&few(&SERIES[0]), &few(&SERIES[1]), &terms(None, None));
    assert_eq!(alone.outcome(), Outcome::NoMargin);
    let none = of(&alone, Measure::PeakForce).points[0]
        .effect
        .as_ref()
        .unwrap();
    assert_eq!(none.claim(), None);
}

#[test]
fn a_missing_point_or_a_reading_left_out_keeps_not_worse_from_being_said() {
    let mut lacking = SERIES[1].clone();
    let gone = lacking.points()[0];
    lacking.assessment.hits.retain(|hit| hit.point != gone);
    let found = study(&SERIES[0], &lacking, &terms(Some(20.0), Some(0.02)));
    assert_eq!(found.unmatched.len(), 1);
    assert_eq!(found.unmatched[0].missing_in, "2.4.0");
    assert!(
        matches!(found.outcome(), Outcome::Undecided { reasons } if matches!(&reasons[0], OpenReason::Unmatched(one) if one.missing_in == "2.4.0"))
    );

    let mut doubtful = SERIES[1].clone();
    let gap = Limitation::ClockGap {
        gaps: 1,
        first_s: 1.0,
        longest_ms: 20.0,
        hides: None,
    };
    doubtful.assessment.hits[0]
        .measurement
        .as_mut()
        .unwrap()
        .limitations
        .push(gap.clone());
    let found = study(&SERIES[0], &doubtful, &terms(Some(20.0), Some(0.02)));
    for measure in [Measure::PeakForce, Measure::StopTime] {
        let point = &of(&found, measure).points[0];
        assert_eq!((point.after.kept.len(), point.after.left_out.len()), (5, 1));
        let limitations = vec![gap.clone()];
        let why = match measure {
            Measure::StopTime => Excluded::EitherWay { limitations },
            _ => Excluded::LowerBound { limitations },
        };
        assert_eq!(point.after.left_out[0].why, why);
    }
    assert!(
        matches!(found.outcome(), Outcome::Undecided { reasons } if reasons.iter().all(|it| matches!(it, OpenReason::LeftOut { .. })))
    );
}

#[test]
fn a_clipped_hit_before_does_not_help_to_prove_a_worsening() {
    let mut before = SERIES[0].clone();
    let (gap, height) = Firmware::WORSE_AT;
    let clipped = Limitation::AtCapacity {
        force_n: 500.0,
        capacity_n: 500.0,
        set_by: relent::limitation::SetBy::Gauge,
    };
    let at =
        before.assessment.hits.iter_mut().find(|hit| {
            hit.point.gap_mm == f64::from(gap) && hit.point.height_mm == f64::from(height)
        });
    at.unwrap()
        .measurement
        .as_mut()
        .unwrap()
        .limitations
        .push(clipped);
    let found = study(&before, &SERIES[2], &terms(Some(20.0), None));
    assert!(matches!(found.outcome(), Outcome::Undecided { .. }));
}

#[test]
fn what_differs_besides_the_version_is_named_asked_about_or_forbidden() {
    let other = |change: &dyn Fn(&mut Series)| {
        let mut other = SERIES[1].clone();
        change(&mut other);
        differences(&SERIES[0], &other, 10.0)
            .into_iter()
            .map(|it| (it.aspect, it.bearing))
            .collect::<Vec<_>>()
    };
    assert_eq!(other(&|_| {}), []);
    let gauge =
        other(&|it| it.assessment.gate.gauge.as_mut().unwrap().serial = Some("another".to_owned()));
    assert_eq!(gauge, [(Aspect::Gauge, Bearing::MustBeAccepted)]);
    let unknown = other(&|it| it.assessment.gate.gauge.as_mut().unwrap().serial = None);
    assert_eq!(unknown, [(Aspect::Gauge, Bearing::MustBeAccepted)]);
    let edge = other(&|it| it.assessment.gate.edge = None);
    assert_eq!(edge, [(Aspect::Edge, Bearing::MustBeAccepted); 2]);
    let warm = other(&|it| it.assessment.gate.visit.as_mut().unwrap().temperature_c = Some(35.0));
    assert_eq!(warm, [(Aspect::Temperature, Bearing::MustBeAccepted)]);
    let mild = other(&|it| it.assessment.gate.visit.as_mut().unwrap().temperature_c = Some(15.0));
    assert_eq!(mild, [(Aspect::Temperature, Bearing::Named)]);
    let setting = other(&|it| it.assessment.gate.drive.as_mut().unwrap().settings.clear());
    assert_eq!(setting, [(Aspect::Setting, Bearing::Named); 3]);
    let motion = other(&|it| it.assessment.gate.gate.motion = limits::Motion::Swing);
    assert_eq!(motion, [(Aspect::Gate, Bearing::Forbids)]);
    let level =
        other(&|it| it.assessment.profile.method.static_level = relent::quantity::Newton(140.0));
    assert_eq!(level, [(Aspect::Method, Bearing::Forbids)]);
}

#[test]
fn a_series_is_no_second_measurement_of_itself() {
    assert_eq!(copies(&SERIES[0], &SERIES[1]), []);
    assert_eq!(
        copies(&SERIES[0], &SERIES[0]).len(),
        SERIES[0].assessment.hits.len()
    );
}

#[test]
fn more_hits_are_needed_for_a_smaller_margin() {
    let goal = Goal {
        power: 0.8,
        question: Question::NotWorse,
        care: Confidence::new(0.8).unwrap(),
        most: 200,
    };
    let hits = |margin: f64| {
        let found = needs(&SERIES[..1], &terms(Some(margin), None), goal);
        let peak = found
            .iter()
            .find(|it| it.measure == Measure::PeakForce)
            .unwrap();
        assert_eq!(peak.points, Firmware::PLACES.len() as u32);
        peak.one_point.clone().unwrap().0
    };
    assert!(hits(1.0) > hits(2.0) && hits(2.0) > hits(20.0));
}

#[test]
fn pairs_need_both_hits_and_the_lone_one_is_named() {
    let mut after = SERIES[1].clone();
    after.assessment.hits.remove(0);
    let paired = Terms {
        arrangement: Arrangement::Paired,
        ..terms(Some(20.0), None)
    };
    let found = study(&SERIES[0], &after, &paired);
    let point = &of(&found, Measure::PeakForce).points[0];
    assert_eq!((point.before.kept.len(), point.after.kept.len()), (5, 5));
    assert_eq!(point.before.left_out.len(), 1);
    let gaps = point
        .before
        .values()
        .iter()
        .zip(point.after.values())
        .map(|(b, a)| a - b)
        .sum::<f64>();
    let effect = point.effect.as_ref().unwrap();
    assert!((effect.estimate.value() - gaps / 5.0).abs() < 1e-9);
    assert!((effect.estimate.degrees_of_freedom() - 4.0).abs() < 1e-12);
}
