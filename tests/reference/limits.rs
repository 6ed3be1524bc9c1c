//! Limit profiles against the published values, transcribed row by row. The marks are part of the row: a value recalled
//! from memory is no better for being repeated here, and the test holds that the profile does not claim more.

use relent::limits::{
    Direction, Hazard, Leaf, Limit, Motion, NoLimit, Obstacle, PlanError, Profile, SourceKind,
    TestPoint, VisitKind, minimum_gaps, names, parse, profile, unread_hazards, wanted_points,
};
use relent::measure::Measure;
use relent::words::{Language, Words};

use crate::check::{Check, Tolerance, hold};

use Hazard::{ClosingEdge, FlatFace, OtherEdge, ReducingGap};
use Motion::{Boom, Folding, Sliding, Swing, Vertical};
use SourceKind::{Memory, Read, SecondHand};

fn point(hazard: Hazard, gap_mm: f64) -> TestPoint {
    TestPoint {
        direction: Direction::Closing,
        hazard,
        gap_mm,
        height_mm: 900.0,
    }
}

fn the_limit(profile: &Profile, motion: Motion, at: TestPoint, measure: Measure) -> Limit {
    let found: Vec<&Limit> = profile
        .limits_at(motion, &at)
        .into_iter()
        .filter(|limit| limit.measure == measure)
        .collect();
    assert_eq!(
        found.len(),
        1,
        "{}: {motion:?} {at:?} {measure}",
        profile.name
    );
    found[0].clone()
}

type Row = (
    &'static str,
    Motion,
    Hazard,
    f64,
    Measure,
    f64,
    SourceKind,
    &'static str,
);

const EN12453: &str = "EN 12453, table of permissible forces, as described by trade guides (second-hand) or recalled (memory)";
const EN16005: &str = "EN 16005:2012, recalled (memory)";
const R107: &str = "UN Regulation No. 107, recalled (memory)";
const CFR: &str = "16 CFR 1211.7 (read)";
const LOW: &str =
    "BS 7036-4:1996 and ANSI/BHMA A156.19, as described by trade guides (second-hand)";

/// Profile, motion, hazard, gap (mm), measure, value, mark, source.
#[rustfmt::skip]
const ROWS: [Row; 52] = [
    ("en12453-2017", Sliding,  ClosingEdge, 50.0,   Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 500.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 500.1,  Measure::PeakForce, 1400.0, SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 2500.0, Measure::PeakForce, 1400.0, SecondHand, EN12453),
    ("en12453-2017", Sliding,  FlatFace,    300.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2017", Swing,    ClosingEdge, 50.0,   Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Swing,    ClosingEdge, 500.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Swing,    ClosingEdge, 501.0,  Measure::PeakForce, 1400.0, SecondHand, EN12453),
    ("en12453-2017", Swing,    FlatFace,    600.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2017", Folding,  ClosingEdge, 300.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Folding,  ClosingEdge, 600.0,  Measure::PeakForce, 1400.0, SecondHand, EN12453),
    ("en12453-2017", Folding,  FlatFace,    600.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2017", Vertical, ClosingEdge, 50.0,   Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Vertical, ClosingEdge, 500.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Vertical, ClosingEdge, 2500.0, Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Vertical, FlatFace,    600.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2017", Boom,     ClosingEdge, 300.0,  Measure::PeakForce, 400.0,  Memory,     EN12453),
    ("en12453-2017", Boom,     ClosingEdge, 900.0,  Measure::PeakForce, 400.0,  Memory,     EN12453),
    ("en12453-2017", Boom,     FlatFace,    900.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2017", Sliding,  OtherEdge,   300.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Sliding,  OtherEdge,   900.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Swing,    ReducingGap, 300.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Swing,    ReducingGap, 900.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::DynamicPeriod, 0.75, SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::TimeAboveStatic, 0.75, SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::StaticForce, 150.0, SecondHand, EN12453),
    ("en12453-2017", Sliding,  OtherEdge,   300.0,  Measure::StaticForce, 150.0, SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::TimeAboveResidual, 5.0, SecondHand, EN12453),
    ("en12453-2017", Sliding,  ClosingEdge, 300.0,  Measure::ResidualForce, 25.0, SecondHand, EN12453),
    ("en12453-2017", Vertical, ReducingGap, 300.0,  Measure::ResidualForce, 25.0, SecondHand, EN12453),
    ("en12453-2000", Sliding,  ClosingEdge, 500.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2000", Sliding,  ClosingEdge, 501.0,  Measure::PeakForce, 1400.0, SecondHand, EN12453),
    ("en12453-2000", Vertical, ClosingEdge, 501.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2000", Boom,     ClosingEdge, 501.0,  Measure::PeakForce, 400.0,  Memory,     EN12453),
    ("en12453-2000", Swing,    FlatFace,    501.0,  Measure::PeakForce, 1400.0, Memory,     EN12453),
    ("en12453-2000", Sliding,  OtherEdge,   300.0,  Measure::PeakForce, 400.0,  SecondHand, EN12453),
    ("en12453-2000", Sliding,  OtherEdge,   300.0,  Measure::StaticForce, 150.0, SecondHand, EN12453),
    ("en12453-2000", Sliding,  ClosingEdge, 300.0,  Measure::ResidualForce, 25.0, SecondHand, EN12453),
    ("en16005-2012", Sliding,  ClosingEdge, 8.0,    Measure::PeakForce, 400.0,  Memory,     EN16005),
    ("en16005-2012", Sliding,  ClosingEdge, 200.0,  Measure::PeakForce, 400.0,  Memory,     EN16005),
    ("en16005-2012", Sliding,  ClosingEdge, 201.0,  Measure::PeakForce, 700.0,  Memory,     EN16005),
    ("en16005-2012", Swing,    ClosingEdge, 500.0,  Measure::PeakForce, 700.0,  Memory,     EN16005),
    ("en16005-2012", Swing,    ClosingEdge, 501.0,  Measure::PeakForce, 1400.0, Memory,     EN16005),
    ("en16005-2012", Swing,    ClosingEdge, 300.0,  Measure::DynamicPeriod, 0.75, Memory,   EN16005),
    ("en16005-2012", Swing,    ClosingEdge, 300.0,  Measure::StaticForce, 150.0, Memory,    EN16005),
    ("en16005-2012", Swing,    ClosingEdge, 300.0,  Measure::ResidualForce, 80.0, Memory,   EN16005),
    ("unr107",       Swing,    ClosingEdge, 100.0,  Measure::PeakForce, 300.0,  Memory,     R107),
    ("unr107",       Swing,    ClosingEdge, 100.0,  Measure::EffectiveForce, 150.0, Memory, R107),
    ("16cfr1211",    Vertical, ClosingEdge, 25.4,   Measure::ReversalTime, 2.0, Read,       CFR),
    ("bs7036-4-1996", Swing,   ClosingEdge, 100.0,  Measure::StaticForce, 67.0, SecondHand, LOW),
    ("a156.19",      Swing,    ClosingEdge, 100.0,  Measure::Energy, 1.6948,    SecondHand, LOW),
];

/// Every row of the table as a check.
pub fn checks() -> Vec<Check> {
    let words = Words::of(Language::English);
    let row = |(name, motion, hazard, gap, measure, expected, _, source): Row| {
        let limit = the_limit(&profile(name).unwrap(), motion, point(hazard, gap), measure);
        Check {
            what: format!(
                "{name}: {}, {}, {}, gap {gap} mm",
                words.fact(&measure),
                words.fact(&motion),
                words.fact(&hazard)
            ),
            source,
            expected,
            computed: limit.value,
            unit: measure.unit(),
            tolerance: Tolerance::Absolute(0.0),
        }
    };
    let mut checks: Vec<Check> = ROWS.into_iter().map(row).collect();
    let low = the_limit(
        &profile("a156.19").unwrap(),
        Swing,
        point(ClosingEdge, 100.0),
        Measure::StaticForce,
    );
    checks.push(Check {
        what: "a156.19: static force, 15 lbf".to_owned(),
        source: "ANSI/BHMA A156.19 (second-hand); 1 lbf = 4.4482216152605 N, NIST SP 811, appendix B.8",
        expected: 15.0 * 4.448_221_615_260_5,
        computed: low.value,
        unit: "N",
        tolerance: Tolerance::Absolute(5e-5),
    });
    checks.extend(method_checks());
    checks
}

fn method_checks() -> Vec<Check> {
    let rows = [
        ("method-contact-level", 25.0, "N"),
        ("method-static-level", 150.0, "N"),
        ("method-residual-level", 25.0, "N"),
        ("method-dynamic-period", 0.75, "s"),
        ("method-record", 5.0, "s"),
        ("gauge-spring-rate", 500.0, "N/mm"),
        ("gauge-spring-rate-band", 50.0, "N/mm"),
        ("gauge-face-diameter", 80.0, "mm"),
        ("gauge-capacity-from", 25.0, "N"),
        ("gauge-capacity-to", 2000.0, "N"),
        ("gauge-accuracy-share", 0.05, ""),
        ("gauge-calibration-months", 12.0, "months"),
    ];
    let profile = profile("en12453-2017").unwrap();
    rows.into_iter()
        .map(|(name, expected, unit)| Check {
            what: format!("en12453-2017: {name}"),
            source: EN12453,
            expected,
            computed: profile
                .values
                .iter()
                .find(|value| value.name == name)
                .unwrap()
                .value,
            unit,
            tolerance: Tolerance::Absolute(0.0),
        })
        .collect()
}

#[test]
fn every_published_value_stands_in_its_profile() {
    hold(&checks(), ROWS.len() + 1 + 12);
}

#[test]
fn no_value_claims_to_be_better_known_than_it_is() {
    for (name, motion, hazard, gap, measure, _, mark, _) in ROWS {
        let limit = the_limit(&profile(name).unwrap(), motion, point(hazard, gap), measure);
        assert_eq!(limit.source, mark, "{}", limit.name);
    }
    let marks = |name: &str| {
        let profile = profile("en12453-2017").unwrap();
        profile
            .values
            .iter()
            .find(|value| value.name == name)
            .unwrap()
            .source
    };
    for name in [
        "gauge-spring-rate",
        "gauge-calibration-months",
        "method-static-level",
        "method-record",
    ] {
        assert_eq!(marks(name), SecondHand, "{name}");
    }
    for name in [
        "gauge-spring-rate-band",
        "gauge-face-diameter",
        "gauge-capacity-to",
        "smallest-gap",
    ] {
        assert_eq!(marks(name), Memory, "{name}");
    }
}

#[test]
fn nothing_on_the_shelf_is_confirmed() {
    for name in names() {
        let profile = profile(name).unwrap();
        assert_eq!(profile.name, name);
        assert!(!profile.confirmed(), "{name}");
        assert!(
            profile
                .limits
                .iter()
                .all(|limit| limit.source != SourceKind::Confirmed)
        );
        assert!(profile.limits.iter().any(|limit| limit.decides), "{name}");
        assert!(
            profile
                .limits
                .iter()
                .all(|limit| limit.name.starts_with(&format!("{name}/")))
        );
    }
}

#[test]
fn below_fifty_millimetres_no_limit_applies_and_the_reason_names_en_349() {
    let profile = profile("en12453-2017").unwrap();
    for motion in Motion::ALL {
        for hazard in Hazard::ALL {
            let at = point(hazard, 49.9);
            assert!(profile.limits_at(motion, &at).is_empty());
            let reason = profile.no_limit_reason(motion, &at);
            assert!(
                matches!(&reason, Some(NoLimit::BelowSmallestGap { note, .. }) if note.contains("EN 349")),
                "{reason:?}"
            );
            assert_eq!(profile.no_limit_reason(motion, &point(hazard, 50.0)), None);
        }
    }
    let gaps: Vec<(String, f64)> = minimum_gaps()
        .into_iter()
        .map(|gap| (gap.part, gap.gap_mm))
        .collect();
    let expected = [
        ("finger", 25.0),
        ("hand", 100.0),
        ("arm", 120.0),
        ("foot", 120.0),
        ("head", 300.0),
        ("body", 500.0),
    ];
    assert_eq!(gaps, expected.map(|(part, gap)| (part.to_owned(), gap)));
}

fn leaf(motion: Motion) -> Leaf {
    Leaf {
        motion,
        height_mm: 1800.0,
        width_mm: 4000.0,
        opening_mm: 4000.0,
        obstacle: None,
    }
}

fn gaps_and_places(leaf: &Leaf, visit: VisitKind, scheme: Option<&str>) -> Vec<(f64, f64, usize)> {
    wanted_points(&profile("en12453-2017").unwrap(), leaf, visit, scheme)
        .unwrap()
        .points
        .iter()
        .map(|wanted| (wanted.point.gap_mm, wanted.point.height_mm, wanted.repeats))
        .collect()
}

/// EN 12445:2000 as described second-hand: gaps 50, 300, 500; 50 mm above the ground, half height, 300 mm below the top;
/// three hits each.
#[test]
fn a_sliding_leaf_has_nine_points_of_three_hits() {
    for motion in [Sliding, Swing, Folding] {
        let found = gaps_and_places(&leaf(motion), VisitKind::First, None);
        let mut expected = Vec::new();
        for gap in [50.0, 300.0, 500.0] {
            for height in [50.0, 900.0, 1500.0] {
                expected.push((gap, height, 3));
            }
        }
        assert_eq!(found, expected, "{motion:?}");
        assert_eq!(found.iter().map(|(.., repeats)| repeats).sum::<usize>(), 27);
    }
}

#[test]
fn no_point_lies_above_two_and_a_half_metres() {
    let tall = Leaf {
        height_mm: 6000.0,
        ..leaf(Sliding)
    };
    let heights: Vec<f64> = gaps_and_places(&tall, VisitKind::First, None)
        .iter()
        .filter(|(gap, ..)| *gap == 50.0)
        .map(|(_, height, _)| *height)
        .collect();
    assert_eq!(heights, [50.0, 2500.0]);
}

#[test]
fn a_post_in_the_way_adds_the_opening_direction() {
    let post = Leaf {
        obstacle: Some(Obstacle {
            space_mm: 800.0,
            height_mm: None,
        }),
        ..leaf(Sliding)
    };
    let plan = wanted_points(
        &profile("en12453-2017").unwrap(),
        &post,
        VisitKind::First,
        None,
    )
    .unwrap();
    let opening = plan
        .points
        .iter()
        .filter(|wanted| wanted.point.direction == Direction::Opening);
    assert_eq!(opening.count(), 9);

    let far = Leaf {
        motion: Swing,
        ..post
    };
    assert_eq!(gaps_and_places(&far, VisitKind::First, None).len(), 9);
    let near = Leaf {
        obstacle: Some(Obstacle {
            space_mm: 400.0,
            height_mm: Some(1200.0),
        }),
        ..far
    };
    let found = gaps_and_places(&near, VisitKind::First, None);
    assert_eq!(found.last(), Some(&(400.0, 1200.0, 3)));
    let without_height = Leaf {
        obstacle: Some(Obstacle {
            space_mm: 400.0,
            height_mm: None,
        }),
        ..far
    };
    assert_eq!(
        gaps_and_places(&without_height, VisitKind::First, None).last(),
        Some(&(400.0, 1000.0, 3))
    );
}

/// EN 12445:2000 as described second-hand: 50; 300; 2500 or 300 below fully open if lower; mid width and 200 mm from each jamb.
#[test]
fn a_vertical_leaf_is_tested_across_its_width() {
    let door = Leaf {
        motion: Vertical,
        height_mm: 2200.0,
        width_mm: 2500.0,
        opening_mm: 2200.0,
        obstacle: None,
    };
    let found = gaps_and_places(&door, VisitKind::First, None);
    let mut expected = Vec::new();
    for gap in [50.0, 300.0, 1900.0] {
        for place in [1250.0, 200.0, 2300.0] {
            expected.push((gap, place, 3));
        }
    }
    assert_eq!(found, expected);
    let hall = Leaf {
        height_mm: 4500.0,
        opening_mm: 4500.0,
        ..door
    };
    assert_eq!(gaps_and_places(&hall, VisitKind::First, None)[8].0, 2500.0);
}

#[test]
fn the_german_periodic_check_is_three_single_hits_and_only_recurring() {
    let found = gaps_and_places(&leaf(Sliding), VisitKind::Recurring, Some("asr-a1.7"));
    assert_eq!(
        found,
        [(300.0, 50.0, 1), (300.0, 900.0, 1), (300.0, 1500.0, 1)]
    );
    let profile = profile("en12453-2017").unwrap();
    let first = wanted_points(&profile, &leaf(Sliding), VisitKind::First, Some("asr-a1.7"));
    let wrong_visit = PlanError::WrongVisit {
        profile: "en12453-2017".to_owned(),
        scheme: "asr-a1.7".to_owned(),
        visit_kind: VisitKind::First,
        visit_kinds: vec![VisitKind::Recurring],
    };
    assert_eq!(first.unwrap_err(), wrong_visit);
    let unknown = wanted_points(&profile, &leaf(Sliding), VisitKind::First, Some("short"));
    let unknown_scheme = PlanError::UnknownScheme {
        profile: "en12453-2017".to_owned(),
        scheme: "short".to_owned(),
        known: ["full", "asr-a1.7"].map(str::to_owned).to_vec(),
    };
    assert_eq!(unknown.unwrap_err(), unknown_scheme);
}

#[test]
fn a_boom_has_no_rule_and_that_is_said() {
    let plan = wanted_points(
        &profile("en12453-2017").unwrap(),
        &leaf(Boom),
        VisitKind::First,
        None,
    );
    assert!(matches!(plan, Err(PlanError::NoRule { motion: Boom, .. })));
}

#[test]
fn every_motion_has_hazards_without_a_reading() {
    for motion in Motion::ALL {
        assert!(unread_hazards(motion).len() >= 3, "{motion:?}");
    }
    let swing: Vec<String> = unread_hazards(Swing)
        .into_iter()
        .map(|it| it.name)
        .collect();
    assert!(swing.iter().any(|hazard| hazard == "hinge-side"));
    assert!(swing.iter().any(|hazard| hazard == "lower-edge"));
}

const CONFIRMED: &str = r#"
extends = "en12453-2017"
name = "ours"

[[confirm]]
limit = "static-force"
value = 140
unit = "N"
confirmed_on = "2026-03-02"
confirmed_from = "the copy in our office"

[[confirm]]
limit = "method-contact-level"
value = 25
unit = "N"
confirmed_on = "2026-03-02"
confirmed_from = "the copy in our office"
"#;

#[test]
fn an_overlay_confirms_and_corrects_by_name() {
    let own = parse("ours.toml", CONFIRMED).unwrap();
    let limit = own
        .limits
        .iter()
        .find(|limit| limit.name == "ours/static-force")
        .unwrap();
    assert_eq!((limit.value, limit.source), (140.0, SourceKind::Confirmed));
    let confirmation = limit.confirmation.as_ref().unwrap();
    assert_eq!(confirmation.corrected_from, Some(150.0));
    assert_eq!(confirmation.on.to_string(), "2026-03-02");
    let level = own
        .values
        .iter()
        .find(|value| value.name == "method-contact-level")
        .unwrap();
    assert_eq!(level.confirmation.as_ref().unwrap().corrected_from, None);
    assert_eq!(own.extends.as_deref(), Some("en12453-2017"));
    assert_eq!(own.method.profile, "ours");
    assert!(!own.confirmed());
}

#[test]
fn a_profile_is_confirmed_when_every_deciding_value_is() {
    let base = profile("en12453-2017").unwrap();
    let mut text = "extends = \"en12453-2017\"\n".to_owned();
    let mut confirm = |name: &str, value: f64, unit: &str| {
        text.push_str(&format!(
            "[[confirm]]\nlimit = \"{name}\"\nvalue = {value:?}\nunit = \"{unit}\"\nconfirmed_on = \"2026-03-02\"\nconfirmed_from = \"our copy\"\n"
        ));
    };
    for limit in base.limits.iter().filter(|limit| limit.decides) {
        confirm(limit.short_name(), limit.value, limit.unit());
    }
    for name in [
        "method-contact-level",
        "method-static-level",
        "method-residual-level",
        "method-dynamic-period",
        "method-record",
    ] {
        let value = base.values.iter().find(|value| value.name == name).unwrap();
        confirm(name, value.value, value.unit);
    }
    assert!(
        !parse("ours.toml", &text).unwrap().confirmed(),
        "the smallest gap is not confirmed yet"
    );
    text.push_str("[[confirm]]\nlimit = \"smallest-gap\"\nvalue = 50\nunit = \"mm\"\nconfirmed_on = \"2026-03-02\"\nconfirmed_from = \"our copy\"\n");
    assert!(parse("ours.toml", &text).unwrap().confirmed());
}

#[test]
fn a_faulty_overlay_is_refused_with_its_line_and_what_was_expected() {
    let refused = |from: &str, to: &str| {
        let text = CONFIRMED.replacen(from, to, 1);
        assert_ne!(text, CONFIRMED);
        parse("ours.toml", &text).unwrap_err().to_string()
    };
    assert!(refused("\"static-force\"", "\"static\"").starts_with(
        "ours.toml, line 5: confirm.limit is \"static\", expected one of peak-force-closing-edge-50-to-500, "
    ));
    assert_eq!(
        refused("value = 140\nunit = \"N\"", "value = 140\nunit = \"kg\""),
        "ours.toml, line 5: confirm.unit of static-force is \"kg\", expected N"
    );
    assert_eq!(
        refused("value = 140", "value = nan"),
        "ours.toml, line 5: confirm.value of static-force is \"NaN\", expected a number above 0"
    );
    assert_eq!(
        refused("2026-03-02", "soon"),
        "ours.toml, line 5: confirm.confirmed_on of static-force is \"soon\", expected a day as YYYY-MM-DD"
    );
    assert_eq!(
        refused("the copy in our office", " "),
        "ours.toml, line 5: confirm.confirmed_from of static-force is \" \", expected the copy it was read in"
    );
    assert!(
        refused("en12453-2017", "en12453").starts_with(
            "ours.toml, line 2: extends is \"en12453\", expected one of en12453-2017, "
        )
    );
    assert!(refused("confirmed_on", "confirmed_at").starts_with("ours.toml, line "));
    assert!(refused("method-contact-level", "static-force").contains("expected each name once"));
}
